#include "plan/chart_polish.h"

#include <algorithm>
#include <array>

#include "plan/accept.h"
#include "plan/chart_free.h"

namespace tallyround::plan::detail {

namespace {

Mask bit_of(int c) {
    return Mask{1} << unsigned(c);
}

/// Sum of squares when `total` is spread over `places` as evenly as can be.
std::int64_t even_squares(std::int64_t total, std::int64_t places) {
    if (places == 0) return 0;
    const std::int64_t each = total / places;
    const std::int64_t more = total % places;
    return (places - more) * each * each + more * (each + 1) * (each + 1);
}

}  // namespace

ChartPolish::ChartPolish(const ChartProblem& problem, const ChartModel& model, const Cells& cells,
                         std::uint64_t seed)
    : problem_(problem),
      m_(model),
      random_(seed),
      cells_(cells),
      now_(measure(problem, model, cells)),
      best_(cells),
      best_score_(now_),
      counts_(std::size_t(model.centers) * std::size_t(model.centers), 0),
      saved_(cells) {
    for (int g = 0; g < m_.groups; ++g)
        count_row(g, +1);
    std::int64_t moves = 0;
    for (const int count : counts_)
        moves += count;
    if (problem.order == ChartOrder::balanced)
        bound_ = even_squares(moves, std::int64_t(m_.centers) * (m_.centers - 1));
}

/// Adds one move to the counts (or takes it out) and to what they cost.
void ChartPolish::count_move(int from, int to, int sign) {
    int& n = counts_[m_.at_center(from, to)];
    if (problem_.order == ChartOrder::balanced) {
        const std::int64_t before = std::int64_t(n) * n;
        const std::int64_t after = std::int64_t(n + sign) * (n + sign);
        order_ += (after - before) * (from == to ? 2 : 1);
    } else if (to != (from + 1) % m_.centers) {
        order_ += sign;
    }
    n += sign;
}

void ChartPolish::count_row(int g, int sign) {
    const auto& row = cells_[g];
    for (std::size_t r = 1; r < row.size(); ++r)
        if (row[r - 1] >= 0 && row[r] >= 0) count_move(row[r - 1], row[r], sign);
}

void ChartPolish::touch(int g) {
    if (std::find(touched_.begin(), touched_.end(), g) != touched_.end()) return;
    touched_.push_back(g);
    saved_[g] = cells_[g];
    count_row(g, -1);
}

void ChartPolish::undo() {
    for (const int g : touched_) {
        count_row(g, -1);
        cells_[g] = saved_[g];
        count_row(g, +1);
    }
}

bool ChartPolish::switch_cycle() {
    if (m_.groups < 2) return false;
    const int a = int(random_.below(std::uint64_t(m_.groups)));
    int b = int(random_.below(std::uint64_t(m_.groups) - 1));
    b += b >= a ? 1 : 0;
    const int first = std::max(m_.first[a], m_.first[b]);
    if (first >= m_.rounds) return false;
    int r = first + int(random_.below(std::uint64_t(m_.rounds - first)));
    if (cells_[a][r] == cells_[b][r]) return false;
    touch(a);
    touch(b);
    for (int steps = 0; steps < m_.rounds; ++steps) {
        std::swap(cells_[a][r], cells_[b][r]);
        // What a received here it may now have twice: exchange the other one, too.
        const int got = cells_[a][r];
        int twin = -1;
        for (int other = first; other < m_.rounds && got != idle; ++other)
            if (other != r && cells_[a][other] == got) twin = other;
        if (twin < 0) break;
        r = twin;
    }
    return true;
}

bool ChartPolish::swap_rounds() {
    const int first = *std::max_element(m_.first.begin(), m_.first.end());
    if (m_.rounds - first < 2) return false;
    const int r1 = first + int(random_.below(std::uint64_t(m_.rounds - first)));
    const int r2 = first + int(random_.below(std::uint64_t(m_.rounds - first)));
    if (r1 == r2) return false;
    for (int g = 0; g < m_.groups; ++g) {
        touch(g);
        std::swap(cells_[g][r1], cells_[g][r2]);
    }
    return true;
}

bool ChartPolish::swap_centers() {
    if (m_.centers < 2) return false;
    const int a = int(random_.below(std::uint64_t(m_.centers)));
    const int b = int(random_.below(std::uint64_t(m_.centers)));
    if (a == b || m_.holds[a] != m_.holds[b] || m_.needs[a] != m_.needs[b]) return false;
    for (int g = 0; g < m_.groups; ++g) {
        touch(g);
        for (int r = m_.first[g]; r < m_.rounds; ++r) {
            int& c = cells_[g][r];
            c = c == a ? b : c == b ? a : c;
        }
    }
    return true;
}

bool ChartPolish::move_cell() {
    const int g = int(random_.below(std::uint64_t(m_.groups)));
    if (m_.first[g] >= m_.rounds) return false;
    const int r = m_.first[g] + int(random_.below(std::uint64_t(m_.rounds - m_.first[g])));
    const int c = int(random_.below(std::uint64_t(m_.centers)));
    if (cells_[g][r] == idle || cells_[g][r] == c) return false;
    int there = 0;
    left_ = m_.stock;
    for (int other = 0; other < m_.groups; ++other) {
        const int at = other == g ? c : cells_[other][r];
        there += at == c;
        for (int d = 0; at >= 0 && d < m_.devices; ++d)
            left_[d] -= m_.needs[at][d];
    }
    const bool fits = there <= m_.holds[c] &&
                      std::all_of(left_.begin(), left_.end(), [](int n) { return n >= 0; });
    if (!fits) return false;
    touch(g);
    cells_[g][r] = c;
    return true;
}

int ChartPolish::row_repeats(const std::vector<int>& row) {
    Mask seen = 0;
    int repeats = 0;
    for (const int c : row) {
        if (c < 0) continue;
        repeats += (seen & bit_of(c)) != 0;
        seen |= bit_of(c);
    }
    return repeats;
}

bool ChartPolish::row_valid(int g) const {
    const auto& row = cells_[g];
    Mask seen = 0;
    for (int c = 0; c < m_.centers; ++c)
        if (m_.visits[m_.at_center(g, c)] > 0) seen |= bit_of(c);
    std::array<int, most_chart_centers> now{};
    for (int r = m_.first[g]; r < m_.rounds; ++r) {
        const int c = row[r];
        const Mask bit = c == idle ? m_.idle_bit() : bit_of(c);
        if ((m_.allowed[m_.cell(g, r)] & bit) == 0) return false;
        if (c == idle) continue;
        if (++now[c] > m_.limit[m_.at_center(g, c)]) return false;
        for (const Before& rule : m_.before[g])
            if (rule.then == c && (seen & bit_of(rule.first)) == 0) return false;
        seen |= bit;
    }
    return (m_.must[g] & ~seen) == 0;
}

bool ChartPolish::rows_valid() const {
    return std::all_of(touched_.begin(), touched_.end(), [&](int g) { return row_valid(g); });
}

void ChartPolish::step(std::int64_t tries, double temperature) {
    for (std::int64_t i = 0; i < tries; ++i) {
        touched_.clear();
        const auto kind = random_.below(16);
        const bool made = kind < 11    ? switch_cycle()
                          : kind == 11 ? swap_rounds()
                          : kind == 12 ? swap_centers()
                                       : move_cell();
        if (touched_.empty()) continue;
        for (const int g : touched_)
            count_row(g, +1);
        int repeats = now_.repeats;
        for (const int g : touched_)
            repeats += row_repeats(cells_[g]) - row_repeats(saved_[g]);
        bool good = made && repeats <= now_.repeats && rows_valid() &&
                    accept(double(order_ - now_.order), temperature, random_);
        // Early second visits depend on everybody's cells: measured in full where they can be.
        if (good && repeats > 0) good = early_repeats(m_, cells_) <= now_.early;
        if (!good) {
            undo();
            continue;
        }
        now_.order = order_;
        now_.repeats = repeats;
        if (!now_.better(best_score_)) continue;
        best_ = cells_;
        best_score_ = measure(problem_, m_, cells_);
        now_ = best_score_;
    }
}

}  // namespace tallyround::plan::detail
