#include "plan/group.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "plan/group_model.h"

namespace tallyround::plan {

namespace {

using Groups = std::vector<std::vector<int>>;

std::vector<int> group_of_each(const GroupProblem& problem, const Groups& groups) {
    std::vector<int> of(std::size_t(problem.students), -1);
    for (std::size_t g = 0; g < groups.size(); ++g)
        for (const int student : groups[g])
            of[student] = int(g);
    return of;
}

bool in_any(const std::vector<int>& a, const std::vector<int>& b) {
    return std::any_of(a.begin(), a.end(),
                       [&](int x) { return std::find(b.begin(), b.end(), x) != b.end(); });
}

/// Sums of the known levels of each group and the spread of means, in the problem's own units.
void measure_levels(const GroupProblem& p, Grouping& out) {
    double low = 0.0;
    double high = 0.0;
    double within = 0.0;
    int known_groups = 0;
    for (const auto& group : out.groups) {
        double sum = 0.0;
        double least = 0.0;
        double most = 0.0;
        int known = 0;
        for (const int student : group) {
            const double level = p.level[student];
            if (std::isnan(level)) continue;
            sum += level;
            least = known == 0 ? level : std::min(least, level);
            most = known == 0 ? level : std::max(most, level);
            ++known;
        }
        if (known == 0) continue;
        const double mean = sum / known;
        low = known_groups == 0 ? mean : std::min(low, mean);
        high = known_groups == 0 ? mean : std::max(high, mean);
        within += most - least;
        ++known_groups;
    }
    out.level_spread = high - low;
    out.within_spread = known_groups > 0 ? within / known_groups : 0.0;
}

/// The policy's measure over whole groups of students.
double level_cost(const GroupProblem& p, const Groups& groups) {
    if (p.policy == LevelPolicy::any || p.level.empty()) return 0.0;
    const auto levels = detail::scaled_levels(p);
    std::vector<std::int64_t> sums(groups.size(), 0);
    std::vector<std::int64_t> squares(groups.size(), 0);
    std::vector<int> counts(groups.size(), 0);
    double sum = 0.0;
    double square = 0.0;
    double count = 0.0;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        for (const int student : groups[g]) {
            if (levels[student] < 0) continue;
            sums[g] += levels[student];
            squares[g] += levels[student] * levels[student];
            ++counts[g];
        }
        sum += double(sums[g]);
        square += double(squares[g]);
        count += counts[g];
    }
    const double total = count > 0 ? square - sum * sum / count : 0.0;
    return total > 0.0 ? detail::level_measure(p.policy, sums, squares, counts, total) : 0.0;
}

bool all_in_one(const std::vector<int>& list, const std::vector<int>& of) {
    return std::all_of(list.begin(), list.end(), [&](int s) { return of[s] == of[list.front()]; });
}

bool two_in_one(const std::vector<int>& list, const std::vector<int>& of) {
    for (std::size_t i = 0; i < list.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (of[list[i]] == of[list[j]]) return true;
    return false;
}

/// Over how many groups the seated ones of `students` are spread.
int groups_with(const std::vector<int>& students, const std::vector<int>& of) {
    std::vector<int> groups;
    for (const int student : students)
        if (of[student] >= 0) groups.push_back(of[student]);
    std::sort(groups.begin(), groups.end());
    return int(std::unique(groups.begin(), groups.end()) - groups.begin());
}

}  // namespace

bool GroupScore::better(const GroupScore& other) const {
    if (moved != other.moved) return moved < other.moved;
    if (repeat_cost != other.repeat_cost) return repeat_cost < other.repeat_cost;
    if (level_step != other.level_step) return level_step < other.level_step;
    if (shared_needs != other.shared_needs) return shared_needs > other.shared_needs;
    // Sums in another order may differ in the last bits; that is no improvement.
    return level_cost < other.level_cost - 1e-9;
}

Grouping measure(const GroupProblem& p, Groups groups) {
    Grouping out;
    for (auto& group : groups)
        std::sort(group.begin(), group.end());
    out.groups = std::move(groups);
    const auto of = group_of_each(p, out.groups);
    for (std::size_t i = 0; i < p.past.size(); ++i) {
        int meetings = 0;
        for (const auto& group : p.past[i])
            for (const int a : group)
                for (const int b : group)
                    if (a < b && of[a] >= 0 && of[a] == of[b]) ++meetings;
        out.repeat_pairs += meetings;
        out.score.repeat_cost += meetings * detail::meeting_weight(p, int(i));
    }
    if (!p.level.empty()) measure_levels(p, out);
    out.score.level_cost = level_cost(p, out.groups);
    out.score.level_step = std::int64_t(out.score.level_cost * 50.0);
    if (!p.needs.empty()) {
        for (const auto& group : out.groups)
            for (const int a : group)
                for (const int b : group)
                    if (a < b && in_any(p.needs[a], p.needs[b])) ++out.score.shared_needs;
    }
    for (std::size_t g = 0; g < p.was.size(); ++g)
        for (const int student : p.was[g])
            if (of[student] != int(g)) ++out.score.moved;
    return out;
}

int groups_in_reach(int rounds_there, int rounds_each) {
    return rounds_each < 1 ? 0 : std::max(0, rounds_there) / rounds_each;
}

std::vector<int> helper_rota(const std::vector<int>& groups, const std::vector<int>& rounds) {
    std::vector<int> out;
    for (std::size_t i = 0; i < rounds.size() && !groups.empty(); ++i)
        out.push_back(groups[i * groups.size() / std::max(rounds.size(), groups.size())]);
    return out;
}

std::vector<GroupRule> broken_rules(const GroupProblem& p, const Groups& groups) {
    using Kind = GroupRule::Kind;
    std::vector<GroupRule> broken;
    const auto of = group_of_each(p, groups);
    for (const auto& group : groups)
        if (int(group.size()) > p.size_max) {
            broken.push_back({Kind::size_max, 0});
            break;
        }
    for (std::size_t i = 0; i < p.together.size(); ++i)
        if (!all_in_one(p.together[i], of)) broken.push_back({Kind::together, int(i)});
    for (std::size_t i = 0; i < p.apart.size(); ++i)
        if (two_in_one(p.apart[i], of)) broken.push_back({Kind::apart, int(i)});
    for (std::size_t i = 0; i < p.seat.size(); ++i)
        if (p.seat[i] >= 0 && of[i] != p.seat[i]) broken.push_back({Kind::seat, int(i)});
    for (std::size_t i = 0; i < p.with_one_of.size(); ++i) {
        const auto& c = p.with_one_of[i];
        if (of[c.student] < 0) continue;
        if (std::none_of(c.partners.begin(), c.partners.end(),
                         [&](int x) { return of[x] == of[c.student]; }))
            broken.push_back({Kind::with_one_of, int(i)});
    }
    for (std::size_t i = 0; i < p.helpers.size(); ++i)
        if (groups_with(p.helpers[i].students, of) > p.helpers[i].groups)
            broken.push_back({Kind::helper, int(i)});
    for (const int g : p.locked) {
        auto list = p.was[g];
        std::sort(list.begin(), list.end());
        auto now = g < int(groups.size()) ? groups[g] : std::vector<int>();
        std::sort(now.begin(), now.end());
        if (list != now) broken.push_back({Kind::locked, g});
    }
    return broken;
}

GroupReason reason(const GroupProblem& p, const Grouping& grouping, int group) {
    GroupReason out;
    const auto& mine = grouping.groups[group];
    const auto both = [&](const std::vector<int>& g, int a, int b) {
        return std::find(g.begin(), g.end(), a) != g.end() &&
               std::find(g.begin(), g.end(), b) != g.end();
    };
    for (const int a : mine) {
        for (const int b : mine) {
            if (a >= b) continue;
            int latest = -1;
            for (std::size_t i = 0; i < p.past.size(); ++i)
                for (const auto& g : p.past[i])
                    if (both(g, a, b)) latest = int(i);
            if (latest >= 0) out.repeats.push_back({a, b, latest});
        }
    }
    for (std::size_t other = 0; other < grouping.groups.size(); ++other) {
        if (int(other) == group) continue;
        for (std::size_t i = 0; i < mine.size(); ++i) {
            for (std::size_t j = 0; j < grouping.groups[other].size(); ++j) {
                Groups tried = grouping.groups;
                std::swap(tried[group][i], tried[other][j]);
                if (!broken_rules(p, tried).empty()) continue;
                const int repeats = measure(p, std::move(tried)).repeat_pairs;
                if (out.best_other < 0 || repeats < out.best_other) out.best_other = repeats;
            }
        }
    }
    return out;
}

}  // namespace tallyround::plan
