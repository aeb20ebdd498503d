#include "plan/chart_pattern.h"

#include <algorithm>
#include <array>
#include <numeric>

namespace tallyround::plan::detail {

namespace {

constexpr int most_tries = 500;

Mask bit_of(int c) {
    return Mask{1} << unsigned(c);
}

/// The ring of centers, with idle places at its end for groups that find no room.
Cells ring_rows(const ChartModel& m, int room) {
    const int idle_places = std::max(0, m.groups - room);
    const int length = m.centers + idle_places;
    Cells rows;
    for (int start = 0; start < length; ++start) {
        std::vector<int> row;
        for (int r = 0; r < m.rounds; ++r) {
            const int at = (start + r) % length;
            row.push_back(at < m.centers ? at : idle);
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

Cells williams_rows(const ChartModel& m, bool both_halves) {
    Cells rows = williams(m.centers);
    if (!both_halves && int(rows.size()) > m.centers) rows.resize(std::size_t(m.centers));
    for (auto& row : rows) {
        const auto cycle = row;
        row.resize(std::size_t(m.rounds));
        for (std::size_t r = cycle.size(); r < row.size(); ++r)
            row[r] = cycle[r % cycle.size()];
    }
    return rows;
}

/// Kuhn's augmenting paths: group -> row, each row at most `room` times.
struct Dealer {
    const std::vector<std::vector<char>>& fits;
    int room;
    std::vector<std::vector<int>> taken;
    std::vector<char> seen;

    bool deal(int g) {
        const int rows = int(taken.size());
        for (int k = 0; k < rows; ++k) {
            const int row = (g + k) % rows;
            if (seen[row] || !fits[g][row]) continue;
            seen[row] = 1;
            if (int(taken[row].size()) < room) {
                taken[row].push_back(g);
                return true;
            }
            for (int& holder : taken[row]) {
                if (!deal(holder)) continue;
                holder = g;
                return true;
            }
        }
        return false;
    }
};

}  // namespace

ChartPattern::ChartPattern(const ChartProblem& problem, const ChartModel& model, std::uint64_t seed)
    : problem_(problem), m_(model), random_(seed) {
    if (problem.order == ChartOrder::any || !problem.was.empty()) return;
    int room = 0;
    int least = problem.groups;
    for (const int holds : model.holds) {
        room += std::min(holds, problem.groups);
        least = std::min(least, holds);
    }
    row_room_ = std::max(1, least);
    if (problem.order == ChartOrder::cyclic) {
        rows_ = ring_rows(model, room);
    } else {
        const bool both = model.groups > model.centers && least >= 2;
        rows_ = williams_rows(model, both);
        if (both) row_room_ = std::max(1, least / 2);
    }
}

bool ChartPattern::more() const {
    if (rows_.empty()) return false;
    return tries_ < (problem_.order == ChartOrder::cyclic ? 1 : most_tries);
}

/// The row may stand in all cells of the group; `bits` are its cells as masks. Most rows fail here.
bool ChartPattern::row_allowed(int g, const std::vector<int>& row, const Mask* bits) const {
    const Mask* allowed = m_.allowed.data() + m_.cell(g, 0);
    for (int r = m_.first[g]; r < m_.rounds; ++r)
        if ((allowed[r] & bits[r]) == 0) return false;
    return std::equal(row.begin(), row.begin() + m_.first[g], m_.done[g].begin());
}

/// An allowed row keeps the group's other rules.
bool ChartPattern::row_fits(int g, const std::vector<int>& row) const {
    std::array<int, most_chart_centers> now{};
    for (int r = m_.first[g]; r < m_.rounds; ++r) {
        if (row[r] >= 0 && ++now[row[r]] > m_.limit[m_.at_center(g, row[r])]) return false;
    }
    for (int c = 0; c < m_.centers; ++c)
        if ((m_.must[g] & bit_of(c)) != 0 && now[c] == 0) return false;
    return std::all_of(m_.before[g].begin(), m_.before[g].end(), [&](const Before& rule) {
        const auto then = std::find(row.begin() + m_.first[g], row.end(), rule.then);
        return then == row.end() || std::find(row.begin(), then, rule.first) != then;
    });
}

std::optional<Cells> ChartPattern::attempt() {
    std::vector<int> name(std::size_t(m_.centers));
    std::iota(name.begin(), name.end(), 0);
    if (tries_++ > 0) random_.shuffle(name);
    Cells rows = rows_;
    for (auto& row : rows)
        for (int& c : row)
            c = c >= 0 ? name[c] : c;
    bits_.clear();
    for (const auto& row : rows)
        for (const int c : row)
            bits_.push_back(c == idle ? m_.idle_bit() : bit_of(c));
    std::vector<std::vector<char>> fits{std::size_t(m_.groups), std::vector<char>(rows.size(), 0)};
    for (int g = 0; g < m_.groups; ++g) {
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const Mask* bits = bits_.data() + i * std::size_t(m_.rounds);
            fits[g][i] = row_allowed(g, rows[i], bits) && row_fits(g, rows[i]) ? 1 : 0;
        }
    }
    Dealer dealer{fits, row_room_, std::vector<std::vector<int>>(rows.size()), {}};
    for (int g = 0; g < m_.groups; ++g) {
        dealer.seen.assign(rows.size(), 0);
        if (!dealer.deal(g)) return std::nullopt;
    }
    Cells cells{std::size_t(m_.groups)};
    for (std::size_t row = 0; row < rows.size(); ++row)
        for (const int g : dealer.taken[row])
            cells[g] = rows[row];
    if (!faults(problem_, cells).none()) return std::nullopt;
    return cells;
}

Cells ChartPattern::guide() const {
    Cells cells;
    for (int g = 0; !rows_.empty() && g < m_.groups; ++g)
        cells.push_back(rows_[std::size_t(g) % rows_.size()]);
    return cells;
}

}  // namespace tallyround::plan::detail
