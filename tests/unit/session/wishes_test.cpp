#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

ChartRule rule(ChartRuleKind kind, const CenterId& center, int round = 1) {
    ChartRule out;
    out.kind = kind;
    out.center = center;
    out.round = round;
    return out;
}

}  // namespace

TEST_CASE("company is asked of students of the class, and never of oneself") {
    Classroom room(6);
    const auto s = [&](std::size_t i) { return room.student(i); };
    CHECK(room.ok(SetCompany{room.cls, s(0), {s(1), s(2)}}).said ==
          "Student 1 will sit with Student 2 and Student 3, at least one of them.");
    CHECK(room.c().company == std::vector<Company>{{s(0), {s(1), s(2)}}});
    CHECK(has(room.refused(SetCompany{room.cls, s(0), {s(0)}}), "Student 1 cannot be"));
    CHECK(has(room.refused(SetCompany{room.cls, s(0), {StudentId("who")}}), "student"));
    CHECK(room.ok(SetCompany{room.cls, s(3), {}}).events.empty());
    room.ok(SetCompany{room.cls, s(0), {}});
    CHECK(room.c().company.empty());
    room.ok(Undo{});
    CHECK(room.c().company.size() == 1);
}

TEST_CASE("rules of the groups name groups, rounds and students that are there") {
    Classroom room(8);
    room.ready();
    GroupRules rules;
    rules.seats = {{room.student(0), 1}};
    rules.locked = {0};
    rules.helpers = {{"Mr. Lake", {room.student(2)}, {1, 2}}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    CHECK(room.b().group_rules == rules);
    CHECK(room.ok(SetGroupRules{room.cls, room.block, rules}).events.empty());
    const auto refused = [&](auto change) {
        GroupRules other = rules;
        change(other);
        return room.refused(SetGroupRules{room.cls, room.block, other});
    };
    CHECK(has(refused([](GroupRules& r) { r.locked = {2}; }), "no Group 3"));
    CHECK(has(refused([](GroupRules& r) { r.seats[0].group = -1; }), "no Group 0"));
    CHECK(has(refused([](GroupRules& r) { r.helpers[0].rounds = {7}; }), "no round 7"));
    CHECK(has(refused([](GroupRules& r) { r.helpers[0].students.clear(); }), "Mr. Lake"));
    CHECK(has(refused([](GroupRules& r) { r.helpers[0].name = " "; }), "Helper"));
    CHECK(has(refused([](GroupRules& r) { r.seats.resize(61); }), "60"));
}

TEST_CASE("rules of the chart name centers, groups and rounds that are there") {
    Classroom room(24);
    room.ready();
    const auto center = [&](std::size_t i) { return room.b().centers.at(i).id; };
    const auto refused = [&](const ChartRule& r) {
        return room.refused(SetChartRules{room.cls, room.block, {ChartOrder::any, {r}}});
    };
    CHECK(has(refused(rule(ChartRuleKind::not_in_round, center(0), 7)), "no round 7"));
    CHECK(has(refused(rule(ChartRuleKind::must_visit, CenterId("gone"))), "center"));
    CHECK(has(refused(rule(ChartRuleKind::only_in_rounds, center(0))), "Choose the rounds"));
    ChartRule itself = rule(ChartRuleKind::before, center(0));
    itself.then = center(0);
    CHECK(has(refused(itself), "before itself"));
    ChartRule nobody = rule(ChartRuleKind::must_visit, center(0));
    nobody.groups = {6};
    CHECK(has(refused(nobody), "no Group 7"));

    const ChartRules rules{ChartOrder::balanced, {rule(ChartRuleKind::not_in_round, center(1), 2)}};
    room.ok(SetChartRules{room.cls, room.block, rules});
    CHECK(room.b().chart_rules == rules);
    CHECK(room.ok(SetChartRules{room.cls, room.block, rules}).events.empty());
}

TEST_CASE("a center may hold two groups, within reason") {
    Classroom room(8);
    room.ready();
    Center center = room.b().centers[0];
    center.holds = 2;
    room.ok(EditCenter{room.cls, room.block, center});
    CHECK(room.b().centers[0].holds == 2);
    center.holds = 0;
    CHECK(has(room.refused(EditCenter{room.cls, room.block, center}), "Groups at once"));
}

TEST_CASE("an assembly in the period moves the rounds behind it") {
    Classroom room(8);
    room.ready();
    auto periods = room.b().periods;
    periods[0].breaks = {{9 * 60 + 30, 9 * 60 + 45}};
    const Timing timing = room.b().timing;
    room.ok(SetTime{room.cls, room.block, periods, timing});
    const Fitted fitted = fit_block(room.b());
    REQUIRE(fitted.rounds.size() >= 2);
    CHECK(fitted.rounds[0].end_second <= (9 * 60 + 30) * 60);
    CHECK(fitted.rounds[1].start_second >= (9 * 60 + 45) * 60);
    Timing one = timing;
    one.rounds = 6;
    one.rounds_a_day = 1;
    const Fitted slow = fit_wish(periods, one);
    CHECK_FALSE(slow.fits);
    CHECK(slow.rounds_that_fit == 2);
}
