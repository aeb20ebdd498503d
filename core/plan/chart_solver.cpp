#include "plan/chart_solver.h"

#include <algorithm>
#include <bit>
#include <limits>

namespace tallyround::plan::detail {

namespace {

constexpr int unlimited = 1'000'000;

int capped(int limit) {
    return limit < 0 ? unlimited : limit;
}

Mask bit_of(int c) {
    return Mask{1} << unsigned(c);
}

}  // namespace

ChartSolver::ChartSolver(const ChartModel& model, const ChartLimits& limits, ChartOrder order,
                         Cells guide, std::uint64_t seed)
    : m_(model), limits_(limits), order_(order), guide_(std::move(guide)), random_(seed) {
    // What the total leaves over is the most a single round can be above its own bound.
    idle_caps_ = model.idle_bounds();
    int spare = capped(limits.idle);
    for (const int bound : idle_caps_)
        spare -= bound;
    for (int& cap : idle_caps_)
        cap += spare;
    for (int g = 0; g < model.groups; ++g) {
        Mask reach = 0;
        for (int r = model.first[g]; r < model.rounds; ++r)
            reach |= model.allowed[model.cell(g, r)];
        int fresh = 0;
        for (int c = 0; c < model.centers; ++c)
            fresh += (reach & bit_of(c)) != 0 && model.visits[model.at_center(g, c)] == 0;
        late_from_.push_back(limits.late_repeats ? model.first[g] + fresh : 0);
    }
}

ChartSolver::State ChartSolver::start() const {
    State s;
    s.dom = m_.allowed;
    s.set.assign(s.dom.size(), 0);
    s.use = m_.base_use;
    s.visits = m_.visits;
    s.idle.assign(std::size_t(m_.rounds), 0);
    s.repeats.assign(std::size_t(m_.groups), 0);
    s.row_dirty.assign(std::size_t(m_.groups), 1);
    s.round_dirty.assign(std::size_t(m_.rounds), 1);
    for (int r = 0; r < m_.rounds; ++r)
        s.left.insert(s.left.end(), m_.stock.begin(), m_.stock.end());
    for (int g = 0; g < m_.groups; ++g) {
        for (int r = 0; r < m_.first[g]; ++r) {
            s.set[m_.cell(g, r)] = 1;
            s.dom[m_.cell(g, r)] = 0;
            if (m_.done[g][r] < 0) continue;
            for (int d = 0; d < m_.devices; ++d)
                s.left[std::size_t(r) * m_.devices + d] -= m_.needs[m_.done[g][r]][d];
        }
    }
    return s;
}

bool ChartSolver::remove(State& s, int g, int r, Mask values) const {
    Mask& dom = s.dom[m_.cell(g, r)];
    if ((dom & values) == 0) return true;
    dom &= ~values;
    s.row_dirty[g] = 1;
    s.round_dirty[r] = 1;
    return dom != 0;
}

bool ChartSolver::keep_only(State& s, int g, int r, Mask values) const {
    return remove(s, g, r, ~values);
}

int ChartSolver::idle_room(const State& s, int r) const {
    return std::min(idle_caps_[r] - s.idle[r], capped(limits_.idle) - s.idle_total);
}

bool ChartSolver::assign_idle(State& s, int r) const {
    if (idle_room(s, r) <= 0) return false;
    ++s.idle[r];
    ++s.idle_total;
    const bool none_left = s.idle_total >= capped(limits_.idle);
    for (int round = 0; round < m_.rounds; ++round) {
        if (!none_left && round != r) continue;
        if (idle_room(s, round) > 0) continue;
        for (int g = 0; g < m_.groups; ++g)
            if (!s.set[m_.cell(g, round)] && !remove(s, g, round, m_.idle_bit())) return false;
    }
    return true;
}

bool ChartSolver::assign_center(State& s, int g, int r, int c) const {
    Mask shut = 0;
    if (++s.use[m_.at_center(r, c)] > m_.holds[c]) return false;
    if (s.use[m_.at_center(r, c)] == m_.holds[c]) shut |= bit_of(c);
    for (int d = 0; d < m_.devices; ++d) {
        int& left = s.left[std::size_t(r) * m_.devices + d];
        if (m_.needs[c][d] == 0) continue;
        left -= m_.needs[c][d];
        if (left < 0) return false;
        for (int other = 0; other < m_.centers; ++other)
            if (m_.needs[other][d] > left) shut |= bit_of(other);
    }
    int& visits = s.visits[m_.at_center(g, c)];
    if (++visits > 1) {
        ++s.repeats[g];
        if (++s.repeats_total > capped(limits_.repeats)) return false;
    }
    if (shut == 0) return true;
    for (int other = 0; other < m_.groups; ++other)
        if (!s.set[m_.cell(other, r)] && !remove(s, other, r, shut)) return false;
    return true;
}

bool ChartSolver::assign(State& s, int g, int r) const {
    const auto cell = m_.cell(g, r);
    s.set[cell] = 1;
    s.row_dirty[g] = 1;
    s.round_dirty[r] = 1;
    const int value = std::countr_zero(s.dom[cell]);
    return value == m_.centers ? assign_idle(s, r) : assign_center(s, g, r, value);
}

/// Takes over every cell that has just one value left.
bool ChartSolver::assign_new(State& s) const {
    for (bool again = true; again;) {
        again = false;
        for (int g = 0; g < m_.groups; ++g) {
            for (int r = m_.first[g]; r < m_.rounds; ++r) {
                const auto cell = m_.cell(g, r);
                if (s.dom[cell] == 0) return false;
                if (s.set[cell] || !std::has_single_bit(s.dom[cell])) continue;
                if (!assign(s, g, r)) return false;
                again = true;
            }
        }
    }
    return true;
}

bool ChartSolver::propagate(State& s) const {
    for (;;) {
        if (!assign_new(s) || !changes(s) || !repeats_fit(s)) return false;
        bool any = false;
        for (int g = 0; g < m_.groups; ++g) {
            if (!s.row_dirty[g]) continue;
            s.row_dirty[g] = 0;
            any = true;
            if (!row_rules(s, g)) return false;
        }
        for (int r = 0; r < m_.rounds; ++r) {
            if (!s.round_dirty[r]) continue;
            s.round_dirty[r] = 0;
            any = true;
            if (!round_rules(s, r)) return false;
        }
        if (any) continue;
        for (int c = 0; c < m_.centers; ++c)
            if (!center_rules(s, c)) return false;
        return true;
    }
}

std::size_t ChartSolver::narrowest(const State& s) {
    std::size_t best = s.dom.size();
    int best_count = std::numeric_limits<int>::max();
    int ties = 0;
    for (std::size_t cell = 0; cell < s.dom.size(); ++cell) {
        if (s.set[cell]) continue;
        const int count = std::popcount(s.dom[cell]);
        if (count > best_count) continue;
        ties = count == best_count ? ties + 1 : 1;
        if (count < best_count || random_.below(std::uint64_t(ties)) == 0) best = cell;
        best_count = count;
    }
    return best;
}

std::vector<int> ChartSolver::ordered_values(const State& s, std::size_t cell) {
    const int g = int(cell / std::size_t(m_.rounds));
    const int r = int(cell % std::size_t(m_.rounds));
    const auto fixed = [&](int round) {
        const auto at = m_.cell(g, round);
        const bool known = round >= m_.first[g] && round < m_.rounds && s.set[at];
        const int value = known ? std::countr_zero(s.dom[at]) : m_.centers;
        return value == m_.centers ? -1 : value;
    };
    const int before = r > 0 ? fixed(r - 1) : -1;
    const int after = r + 1 < m_.rounds ? fixed(r + 1) : -1;
    std::vector<std::pair<std::uint64_t, int>> ranked;
    for (int v = 0; v <= m_.centers; ++v) {
        if ((s.dom[cell] & bit_of(v)) == 0) continue;
        std::uint64_t rank = random_.below(16);
        if (v == m_.centers) rank += 4096;
        if (v < m_.centers && s.visits[m_.at_center(g, v)] > 0) rank += 512;
        const bool follows = v < m_.centers && before >= 0 && v == (before + 1) % m_.centers;
        const bool leads = v < m_.centers && after >= 0 && after == (v + 1) % m_.centers;
        if (order_ == ChartOrder::cyclic && !follows && !leads) rank += 128;
        const bool guided = !guide_.empty() && guide_[g][r] == (v == m_.centers ? idle : v);
        if (!guide_.empty() && !guided) rank += 256;
        const bool as_before = m_.was[cell] == (v == m_.centers ? idle : v);
        if (m_.was[cell] != unknown && !as_before) rank += 1024;
        ranked.emplace_back(rank, v);
    }
    std::sort(ranked.begin(), ranked.end());
    std::vector<int> out;
    for (const auto& [rank, v] : ranked)
        out.push_back(v);
    return out;
}

void ChartSolver::push(State&& s) {
    const std::size_t cell = narrowest(s);
    if (cell == s.dom.size()) {
        solution_ = s.dom;
        solved_ = true;
        return;
    }
    Frame frame;
    frame.values = ordered_values(s, cell);
    frame.state = std::move(s);
    frame.cell = cell;
    stack_.push_back(std::move(frame));
}

ChartAnswer ChartSolver::run(std::int64_t nodes) {
    if (solved_) return ChartAnswer::found;
    if (!started_) {
        started_ = true;
        if (m_.impossible) return ChartAnswer::impossible;
        State s = start();
        if (!propagate(s)) return ChartAnswer::impossible;
        push(std::move(s));
    }
    for (std::int64_t n = 0; !solved_ && !stack_.empty(); ++n) {
        if (n >= nodes) return ChartAnswer::unknown;
        ++nodes_;
        Frame& top = stack_.back();
        if (top.next == top.values.size()) {
            stack_.pop_back();
            continue;
        }
        State s = top.state;
        const int value = top.values[top.next++];
        const int g = int(top.cell / std::size_t(m_.rounds));
        const int r = int(top.cell % std::size_t(m_.rounds));
        if (!keep_only(s, g, r, bit_of(value)) || !propagate(s)) continue;
        push(std::move(s));
    }
    return solved_ ? ChartAnswer::found : ChartAnswer::impossible;
}

Cells ChartSolver::cells() const {
    Cells out(std::size_t(m_.groups), std::vector<int>(std::size_t(m_.rounds), idle));
    for (int g = 0; g < m_.groups; ++g) {
        for (int r = 0; r < m_.rounds; ++r) {
            if (r < m_.first[g]) {
                out[g][r] = m_.done[g][r];
                continue;
            }
            const int value = std::countr_zero(solution_[m_.cell(g, r)]);
            out[g][r] = value == m_.centers ? idle : value;
        }
    }
    return out;
}

}  // namespace tallyround::plan::detail
