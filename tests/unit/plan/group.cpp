#include "plan/group.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

using namespace tallyround;
using plan::GroupProblem;
using plan::GroupRule;
using plan::GroupSearch;
using plan::LevelPolicy;

namespace {

GroupProblem class_of(int students, int size_max = 4) {
    GroupProblem p;
    p.students = students;
    p.size_max = size_max;
    return p;
}

std::vector<int> sizes(const plan::Grouping& grouping) {
    std::vector<int> out;
    for (const auto& group : grouping.groups)
        out.push_back(int(group.size()));
    std::sort(out.begin(), out.end());
    return out;
}

const plan::Grouping& found(const GroupSearch& search) {
    REQUIRE(search.state() == GroupSearch::State::found);
    return *search.best();
}

}  // namespace

TEST_CASE("24 students make six groups of four") {
    const auto search = solve_groups(class_of(24));
    CHECK(sizes(found(search)) == std::vector<int>(6, 4));
    CHECK(search.proved_best());
}

TEST_CASE("sizes differ by at most one where no rule interferes") {
    CHECK(sizes(found(solve_groups(class_of(26)))) == std::vector<int>{3, 3, 4, 4, 4, 4, 4});
    GroupProblem p = class_of(10);
    p.groups = 4;
    CHECK(sizes(found(solve_groups(p))) == std::vector<int>{2, 2, 3, 3});
    // Four that stay together force one larger group and no more than that.
    p.together = {{0, 1, 2, 3}};
    CHECK(sizes(found(solve_groups(p))) == std::vector<int>{2, 2, 2, 4});
}

TEST_CASE("apart, together and seats hold") {
    GroupProblem p = class_of(24);
    p.apart = {{0, 1, 2, 3, 4, 5}, {6, 7}};
    p.together = {{0, 6}, {8, 9, 10}};
    p.seat.assign(24, -1);
    p.seat[0] = 5;
    p.seat[23] = 2;
    const auto search = solve_groups(p);
    const auto& g = found(search);
    CHECK(broken_rules(p, g.groups).empty());
    CHECK(std::count(g.groups[5].begin(), g.groups[5].end(), 0) == 1);
    CHECK(std::count(g.groups[5].begin(), g.groups[5].end(), 6) == 1);
    CHECK(std::count(g.groups[2].begin(), g.groups[2].end(), 23) == 1);
}

TEST_CASE("a pair both together and apart is named as the whole conflict") {
    GroupProblem p = class_of(12);
    p.together = {{3, 4}, {5, 6}};
    p.apart = {{0, 1}, {4, 3}};
    const auto search = solve_groups(p);
    REQUIRE(search.state() == GroupSearch::State::conflict);
    const auto& conflict = *search.conflict();
    CHECK(conflict.students == std::vector<int>{3, 4});
    CHECK(conflict.rules ==
          std::vector<GroupRule>{{GroupRule::Kind::together, 0}, {GroupRule::Kind::apart, 1}});
    CHECK(conflict.minimal);
}

TEST_CASE("more students apart than groups") {
    GroupProblem p = class_of(12);
    p.apart = {{0, 1, 2, 3}};
    const auto search = solve_groups(p);
    REQUIRE(search.state() == GroupSearch::State::conflict);
    CHECK(search.conflict()->students == std::vector<int>{0, 1, 2, 3});
    CHECK(search.conflict()->rules ==
          std::vector<GroupRule>{{GroupRule::Kind::apart, 0}, {GroupRule::Kind::groups, 0}});
}

TEST_CASE("a chain of together lists that is too long, and seats over size") {
    GroupProblem p = class_of(12);
    p.together = {{0, 1, 2}, {2, 3, 4}, {7, 8}};
    auto search = solve_groups(p);
    REQUIRE(search.state() == GroupSearch::State::conflict);
    CHECK(search.conflict()->students == std::vector<int>{0, 1, 2, 3, 4});
    CHECK(search.conflict()->rules.size() == 3);
    GroupProblem seats = class_of(12);
    seats.seat.assign(12, -1);
    for (int i = 0; i < 5; ++i)
        seats.seat[i] = 1;
    search = solve_groups(seats);
    REQUIRE(search.state() == GroupSearch::State::conflict);
    CHECK(search.conflict()->students == std::vector<int>{0, 1, 2, 3, 4});
}

TEST_CASE("too few places for everybody") {
    GroupProblem p = class_of(29);
    p.groups = 7;
    const auto search = solve_groups(p);
    REQUIRE(search.state() == GroupSearch::State::conflict);
    CHECK(search.conflict()->students.size() == 29);
    CHECK(search.conflict()->rules ==
          std::vector<GroupRule>{{GroupRule::Kind::size_max, 0}, {GroupRule::Kind::groups, 0}});
}

TEST_CASE("nine students meet only once in four groupings of threes") {
    GroupProblem p = class_of(9, 3);
    for (int round = 0; round < 4; ++round) {
        const auto search = solve_groups(p);
        const auto& g = found(search);
        CHECK(g.repeat_pairs == 0);
        CHECK(search.proved_best());
        p.past.push_back(g.groups);
    }
    // All 36 pairs have met; a fifth grouping repeats nine, and that is proved.
    const auto fifth = solve_groups(p);
    CHECK(found(fifth).repeat_pairs == 9);
    CHECK(fifth.proved_best());
}

TEST_CASE("a later meeting counts more with recency") {
    GroupProblem p = class_of(4, 2);
    p.past = {{{0, 1}, {2, 3}}, {{0, 2}, {1, 3}}, {{0, 3}, {1, 2}}};
    p.recency = 0.5;
    const auto search = solve_groups(p);
    CHECK(found(search).groups.size() == 2);
    CHECK(found(search).score.repeat_cost == 2 * 250);
    CHECK(found(search).repeat_pairs == 2);
}

TEST_CASE("mixed makes means equal, similar keeps levels close") {
    GroupProblem p = class_of(9, 3);
    for (int i = 0; i < 9; ++i)
        p.level.push_back(0.05 * i);
    p.policy = LevelPolicy::mixed;
    const auto mixed = solve_groups(p);
    CHECK(found(mixed).level_spread == doctest::Approx(0.0));
    CHECK(mixed.proved_best());
    p.policy = LevelPolicy::similar;
    const auto similar = solve_groups(p);
    CHECK(found(similar).within_spread == doctest::Approx(0.1));
    CHECK(similar.proved_best());
    // Twelve levels 0 .. 11: sums of 16 and 17 cannot be evened out further.
    GroupProblem twelve = class_of(12, 3);
    for (int i = 0; i < 12; ++i)
        twelve.level.push_back(i);
    twelve.policy = LevelPolicy::mixed;
    CHECK(found(solve_groups(twelve)).level_spread == doctest::Approx(1.0 / 3.0));
}

TEST_CASE("students whose level is not known do not count in the means") {
    GroupProblem p = class_of(6, 3);
    p.level = {0.0,
               1.0,
               0.0,
               1.0,
               std::numeric_limits<double>::quiet_NaN(),
               std::numeric_limits<double>::quiet_NaN()};
    p.policy = LevelPolicy::mixed;
    CHECK(found(solve_groups(p)).level_spread == doctest::Approx(0.0));
}

TEST_CASE("shared needs come together") {
    GroupProblem p = class_of(8, 4);
    p.needs.resize(8);
    for (const int student : {0, 2, 5, 7})
        p.needs[student] = {1};
    const auto search = solve_groups(p);
    CHECK(found(search).score.shared_needs == 6);
    CHECK(search.proved_best());
}

TEST_CASE("an absence changes nobody else's group, a new student moves nobody") {
    GroupProblem p = class_of(12);
    p.groups = 3;
    // Student 11 is new; group 1 has lost one to an absence.
    p.was = {{0, 1, 2, 3}, {4, 5, 6}, {7, 8, 9, 10}};
    const auto search = solve_groups(p);
    CHECK(found(search).score.moved == 0);
    CHECK(found(search).groups[1] == std::vector<int>{4, 5, 6, 11});
}

TEST_CASE("the least number of students moves when a new rule asks for it") {
    GroupProblem p = class_of(12);
    p.was = {{0, 1, 2, 3}, {4, 5, 6, 7}, {8, 9, 10, 11}};
    p.apart = {{0, 1}};
    const auto search = solve_groups(p);
    CHECK(found(search).score.moved == 2);
    CHECK(search.proved_fewest_moved());
    p.locked = {1};
    const auto locked = solve_groups(p);
    CHECK(found(locked).groups[1] == std::vector<int>{4, 5, 6, 7});
    CHECK(found(locked).score.moved == 2);
    p.apart.push_back({4, 5});
    const auto conflict = solve_groups(p);
    REQUIRE(conflict.state() == GroupSearch::State::conflict);
    CHECK(conflict.conflict()->rules.size() == 2);
}

TEST_CASE("a group can say why") {
    GroupProblem p = class_of(6, 3);
    p.past = {{{0, 1, 2}, {3, 4, 5}}};
    const auto search = solve_groups(p);
    const auto& g = found(search);
    CHECK(g.repeat_pairs == 2);
    int repeats = 0;
    for (int group = 0; group < 2; ++group) {
        const auto why = reason(p, g, group);
        repeats += int(why.repeats.size());
        CHECK(why.best_other >= g.repeat_pairs);
    }
    CHECK(repeats == 2);
}

TEST_CASE("slices change nothing") {
    GroupProblem p = class_of(24);
    for (int i = 0; i < 24; ++i)
        p.level.push_back((i * 7 % 24) / 24.0);
    p.policy = LevelPolicy::mixed;
    p.apart = {{0, 1}, {2, 3}};
    const auto whole = solve_groups(p, 50'000);
    GroupSearch sliced(p, 50'000);
    int steps = 0;
    while (!sliced.step(777))
        ++steps;
    CHECK(steps > 10);
    CHECK(sliced.best()->groups == whole.best()->groups);
    CHECK(sliced.progress() == 1.0);
}

TEST_CASE("one student, and more groups than students") {
    CHECK(found(solve_groups(class_of(1))).groups == std::vector<std::vector<int>>{{0}});
    GroupProblem p = class_of(2);
    p.groups = 3;
    CHECK(sizes(found(solve_groups(p))) == std::vector<int>{0, 1, 1});
}

TEST_CASE("a student is kept with one of several partners") {
    GroupProblem p = class_of(24);
    p.with_one_of = {{0, {1, 2, 3}}, {4, {0, 5}}, {6, {7}}};
    p.apart = {{0, 1}, {4, 5}};
    const auto search = solve_groups(p);
    const auto& g = found(search);
    CHECK(broken_rules(p, g.groups).empty());
    CHECK(sizes(g) == std::vector<int>(6, 4));
    // Apart from all partners: the rule and the partings are the whole conflict.
    p.apart = {{0, 1}, {0, 2}, {8, 9}, {0, 3}};
    const auto conflict = solve_groups(p);
    REQUIRE(conflict.state() == GroupSearch::State::conflict);
    CHECK(conflict.conflict()->students == std::vector<int>{0, 1, 2, 3});
    CHECK(conflict.conflict()->rules == std::vector<GroupRule>{{GroupRule::Kind::apart, 0},
                                                               {GroupRule::Kind::apart, 1},
                                                               {GroupRule::Kind::apart, 3},
                                                               {GroupRule::Kind::with_one_of, 0}});
    CHECK(conflict.conflict()->minimal);
}

TEST_CASE("company costs its own repeat and no more") {
    GroupProblem p = class_of(9, 3);
    p.past = {{{0, 1, 2}, {3, 4, 5}, {6, 7, 8}}};
    p.with_one_of = {{0, {1, 2}}};
    const auto search = solve_groups(p);
    // With 0 and 1 in one group, the third of one of the other threes is one too many there.
    CHECK(found(search).repeat_pairs == 2);
    CHECK(search.proved_best());
}

TEST_CASE("students whom a helper goes along with share few enough groups") {
    CHECK(plan::groups_in_reach(4, 2) == 2);
    CHECK(plan::groups_in_reach(1, 2) == 0);
    CHECK(plan::helper_rota({2, 5}, {1, 2, 3}) == std::vector<int>{2, 2, 5});
    CHECK(plan::helper_rota({0, 1, 2}, {4, 5}) == std::vector<int>{0, 1});
    GroupProblem p = class_of(24);
    p.helpers = {{{0, 1, 2, 3, 4}, 2}, {{10, 11}, 1}};
    p.apart = {{0, 1}};
    const auto search = solve_groups(p);
    CHECK(broken_rules(p, found(search).groups).empty());
    // Three that must be apart cannot share two groups.
    p.apart = {{0, 1, 2}, {7, 8}};
    const auto conflict = solve_groups(p);
    REQUIRE(conflict.state() == GroupSearch::State::conflict);
    CHECK(conflict.conflict()->students == std::vector<int>{0, 1, 2});
    CHECK(conflict.conflict()->rules ==
          std::vector<GroupRule>{{GroupRule::Kind::apart, 0}, {GroupRule::Kind::helper, 0}});
}
