#include <doctest/doctest.h>

#include "story.h"

using namespace tallyround;
using namespace tallyround::record;
using namespace tallyround::testing::story;

TEST_CASE("company is kept once a student, by student, and names the class's own") {
    Story story;
    story.add(CompanySet{cls, s(3), {s(1), StudentId("who"), s(3), s(1), s(2)}})
        .add(CompanySet{cls, s(0), {s(4)}})
        .add(CompanySet{cls, StudentId("who"), {s(1)}});
    CHECK(story.now().company == std::vector<Company>{{s(0), {s(4)}}, {s(3), {s(1), s(2)}}});
    story.add(CompanySet{cls, s(0), {}}).add(CompanySet{cls, s(3), {s(4)}});
    CHECK(story.now().company == std::vector<Company>{{s(3), {s(4)}}});
}

TEST_CASE("what groups and chart keep to is set as a whole, without what nobody knows") {
    Story story;
    GroupRules groups;
    groups.seats = {{s(1), 2}, {StudentId("who"), 0}, {s(1), 0}};
    groups.locked = {2, 0, 2};
    groups.helpers = {{"  Mr. Lake ", {s(2), StudentId("who")}, {1, 3}}, {"Nobody's", {}, {}}};
    ChartRule after;
    after.kind = ChartRuleKind::before;
    after.center = k(0);
    after.then = CenterId("gone");
    ChartRule away;
    away.kind = ChartRuleKind::not_in_round;
    away.center = k(1);
    away.round = 2;
    story.add(GroupRulesSet{cls, block, groups})
        .add(ChartRulesSet{cls, block, {ChartOrder::balanced, {after, away}}});
    const Block b = story.here();
    CHECK(b.group_rules.seats == std::vector<Seat>{{s(1), 2}});
    CHECK(b.group_rules.locked == std::vector<int>{0, 2});
    CHECK(b.group_rules.helpers == std::vector<Helper>{{"Mr. Lake", {s(2)}, {1, 3}}});
    CHECK(b.chart_rules == ChartRules{ChartOrder::balanced, {away}});
    story.add(GroupRulesSet{cls, block, {}}).add(ChartRulesSet{cls, block, {}});
    CHECK(story.here().group_rules.empty());
    CHECK(story.here().chart_rules == ChartRules{});
}
