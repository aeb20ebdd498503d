#include "plan/group_model.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tallyround::plan::detail {

namespace {

/// Union-find over students.
class Merge {
  public:
    explicit Merge(int n) : parent_(std::size_t(n)) {
        std::iota(parent_.begin(), parent_.end(), 0);
    }
    int root(int a) {
        while (parent_[a] != a)
            a = parent_[a] = parent_[parent_[a]];
        return a;
    }
    void join(int a, int b) {
        a = root(a);
        b = root(b);
        parent_[std::max(a, b)] = std::min(a, b);
    }

  private:
    std::vector<int> parent_;
};

/// Whether the company counts: a partner who is left out might have been the one.
bool counts(const GroupProblem& p, const GroupSubset& s, std::size_t company) {
    const auto& c = p.with_one_of[company];
    return s.with_one_of[company] != 0 && s.students[c.student] != 0 &&
           std::all_of(c.partners.begin(), c.partners.end(),
                       [&](int partner) { return s.students[partner] != 0; });
}

/// A student with only one possible partner left is together with that one.
void join_companies(const GroupProblem& p, const GroupSubset& s, Merge& merge) {
    for (bool again = true; again;) {
        again = false;
        for (std::size_t i = 0; i < p.with_one_of.size(); ++i) {
            const auto& c = p.with_one_of[i];
            if (c.partners.empty() || !counts(p, s, i)) continue;
            const int only = merge.root(c.partners.front());
            const bool one = std::all_of(c.partners.begin(), c.partners.end(),
                                         [&](int x) { return merge.root(x) == only; });
            if (!one || merge.root(c.student) == only) continue;
            merge.join(c.student, only);
            again = true;
        }
    }
}

/// Every rule that keeps students together, as joins.
Merge merged(const GroupProblem& p, const GroupSubset& s) {
    Merge merge(p.students);
    const auto join_all = [&](const std::vector<int>& list) {
        int first = -1;
        for (const int student : list) {
            if (!s.students[student]) continue;
            if (first >= 0) merge.join(first, student);
            if (first < 0) first = student;
        }
    };
    for (std::size_t i = 0; i < p.together.size(); ++i)
        if (s.together[i]) join_all(p.together[i]);
    for (std::size_t i = 0; i < p.locked.size(); ++i)
        if (s.locked[i]) join_all(p.was[p.locked[i]]);
    for (std::size_t i = 0; i < p.helpers.size(); ++i)
        if (s.helpers[i] && p.helpers[i].groups == 1) join_all(p.helpers[i].students);
    std::vector<int> first_in(std::size_t(std::max(p.groups, p.students)) + 1, -1);
    for (int student = 0; student < int(p.seat.size()); ++student) {
        if (!s.students[student] || !s.seat[student] || p.seat[student] < 0) continue;
        int& first = first_in[p.seat[student]];
        if (first >= 0) merge.join(first, student);
        if (first < 0) first = student;
    }
    join_companies(p, s, merge);
    return merge;
}

/// The items of the students of a list that count, each once.
std::vector<int> items_of(const std::vector<int>& list, const std::vector<int>& item_of) {
    std::vector<int> items;
    for (const int student : list)
        if (item_of[student] >= 0) items.push_back(item_of[student]);
    std::sort(items.begin(), items.end());
    items.erase(std::unique(items.begin(), items.end()), items.end());
    return items;
}

}  // namespace

GroupSubset GroupSubset::all(const GroupProblem& p) {
    GroupSubset s;
    s.students.assign(std::size_t(p.students), 1);
    s.apart.assign(p.apart.size(), 1);
    s.together.assign(p.together.size(), 1);
    s.seat.assign(p.seat.size(), 1);
    s.locked.assign(p.locked.size(), 1);
    s.with_one_of.assign(p.with_one_of.size(), 1);
    s.helpers.assign(p.helpers.size(), 1);
    return s;
}

GroupModel::GroupModel(const GroupProblem& p, const GroupSubset& s) {
    Merge merge = merged(p, s);
    std::vector<int> item_of(std::size_t(p.students), -1);
    std::vector<int> item_at_root(std::size_t(p.students), -1);
    for (int student = 0; student < p.students; ++student) {
        if (!s.students[student]) continue;
        int& item = item_at_root[merge.root(student)];
        if (item < 0) {
            item = items();
            members.emplace_back();
        }
        members[item].push_back(student);
        item_of[student] = item;
        ++students;
    }
    groups = s.groups ? p.groups : std::max(p.groups, students);
    capacity = s.size_max ? p.size_max : std::max(1, students);
    seat.assign(members.size(), -1);
    clash.assign(members.size() * members.size(), 0);
    for (std::size_t i = 0; i < p.seat.size(); ++i)
        if (s.students[i] && s.seat[i] && p.seat[i] >= 0) set_seat(item_of[i], p.seat[i]);
    add_clashes(p, s, item_of);
    add_locks(p, s, item_of);
    for (int a = 0; a < items(); ++a) {
        contradictory = contradictory || clashes(a, a) || size(a) > capacity;
        for (int b = 0; b < a; ++b)
            if (seat[a] >= 0 && seat[b] >= 0 && seat[a] != seat[b]) set_clash(a, b);
    }
    contradictory = contradictory || std::int64_t(groups) * capacity < students;
    add_company(p, s, item_of);
}

void GroupModel::set_clash(int a, int b) {
    clash[std::size_t(a) * members.size() + std::size_t(b)] = 1;
    clash[std::size_t(b) * members.size() + std::size_t(a)] = 1;
}

void GroupModel::set_seat(int item, int group) {
    if (seat[item] >= 0 && seat[item] != group) contradictory = true;
    seat[item] = group;
}

void GroupModel::add_clashes(const GroupProblem& p, const GroupSubset& s,
                             const std::vector<int>& item_of) {
    for (std::size_t i = 0; i < p.apart.size(); ++i) {
        if (!s.apart[i]) continue;
        for (const int a : p.apart[i])
            for (const int b : p.apart[i])
                if (a < b && s.students[a] && s.students[b]) set_clash(item_of[a], item_of[b]);
    }
}

void GroupModel::add_locks(const GroupProblem& p, const GroupSubset& s,
                           const std::vector<int>& item_of) {
    for (std::size_t i = 0; i < p.locked.size(); ++i) {
        if (!s.locked[i]) continue;
        const auto& list = p.was[p.locked[i]];
        for (const int student : list) {
            if (!s.students[student]) continue;
            const int item = item_of[student];
            set_seat(item, p.locked[i]);
            // Nobody may join: more members than the list has is a contradiction, too.
            for (int other = 0; other < items(); ++other)
                if (other != item) set_clash(item, other);
            for (const int mate : members[item])
                if (std::find(list.begin(), list.end(), mate) == list.end()) contradictory = true;
        }
    }
}

void GroupModel::add_company(const GroupProblem& p, const GroupSubset& s,
                             const std::vector<int>& item_of) {
    kin.resize(members.size());
    helpers_of.resize(members.size());
    for (std::size_t i = 0; i < p.with_one_of.size(); ++i) {
        if (!counts(p, s, i)) continue;
        Company company{item_of[p.with_one_of[i].student],
                        items_of(p.with_one_of[i].partners, item_of)};
        auto& partners = company.partners;
        if (std::find(partners.begin(), partners.end(), company.item) != partners.end()) continue;
        const auto apart = [&](int x) { return clashes(x, company.item); };
        partners.erase(std::remove_if(partners.begin(), partners.end(), apart), partners.end());
        contradictory = contradictory || partners.empty();
        for (const int partner : partners) {
            kin[company.item].push_back(partner);
            kin[partner].push_back(company.item);
        }
        companies.push_back(std::move(company));
    }
    for (std::size_t i = 0; i < p.helpers.size(); ++i) {
        if (!s.helpers[i]) continue;
        Helped one{items_of(p.helpers[i].students, item_of), p.helpers[i].groups};
        int together = 0;
        for (const int item : one.items)
            together += size(item);
        contradictory = contradictory || together > std::int64_t(one.groups) * capacity;
        if (int(one.items.size()) <= one.groups) continue;
        for (const int item : one.items)
            helpers_of[item].push_back(int(helped.size()));
        helped.push_back(std::move(one));
    }
}

std::int64_t meeting_weight(const GroupProblem& problem, int index) {
    double weight = 1000.0;
    for (int k = index + 1; k < int(problem.past.size()); ++k)
        weight *= problem.recency;
    return std::max<std::int64_t>(1, std::int64_t(weight + 0.5));
}

std::vector<std::int64_t> meeting_table(const GroupProblem& p) {
    const auto n = std::size_t(p.students);
    std::vector<std::int64_t> table(n * n, 0);
    for (std::size_t i = 0; i < p.past.size(); ++i) {
        const std::int64_t weight = meeting_weight(p, int(i));
        for (const auto& group : p.past[i])
            for (const int a : group)
                for (const int b : group)
                    if (a != b) table[std::size_t(a) * n + std::size_t(b)] += weight;
    }
    return table;
}

std::vector<std::int64_t> scaled_levels(const GroupProblem& p) {
    std::vector<std::int64_t> out(std::size_t(p.students), -1);
    double low = 0.0;
    double high = 0.0;
    bool any = false;
    for (const double level : p.level) {
        if (std::isnan(level)) continue;
        low = any ? std::min(low, level) : level;
        high = any ? std::max(high, level) : level;
        any = true;
    }
    for (std::size_t i = 0; i < p.level.size(); ++i) {
        if (std::isnan(p.level[i])) continue;
        const double share = high > low ? (p.level[i] - low) / (high - low) : 0.0;
        out[i] = std::int64_t(share * 1e6 + 0.5);
    }
    return out;
}

GroupWishes::GroupWishes(const GroupProblem& p, const GroupModel& m) {
    const auto n = std::size_t(p.students);
    const auto items = m.members.size();
    const auto meetings = meeting_table(p);
    const auto share = [&](int a, int b) {
        if (p.needs.empty()) return 0;
        for (const int skill : p.needs[a])
            if (std::count(p.needs[b].begin(), p.needs[b].end(), skill) > 0) return 1;
        return 0;
    };
    repeats.assign(items * items, 0);
    shared.assign(items * items, 0);
    for (std::size_t i = 0; i < items; ++i) {
        for (std::size_t j = 0; j < items; ++j) {
            for (const int a : m.members[i]) {
                for (const int b : m.members[j]) {
                    if (a == b) continue;
                    repeats[i * items + j] += meetings[std::size_t(a) * n + std::size_t(b)];
                    shared[i * items + j] += share(a, b);
                }
            }
        }
        inside_repeats += repeats[i * items + i] / 2;
        inside_shared += shared[i * items + i] / 2;
    }
    for (const auto& list : p.needs)
        any_needs = any_needs || !list.empty();
    // Nobody of a locked group ever moves: when all others are placed anew, moves count for
    // nothing.
    std::vector<int> before(n, -1);
    bool any_free = false;
    for (std::size_t g = 0; g < p.was.size(); ++g) {
        if (std::find(p.locked.begin(), p.locked.end(), int(g)) != p.locked.end()) continue;
        for (const int student : p.was[g])
            before[student] = int(g);
        any_free = any_free || !p.was[g].empty();
    }
    if (any_free) {
        moved.assign(items * std::size_t(m.groups), 0);
        for (std::size_t i = 0; i < items; ++i)
            for (int g = 0; g < m.groups; ++g)
                for (const int student : m.members[i])
                    if (before[student] >= 0 && before[student] != g)
                        ++moved[i * std::size_t(m.groups) + std::size_t(g)];
    }
    const auto levels = scaled_levels(p);
    std::int64_t sum = 0;
    std::int64_t count = 0;
    level_sum.assign(items, 0);
    level_squares.assign(items, 0);
    level_count.assign(items, 0);
    std::int64_t squares = 0;
    for (std::size_t i = 0; i < items; ++i) {
        for (const int student : m.members[i]) {
            if (levels[student] < 0) continue;
            level_sum[i] += levels[student];
            level_squares[i] += levels[student] * levels[student];
            ++level_count[i];
        }
        sum += level_sum[i];
        squares += level_squares[i];
        count += level_count[i];
    }
    if (count > 0) total_squares = double(squares) - double(sum) * double(sum) / double(count);
    policy = total_squares > 0.0 ? p.policy : LevelPolicy::any;
}

double level_measure(LevelPolicy policy, const std::vector<std::int64_t>& sums,
                     const std::vector<std::int64_t>& squares, const std::vector<int>& counts,
                     double total_squares) {
    if (policy == LevelPolicy::any) return 0.0;
    double within = 0.0;
    double low = 0.0;
    double high = 0.0;
    bool any = false;
    for (std::size_t g = 0; g < sums.size(); ++g) {
        if (counts[g] == 0) continue;
        const double mean = double(sums[g]) / double(counts[g]);
        within += double(squares[g]) - double(sums[g]) * mean;
        low = any ? std::min(low, mean) : mean;
        high = any ? std::max(high, mean) : mean;
        any = true;
    }
    if (policy == LevelPolicy::similar) return within / total_squares;
    return (high - low) / 1e6 + 0.25 * (1.0 - within / total_squares);
}

}  // namespace tallyround::plan::detail
