// Random small classes against trying every assignment of students to groups.
#include "plan/group.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <set>

#include "base/random.h"

using namespace tallyround;
using plan::GroupProblem;
using plan::GroupRule;
using plan::GroupSearch;

namespace {

constexpr std::uint64_t seed = 20261201;

GroupProblem random_problem(base::Random& random) {
    GroupProblem p;
    p.students = int(random.between(4, 8));
    p.size_max = int(random.between(2, 4));
    p.groups = (p.students + p.size_max - 1) / p.size_max + int(random.below(2));
    if (p.groups > 4) p.groups = (p.students + p.size_max - 1) / p.size_max;
    const auto pair = [&] {
        const int a = int(random.below(std::uint64_t(p.students)));
        const int b = (a + int(random.between(1, p.students - 1))) % p.students;
        return std::vector<int>{a, b};
    };
    for (auto n = random.below(5); n > 0; --n)
        p.apart.push_back(pair());
    for (auto n = random.below(3); n > 0; --n)
        p.together.push_back(pair());
    if (random.below(2) == 0) {
        const auto a = pair();
        const int other = int(random.below(std::uint64_t(p.students)));
        p.with_one_of.push_back(
            {a[0], other == a[0] ? std::vector{a[1]} : std::vector{a[1], other}});
    }
    if (random.below(3) == 0) {
        std::vector<int> whom;
        for (int i = 0; i < p.students; ++i)
            if (random.below(2) == 0) whom.push_back(i);
        p.helpers.push_back({whom, int(random.between(1, 2))});
    }
    p.seat.assign(std::size_t(p.students), -1);
    for (auto n = random.below(3); n > 0; --n)
        p.seat[random.below(std::uint64_t(p.students))] =
            int(random.below(std::uint64_t(p.groups)));
    for (auto n = random.below(4); n > 0; --n) {
        std::vector<int> order;
        for (int i = 0; i < p.students; ++i)
            order.push_back(i);
        random.shuffle(order);
        std::vector<std::vector<int>> groups;
        for (int i = 0; i < p.students; ++i) {
            if (i % p.size_max == 0) groups.emplace_back();
            groups.back().push_back(order[i]);
        }
        p.past.push_back(groups);
    }
    return p;
}

struct Best {
    int spread = 0;
    int repeats = 0;
};

int spread_of(const std::vector<std::vector<int>>& groups) {
    std::size_t low = groups.front().size();
    std::size_t high = low;
    for (const auto& group : groups) {
        low = std::min(low, group.size());
        high = std::max(high, group.size());
    }
    return int(high - low);
}

int repeats_of(const GroupProblem& p, const std::vector<int>& of) {
    int repeats = 0;
    for (const auto& grouping : p.past)
        for (const auto& group : grouping)
            for (const int a : group)
                for (const int b : group)
                    repeats += a < b && of[a] == of[b];
    return repeats;
}

/// The rules, written down once more.
bool holds(const GroupProblem& p, const std::vector<int>& of) {
    for (const auto& pair : p.apart)
        if (of[pair[0]] == of[pair[1]]) return false;
    for (const auto& pair : p.together)
        if (of[pair[0]] != of[pair[1]]) return false;
    for (int i = 0; i < p.students; ++i)
        if (p.seat[i] >= 0 && of[i] != p.seat[i]) return false;
    for (const auto& c : p.with_one_of)
        if (std::none_of(c.partners.begin(), c.partners.end(),
                         [&](int x) { return of[x] == of[c.student]; }))
            return false;
    for (const auto& helper : p.helpers) {
        std::set<int> groups;
        for (const int student : helper.students)
            groups.insert(of[student]);
        if (int(groups.size()) > helper.groups) return false;
    }
    for (int g = 0; g < p.groups; ++g)
        if (std::count(of.begin(), of.end(), g) > p.size_max) return false;
    return true;
}

/// Every assignment: the smallest spread of sizes, and with it the fewest repeats.
std::optional<Best> every_assignment(const GroupProblem& p) {
    std::optional<Best> best;
    std::vector<int> of(std::size_t(p.students), 0);
    for (;;) {
        if (holds(p, of)) {
            std::vector<std::vector<int>> groups{std::size_t(p.groups)};
            for (int i = 0; i < p.students; ++i)
                groups[of[i]].push_back(i);
            const Best now{spread_of(groups), repeats_of(p, of)};
            const bool better = !best || now.spread < best->spread ||
                                (now.spread == best->spread && now.repeats < best->repeats);
            if (better) best = now;
        }
        int i = 0;
        while (i < p.students && ++of[i] == p.groups)
            of[i++] = 0;
        if (i == p.students) return best;
    }
}

GroupProblem without(const GroupProblem& p, const GroupRule& rule) {
    GroupProblem q = p;
    if (rule.kind == GroupRule::Kind::apart) q.apart.erase(q.apart.begin() + rule.index);
    if (rule.kind == GroupRule::Kind::together) q.together.erase(q.together.begin() + rule.index);
    if (rule.kind == GroupRule::Kind::seat) q.seat[rule.index] = -1;
    if (rule.kind == GroupRule::Kind::size_max) q.size_max = q.students;
    if (rule.kind == GroupRule::Kind::groups) q.groups = q.students;
    return q;
}

/// Only the named rules.
GroupProblem only(const GroupProblem& p, const plan::GroupConflict& conflict) {
    GroupProblem q = p;
    q.apart.clear();
    q.together.clear();
    q.with_one_of.clear();
    q.helpers.clear();
    std::fill(q.seat.begin(), q.seat.end(), -1);
    q.size_max = p.students;
    q.groups = p.students;
    for (const auto& rule : conflict.rules) {
        if (rule.kind == GroupRule::Kind::apart) q.apart.push_back(p.apart[rule.index]);
        if (rule.kind == GroupRule::Kind::together) q.together.push_back(p.together[rule.index]);
        if (rule.kind == GroupRule::Kind::seat) q.seat[rule.index] = p.seat[rule.index];
        if (rule.kind == GroupRule::Kind::with_one_of)
            q.with_one_of.push_back(p.with_one_of[rule.index]);
        if (rule.kind == GroupRule::Kind::helper) q.helpers.push_back(p.helpers[rule.index]);
        if (rule.kind == GroupRule::Kind::size_max) q.size_max = p.size_max;
        if (rule.kind == GroupRule::Kind::groups) q.groups = p.groups;
    }
    return q;
}

void check_conflict(const GroupProblem& p, const plan::GroupConflict& conflict) {
    CHECK(conflict.minimal);
    const GroupProblem named = only(p, conflict);
    CHECK(solve_groups(named).state() == GroupSearch::State::conflict);
    for (std::size_t i = 0; i < conflict.rules.size(); ++i) {
        plan::GroupConflict fewer = conflict;
        fewer.rules.erase(fewer.rules.begin() + std::ptrdiff_t(i));
        CHECK(solve_groups(only(p, fewer)).state() == GroupSearch::State::found);
    }
}

}  // namespace

TEST_CASE("small classes: as good as every assignment, and conflicts are real and minimal") {
    MESSAGE("seed ", seed);
    base::Random random(seed);
    int conflicts = 0;
    for (int trial = 0; trial < 60; ++trial) {
        CAPTURE(trial);
        const GroupProblem p = random_problem(random);
        const auto best = every_assignment(p);
        const auto search = solve_groups(p, 20'000);
        CHECK(best.has_value() == (search.state() == GroupSearch::State::found));
        if (!best) {
            ++conflicts;
            REQUIRE(search.conflict());
            check_conflict(p, *search.conflict());
            continue;
        }
        REQUIRE(search.best());
        const auto& found = *search.best();
        CHECK(broken_rules(p, found.groups).empty());
        CHECK(spread_of(found.groups) == best->spread);
        CHECK(found.repeat_pairs >= best->repeats);
        if (best->spread <= 1) {
            CHECK(found.repeat_pairs == best->repeats);
            CHECK(search.proved_best());
        }
    }
    CHECK(conflicts > 5);
    CHECK(conflicts < 55);
}

TEST_CASE("a rule left out never makes a class harder") {
    base::Random random(seed + 1);
    for (int trial = 0; trial < 60; ++trial) {
        CAPTURE(trial);
        const GroupProblem p = random_problem(random);
        if (p.apart.empty()) continue;
        const auto with = solve_groups(p, 30'000);
        if (with.state() != GroupSearch::State::found) continue;
        const auto fewer = solve_groups(without(p, {GroupRule::Kind::apart, 0}), 30'000);
        CHECK(fewer.state() == GroupSearch::State::found);
    }
}
