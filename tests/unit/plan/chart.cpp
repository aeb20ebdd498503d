#include "plan/chart.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using namespace tallyround;
using plan::Cells;
using plan::ChartOrder;
using plan::ChartProblem;
using plan::ChartRule;
using plan::ChartSearch;
using Kind = plan::ChartRule::Kind;

namespace {

ChartProblem square(int n, ChartOrder order = ChartOrder::any) {
    ChartProblem p;
    p.groups = n;
    p.rounds = n;
    p.centers.resize(std::size_t(n));
    p.order = order;
    return p;
}

ChartRule rule(Kind kind, int center, int round = 0, std::vector<int> groups = {}) {
    ChartRule r;
    r.kind = kind;
    r.center = center;
    r.round = round;
    r.groups = std::move(groups);
    return r;
}

ChartRule before(int first, int then, std::vector<int> groups = {}) {
    ChartRule r;
    r.kind = Kind::before;
    r.center = first;
    r.then = then;
    r.groups = std::move(groups);
    return r;
}

const Cells& found(const ChartProblem& p, const ChartSearch& search) {
    REQUIRE(search.state() == ChartSearch::State::found);
    CHECK(faults(p, *search.best()).none());
    CHECK(measure(p, *search.best()) == search.score());
    return *search.best();
}

}  // namespace

TEST_CASE("cyclic: group 1 starts at center 1 and everybody moves on by one") {
    const auto p = square(6, ChartOrder::cyclic);
    const auto search = solve_chart(p);
    const Cells& cells = found(p, search);
    for (int g = 0; g < 6; ++g)
        for (int r = 0; r < 6; ++r)
            CHECK(cells[g][r] == (g + r) % 6);
    CHECK(search.proved_best());
}

TEST_CASE("balanced: every ordered pair of neighbours once for six, and with rules as well") {
    auto p = square(6, ChartOrder::balanced);
    p.rules = {rule(Kind::visit_in_round, 0, 1, {2}), before(0, 3, {1})};
    const auto search = solve_chart(p);
    const auto counts = neighbour_counts(p, found(p, search));
    for (int a = 0; a < 6; ++a)
        for (int b = 0; b < 6; ++b)
            CHECK(counts[a][b] == (a == b ? 0 : 1));
    CHECK(search.proved_best());
}

TEST_CASE("any: nobody visits twice when there are centers enough") {
    auto p = square(7);
    p.rounds = 5;
    const auto search = solve_chart(p);
    for (const auto& row : found(p, search))
        CHECK(std::set<int>(row.begin(), row.end()).size() == 5);
    CHECK(search.score().idle == 0);
    CHECK(search.proved_best());
}

TEST_CASE("more groups than places: waiting is as rare as can be and shared out") {
    auto p = square(6);
    p.groups = 8;
    const auto search = solve_chart(p);
    found(p, search);
    CHECK(search.score().idle == 12);
    CHECK(search.score().idle_peak == 2);
    CHECK(search.proved_idle());
}

TEST_CASE("a center that holds two") {
    auto p = square(4);
    p.groups = 6;
    p.centers[1].holds = 2;
    p.centers[2].holds = 2;
    const auto search = solve_chart(p);
    found(p, search);
    CHECK(search.score().idle == 0);
}

TEST_CASE("devices are never more than there are") {
    auto p = square(6);
    p.rounds = 4;
    p.stock = {8};
    for (int c = 0; c < 4; ++c)
        p.centers[c].needs = {4};
    const auto search = solve_chart(p);
    const Cells& cells = found(p, search);
    for (int r = 0; r < 4; ++r) {
        int used = 0;
        for (int g = 0; g < 6; ++g)
            used += cells[g][r] >= 0 && cells[g][r] < 4 ? 4 : 0;
        CHECK(used <= 8);
    }
    CHECK(search.score().idle == 4 * 2);
}

TEST_CASE("rules hold") {
    auto p = square(6);
    p.rules = {rule(Kind::must_visit, 0), before(1, 2), rule(Kind::not_in_round, 3, 0),
               rule(Kind::visit_in_round, 4, 2, {5})};
    ChartRule once;
    once.kind = Kind::at_most;
    once.center = 5;
    once.times = 0;
    once.groups = {0, 1};
    p.rules.push_back(once);
    const auto search = solve_chart(p);
    const Cells& cells = found(p, search);
    for (int g = 0; g < 6; ++g) {
        const auto& row = cells[g];
        CHECK(std::count(row.begin(), row.end(), 0) >= 1);
        CHECK(row[0] != 3);
        const auto then = std::find(row.begin(), row.end(), 2);
        CHECK((then == row.end() || std::find(row.begin(), then, 1) != then));
        if (g < 2) CHECK(std::count(row.begin(), row.end(), 5) == 0);
    }
    CHECK(cells[5][2] == 4);
}

TEST_CASE("a center whose helper is there in some rounds only") {
    auto p = square(6);
    ChartRule helper = rule(Kind::only_in_rounds, 0);
    helper.rounds = {0, 1, 2};
    p.rules = {helper, rule(Kind::must_visit, 0, 0, {3, 5})};
    const auto search = solve_chart(p);
    const Cells& cells = found(p, search);
    for (int g = 0; g < 6; ++g)
        for (int r = 3; r < 6; ++r)
            CHECK(cells[g][r] != 0);
    // Three rounds are too few for everybody; the helper's rule is part of the conflict.
    p.rules.push_back(rule(Kind::must_visit, 0));
    const auto conflict = solve_chart(p);
    REQUIRE(conflict.state() == ChartSearch::State::conflict);
    CHECK(conflict.conflict()->rules.front() == 0);
    CHECK(conflict.conflict()->groups.size() == 4);
    // One helper for two centers: a device of which there is one.
    auto two = square(4);
    two.rounds = 3;
    two.stock = {1};
    two.centers[0].needs = {1};
    two.centers[1].needs = {1};
    const auto shared = solve_chart(two);
    for (int r = 0; r < 3; ++r) {
        int helped = 0;
        for (const auto& row : found(two, shared))
            helped += row[r] == 0 || row[r] == 1;
        CHECK(helped <= 1);
    }
}

TEST_CASE("a second visit only when no fresh center is free") {
    // Three groups, four centers, six rounds: there is always a free fresh center in rounds 1-4.
    auto p = square(4);
    p.groups = 3;
    p.rounds = 6;
    const auto search = solve_chart(p);
    for (const auto& row : found(p, search))
        CHECK(std::set<int>(row.begin(), row.begin() + 4).size() == 4);
    CHECK(search.score().early == 0);
    CHECK(search.score().repeats == 6);
    CHECK(search.proved_repeats());
}

TEST_CASE("conflicts are small and name their groups and rules") {
    auto p = square(6);
    p.rules = {rule(Kind::must_visit, 5), rule(Kind::visit_in_round, 0, 2, {1}),
               rule(Kind::visit_in_round, 1, 2, {1})};
    const auto pins = solve_chart(p);
    REQUIRE(pins.state() == ChartSearch::State::conflict);
    CHECK(pins.conflict()->groups == std::vector<int>{1});
    CHECK(pins.conflict()->rules == std::vector<int>{1, 2});
    CHECK_FALSE(pins.conflict()->needs_holds);
    p.rules = {rule(Kind::must_visit, 0), before(0, 1), rule(Kind::visit_in_round, 1, 0, {3})};
    const auto order = solve_chart(p);
    REQUIRE(order.state() == ChartSearch::State::conflict);
    CHECK(order.conflict()->rules == std::vector<int>{1, 2});
    p.rules = {rule(Kind::must_visit, 0)};
    p.rounds = 5;
    const auto room = solve_chart(p);
    REQUIRE(room.state() == ChartSearch::State::conflict);
    CHECK(room.conflict()->groups.size() == 6);
    CHECK(room.conflict()->needs_holds);
    CHECK(room.conflict()->minimal);
}

TEST_CASE("what is done stays and the rest changes least") {
    const Cells was = *solve_chart(square(6, ChartOrder::cyclic)).best();
    // Center 2 is taken away after two rounds, a new one (6) comes.
    auto p = square(6);
    p.centers.resize(7);
    p.was = was;
    for (const auto& row : was)
        p.done.emplace_back(row.begin(), row.begin() + 2);
    for (auto& row : p.was)
        std::replace(row.begin() + 2, row.end(), 2, plan::gone);
    p.rules = {rule(Kind::not_in_round, 2, 2), rule(Kind::not_in_round, 2, 3),
               rule(Kind::not_in_round, 2, 4), rule(Kind::not_in_round, 2, 5)};
    const auto search = solve_chart(p);
    const Cells& cells = found(p, search);
    int gone = 0;
    for (int g = 0; g < 6; ++g) {
        CHECK(std::equal(was[g].begin(), was[g].begin() + 2, cells[g].begin()));
        gone += int(std::count(p.was[g].begin(), p.was[g].end(), plan::gone));
    }
    CHECK(search.score().changed == gone);
    CHECK(search.proved_changed());
    CHECK(search.score().idle == 0);
}

TEST_CASE("an unchanged lesson is left as it is") {
    auto p = square(5, ChartOrder::cyclic);
    const Cells was = *solve_chart(p).best();
    p.was = was;
    for (const auto& row : was)
        p.done.emplace_back(row.begin(), row.begin() + 1);
    const auto search = solve_chart(p);
    CHECK(found(p, search) == was);
    CHECK(search.score().changed == 0);
}

TEST_CASE("a group that fell behind keeps the others where they were") {
    auto p = square(4, ChartOrder::cyclic);
    p.was = *solve_chart(p).best();
    for (const auto& row : p.was)
        p.done.emplace_back(row.begin(), row.begin() + 2);
    p.done[3][1] = plan::idle;  // it was not at its second center
    const auto search = solve_chart(p);
    found(p, search);
    CHECK(search.score().changed == 0);
    p.rules = {rule(Kind::must_visit, 0, 0, {3})};
    const auto visit = solve_chart(p);
    const Cells& cells = found(p, visit);
    CHECK(std::count(cells[3].begin(), cells[3].end(), 0) >= 1);
    CHECK(visit.proved_changed());
    CHECK(visit.score().changed <= 2);
}

TEST_CASE("slices change nothing") {
    auto p = square(7, ChartOrder::balanced);
    p.rules = {before(0, 3), rule(Kind::not_in_round, 5, 1)};
    const auto whole = solve_chart(p, 20'000);
    ChartSearch sliced(p, 20'000);
    int steps = 0;
    while (!sliced.step(137))
        ++steps;
    CHECK(steps > 3);
    CHECK(*sliced.best() == *whole.best());
    CHECK(sliced.progress() == 1.0);
}

TEST_CASE("faults are seen in a chart made by hand") {
    auto p = square(2);
    p.rules = {rule(Kind::must_visit, 0)};
    CHECK(faults(p, {{0, 1}, {1, 0}}).none());
    CHECK(faults(p, {{0, 1}, {0, 1}}).overfull_rounds == std::vector<int>{0, 1});
    CHECK(faults(p, {{1, 0}, {plan::idle, 1}}).rules == std::vector<int>{0});
    p.done = {{0}, {1}};
    CHECK(faults(p, {{1, 0}, {0, 1}}).done_changed);
    const auto score = measure(p, {{0, 0}, {1, plan::idle}});
    CHECK(score.idle == 1);
    CHECK(score.repeats == 1);
    CHECK(score.early == 1);
}
