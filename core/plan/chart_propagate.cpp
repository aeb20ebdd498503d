#include <algorithm>
#include <bit>

#include "plan/chart_solver.h"

// What a node of the search concludes: the rules of one group's row and of one round's column.
namespace tallyround::plan::detail {

namespace {

Mask bit_of(int c) {
    return Mask{1} << unsigned(c);
}

}  // namespace

bool ChartSolver::row_rules(State& s, int g) const {
    return row_idle(s, g) && row_visits(s, g) && row_before(s, g) && row_late(s, g) &&
           row_repeats(s, g);
}

/// At most so many idle cells a group.
bool ChartSolver::row_idle(State& s, int g) const {
    if (limits_.idle_each < 0) return true;
    int count = 0;
    for (int r = m_.first[g]; r < m_.rounds; ++r)
        count += s.set[m_.cell(g, r)] && s.dom[m_.cell(g, r)] == m_.idle_bit();
    if (count < limits_.idle_each) return true;
    for (int r = m_.first[g]; r < m_.rounds; ++r)
        if (!s.set[m_.cell(g, r)] && !remove(s, g, r, m_.idle_bit())) return false;
    return count == limits_.idle_each;
}

/// The rounds in which a first visit to `c` is early enough for the visits owed after it.
Mask ChartSolver::rounds_in_time(const State& s, int g, int c) const {
    Mask rounds = ~Mask{0};
    for (const Before& rule : m_.before[g]) {
        if (rule.first != c || (m_.must[g] & bit_of(rule.then)) == 0) continue;
        int latest = m_.first[g];
        for (int r = m_.first[g]; r < m_.rounds; ++r)
            if ((s.dom[m_.cell(g, r)] & bit_of(rule.then)) != 0) latest = r;
        rounds &= bit_of(latest) - 1;
    }
    return rounds;
}

/// The groups that still owe a center a visit find rounds with room there.
bool ChartSolver::center_rules(const State& s, int c) const {
    std::vector<Mask> owing;
    for (int g = 0; g < m_.groups; ++g) {
        const bool owes = (m_.must[g] & bit_of(c)) != 0 && s.visits[m_.at_center(g, c)] == 0;
        if (!owes) continue;
        owing.push_back(0);
        for (int r = m_.first[g]; r < m_.rounds; ++r)
            if ((s.dom[m_.cell(g, r)] & bit_of(c)) != 0) owing.back() |= bit_of(r);
        owing.back() &= rounds_in_time(s, g, c);
    }
    if (owing.size() < 2) return true;
    std::vector<int> room;
    for (int r = 0; r < m_.rounds; ++r) {
        const int places = m_.holds[c] - s.use[m_.at_center(r, c)];
        room.push_back(std::max(0, std::min(places, m_.groups)));
    }
    return most_matched(owing, room) == int(owing.size());
}

/// At most so many visits; visits that are still owed find different rounds.
bool ChartSolver::row_visits(State& s, int g) const {
    std::vector<Mask> owed;
    for (int c = 0; c < m_.centers; ++c) {
        const int now = s.visits[m_.at_center(g, c)] - m_.visits[m_.at_center(g, c)];
        const int most = m_.limit[m_.at_center(g, c)];
        if (now > most) return false;
        const bool owes = now == 0 && (m_.must[g] & bit_of(c)) != 0;
        if (now < most && !owes) continue;
        Mask where = 0;
        for (int r = m_.first[g]; r < m_.rounds; ++r) {
            if (s.set[m_.cell(g, r)] || (s.dom[m_.cell(g, r)] & bit_of(c)) == 0) continue;
            where |= bit_of(r);
            if (now >= most && !remove(s, g, r, bit_of(c))) return false;
        }
        if (!owes) continue;
        if (now >= most || where == 0) return false;
        owed.push_back(where);
        if (std::has_single_bit(where) && !keep_only(s, g, std::countr_zero(where), bit_of(c)))
            return false;
    }
    return owed.size() < 2 ||
           most_matched(owed, std::vector<int>(std::size_t(m_.rounds), 1)) == int(owed.size());
}

/// A visit to `then` needs an earlier one to `first`.
bool ChartSolver::row_before(State& s, int g) const {
    for (const Before& rule : m_.before[g]) {
        int earliest = m_.rounds;
        for (int r = m_.rounds - 1; r >= m_.first[g]; --r)
            if ((s.dom[m_.cell(g, r)] & bit_of(rule.first)) != 0) earliest = r;
        for (int r = m_.first[g]; r <= std::min(earliest, m_.rounds - 1); ++r) {
            if (s.set[m_.cell(g, r)]) {
                if (s.dom[m_.cell(g, r)] == bit_of(rule.then)) return false;
            } else if (!remove(s, g, r, bit_of(rule.then))) {
                return false;
            }
        }
        for (int r = m_.first[g]; r < m_.rounds; ++r) {
            if (!s.set[m_.cell(g, r)] || s.dom[m_.cell(g, r)] != bit_of(rule.then)) continue;
            int only = -1;
            int count = 0;
            for (int earlier = m_.first[g]; earlier < r; ++earlier) {
                if ((s.dom[m_.cell(g, earlier)] & bit_of(rule.first)) == 0) continue;
                only = earlier;
                ++count;
            }
            if (count == 0) return false;
            if (count == 1 && !keep_only(s, g, only, bit_of(rule.first))) return false;
            break;
        }
    }
    return true;
}

/// No second visit in the rounds before `late_from_`.
bool ChartSolver::row_late(State& s, int g) const {
    const int end = std::min(late_from_[g], m_.rounds);
    Mask visited = 0;
    for (int c = 0; c < m_.centers; ++c)
        if (m_.visits[m_.at_center(g, c)] > 0) visited |= bit_of(c);
    for (int r = m_.first[g]; r < end; ++r) {
        if (!s.set[m_.cell(g, r)]) continue;
        const Mask here = s.dom[m_.cell(g, r)] & m_.all_centers();
        if ((visited & here) != 0) return false;
        visited |= here;
    }
    for (int r = m_.first[g]; r < end; ++r)
        if (!s.set[m_.cell(g, r)] && !remove(s, g, r, visited)) return false;
    return true;
}

/// Second visits that the open cells of a group cannot avoid.
int ChartSolver::future_repeats(const State& s, int g) const {
    Mask reach = 0;
    int open = 0;
    for (int r = m_.first[g]; r < m_.rounds; ++r) {
        if (s.set[m_.cell(g, r)]) continue;
        reach |= s.dom[m_.cell(g, r)] & m_.all_centers();
        if ((s.dom[m_.cell(g, r)] & m_.idle_bit()) == 0) ++open;
    }
    int fresh = 0;
    for (int c = 0; c < m_.centers; ++c)
        fresh += (reach & bit_of(c)) != 0 && s.visits[m_.at_center(g, c)] == 0;
    return std::max(0, open - fresh);
}

/// Where no second visit is left for a group: its visits are over for the centers it has seen,
/// and its open cells find different centers.
bool ChartSolver::row_repeats(State& s, int g) const {
    if (limits_.repeats < 0) return true;
    int others = 0;
    for (int h = 0; h < m_.groups; ++h)
        if (h != g) others += s.repeats[h] + future_repeats(s, h);
    if (s.repeats[g] + others < limits_.repeats) return true;
    Mask visited = 0;
    for (int c = 0; c < m_.centers; ++c)
        if (s.visits[m_.at_center(g, c)] > 0) visited |= bit_of(c);
    std::vector<Mask> open;
    for (int r = m_.first[g]; r < m_.rounds; ++r) {
        if (s.set[m_.cell(g, r)]) continue;
        if (!remove(s, g, r, visited)) return false;
        if ((s.dom[m_.cell(g, r)] & m_.idle_bit()) == 0) open.push_back(s.dom[m_.cell(g, r)]);
    }
    if (open.size() < 2) return true;
    return most_matched(open, std::vector<int>(std::size_t(m_.centers), 1)) == int(open.size());
}

bool ChartSolver::repeats_fit(const State& s) const {
    if (limits_.repeats < 0) return true;
    int least = s.repeats_total;
    for (int g = 0; g < m_.groups; ++g)
        least += future_repeats(s, g);
    return least <= limits_.repeats;
}

bool ChartSolver::round_rules(State& s, int r) const {
    std::vector<int> room;
    for (int c = 0; c < m_.centers; ++c)
        room.push_back(std::max(0, m_.holds[c] - s.use[m_.at_center(r, c)]));
    room.push_back(std::max(0, std::min(idle_room(s, r), m_.groups)));
    std::vector<Mask> open;
    for (int g = 0; g < m_.groups; ++g)
        if (r >= m_.first[g] && !s.set[m_.cell(g, r)]) open.push_back(s.dom[m_.cell(g, r)]);
    if (open.empty()) return true;
    if (most_matched(open, room) < int(open.size())) return false;
    return round_singles(s, r, room, int(open.size()));
}

/// When room is scarce, a center that just enough groups can still fill gets all of them.
bool ChartSolver::round_singles(State& s, int r, const std::vector<int>& room,
                                int cells_open) const {
    std::vector<int> wanted(std::size_t(m_.centers) + 1, 0);
    int useful = 0;
    for (int v = 0; v <= m_.centers; ++v) {
        for (int g = 0; g < m_.groups; ++g)
            wanted[v] += !s.set[m_.cell(g, r)] && (s.dom[m_.cell(g, r)] & bit_of(v)) != 0;
        useful += std::min(room[v], wanted[v]);
    }
    const int slack = useful - cells_open;
    if (slack < 0) return false;
    for (int c = 0; c < m_.centers; ++c) {
        const int needed = std::min(room[c], wanted[c]) - slack;
        if (needed <= 0 || wanted[c] != needed) continue;
        for (int g = 0; g < m_.groups; ++g) {
            if (s.set[m_.cell(g, r)] || (s.dom[m_.cell(g, r)] & bit_of(c)) == 0) continue;
            if (!keep_only(s, g, r, bit_of(c))) return false;
        }
    }
    return true;
}

/// Cells that can no longer be what they were count as changed.
bool ChartSolver::changes(State& s) const {
    if (limits_.changed < 0) return true;
    const auto kept = [&](std::size_t cell) {
        const int was = m_.was[cell];
        const Mask bit = was == idle ? m_.idle_bit() : was < 0 ? Mask{0} : bit_of(was);
        return s.dom[cell] & bit;
    };
    int changed = 0;
    for (std::size_t cell = 0; cell < s.dom.size(); ++cell)
        if (m_.was[cell] != unknown && kept(cell) == 0) ++changed;
    if (changed > limits_.changed) return false;
    if (changed < limits_.changed) return true;
    for (int g = 0; g < m_.groups; ++g) {
        for (int r = m_.first[g]; r < m_.rounds; ++r) {
            const auto cell = m_.cell(g, r);
            if (m_.was[cell] == unknown || s.set[cell] || kept(cell) == 0) continue;
            if (!keep_only(s, g, r, kept(cell))) return false;
        }
    }
    return assign_new(s);
}

}  // namespace tallyround::plan::detail
