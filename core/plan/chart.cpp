#include "plan/chart.h"

#include <algorithm>

#include "plan/chart_free.h"
#include "plan/chart_model.h"

namespace tallyround::plan {

using detail::ChartModel;

namespace {

int done_rounds(const ChartProblem& p, int g) {
    return g < int(p.done.size()) ? int(p.done[g].size()) : 0;
}

bool contains(const std::vector<int>& list, int value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

bool concerns(const ChartRule& rule, int g) {
    return rule.groups.empty() || contains(rule.groups, g);
}

/// Whether one group's row breaks a rule in the cells still to come.
bool row_breaks(const ChartProblem& p, const ChartRule& rule, const std::vector<int>& row, int g) {
    using Kind = ChartRule::Kind;
    const int first = done_rounds(p, g);
    const auto visits = std::count(row.begin(), row.end(), rule.center);
    const auto done = std::count(row.begin(), row.begin() + first, rule.center);
    switch (rule.kind) {
        case Kind::must_visit:
            return visits == 0;
        case Kind::not_in_round:
            return rule.round >= first && row[rule.round] == rule.center;
        case Kind::visit_in_round:
            return rule.round >= first && row[rule.round] != rule.center;
        case Kind::at_most:
            return visits > std::max<std::ptrdiff_t>(rule.times, done);
        case Kind::only_in_rounds:
            for (int r = first; r < p.rounds; ++r)
                if (row[r] == rule.center && !contains(rule.rounds, r)) return true;
            return false;
        case Kind::before:
            break;
    }
    for (int r = first; r < p.rounds; ++r)
        if (row[r] == rule.then)
            return std::find(row.begin(), row.begin() + r, rule.center) == row.begin() + r;
    return false;
}

bool overfull(const ChartProblem& p, const Cells& cells, int r) {
    std::vector<int> use(p.centers.size(), 0);
    std::vector<int> open(p.centers.size(), 0);
    for (int g = 0; g < p.groups; ++g) {
        if (cells[g][r] < 0) continue;
        ++use[cells[g][r]];
        open[cells[g][r]] += r >= done_rounds(p, g);
    }
    std::vector<int> devices(p.stock.size(), 0);
    std::vector<int> devices_open(p.stock.size(), 0);
    for (std::size_t c = 0; c < p.centers.size(); ++c) {
        if (open[c] > 0 && use[c] > p.centers[c].holds) return true;
        for (std::size_t d = 0; d < p.centers[c].needs.size(); ++d) {
            devices[d] += use[c] * p.centers[c].needs[d];
            devices_open[d] += open[c] * p.centers[c].needs[d];
        }
    }
    for (std::size_t d = 0; d < devices.size(); ++d)
        if (devices_open[d] > 0 && devices[d] > p.stock[d]) return true;
    return false;
}

std::int64_t order_cost(const ChartProblem& p, const Cells& cells) {
    if (p.order == ChartOrder::any) return 0;
    const int n = int(p.centers.size());
    std::int64_t cost = 0;
    if (p.order == ChartOrder::balanced) {
        const auto counts = neighbour_counts(p, cells);
        for (int a = 0; a < n; ++a)
            for (int b = 0; b < n; ++b)
                cost += std::int64_t(counts[a][b]) * counts[a][b] * (a == b ? 2 : 1);
        return cost;
    }
    for (const auto& row : cells)
        for (int r = 1; r < p.rounds; ++r)
            if (row[r - 1] >= 0 && row[r] >= 0 && row[r] != (row[r - 1] + 1) % n) ++cost;
    return cost;
}

}  // namespace

bool ChartScore::better(const ChartScore& o) const {
    if (idle != o.idle) return idle < o.idle;
    if (early != o.early) return early < o.early;
    if (changed != o.changed) return changed < o.changed;
    if (idle_peak != o.idle_peak) return idle_peak < o.idle_peak;
    if (repeats != o.repeats) return repeats < o.repeats;
    return order < o.order;
}

std::vector<std::vector<int>> neighbour_counts(const ChartProblem& p, const Cells& cells) {
    const auto n = p.centers.size();
    std::vector<std::vector<int>> counts(n, std::vector<int>(n, 0));
    for (const auto& row : cells)
        for (std::size_t r = 1; r < row.size(); ++r)
            if (row[r - 1] >= 0 && row[r] >= 0) ++counts[row[r - 1]][row[r]];
    return counts;
}

namespace detail {

int early_repeats(const ChartModel& m, const Cells& cells) {
    int early = 0;
    for (int g = 0; g < m.groups; ++g) {
        Mask seen = 0;
        for (int r = 0; r < m.rounds; ++r) {
            const int c = cells[g][r];
            if (c < 0) continue;
            const Mask bit = Mask{1} << unsigned(c);
            const bool again = (seen & bit) != 0 && r >= m.first[g];
            early += again && free_center(m, cells, g, r, true) >= 0;
            seen |= bit;
        }
    }
    return early;
}

ChartScore measure(const ChartProblem& p, const ChartModel& m, const Cells& cells) {
    ChartScore score;
    score.early = early_repeats(m, cells);
    for (int g = 0; g < m.groups; ++g) {
        Mask seen = 0;
        int idle_here = 0;
        for (int r = 0; r < m.rounds; ++r) {
            const int c = cells[g][r];
            const bool open = r >= m.first[g];
            idle_here += open && c == idle;
            const int was = m.was[m.cell(g, r)];
            score.changed += open && was != unknown && was != c;
            if (c < 0) continue;
            const Mask bit = Mask{1} << unsigned(c);
            score.repeats += (seen & bit) != 0;
            seen |= bit;
        }
        score.idle += idle_here;
        score.idle_peak = std::max(score.idle_peak, idle_here);
    }
    score.order = order_cost(p, cells);
    return score;
}

}  // namespace detail

ChartScore measure(const ChartProblem& p, const Cells& cells) {
    return detail::measure(p, ChartModel(p), cells);
}

ChartFaults faults(const ChartProblem& p, const Cells& cells) {
    ChartFaults out;
    for (std::size_t i = 0; i < p.rules.size(); ++i) {
        bool broken = false;
        for (int g = 0; g < p.groups && !broken; ++g)
            broken = concerns(p.rules[i], g) && row_breaks(p, p.rules[i], cells[g], g);
        if (broken) out.rules.push_back(int(i));
    }
    for (int r = 0; r < p.rounds; ++r)
        if (overfull(p, cells, r)) out.overfull_rounds.push_back(r);
    for (int g = 0; g < p.groups; ++g)
        for (int r = 0; r < done_rounds(p, g); ++r)
            out.done_changed = out.done_changed || p.done[g][r] != cells[g][r];
    return out;
}

Cells williams(int n) {
    // First row 0, 1, n-1, 2, n-2, ...; each further row adds 1 modulo n.
    std::vector<int> base;
    for (int i = 0; i < n; ++i)
        base.push_back(i % 2 == 1 ? (i + 1) / 2 : (n - i / 2) % n);
    Cells rows;
    for (int shift = 0; shift < n; ++shift) {
        std::vector<int> row;
        for (const int value : base)
            row.push_back((value + shift) % n);
        rows.push_back(std::move(row));
    }
    for (int shift = 0; n % 2 == 1 && n > 1 && shift < n; ++shift)
        rows.emplace_back(rows[shift].rbegin(), rows[shift].rend());
    return rows;
}

}  // namespace tallyround::plan
