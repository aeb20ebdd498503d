#include "session/chart_plan.h"

#include <algorithm>

#include "classroom.h"
#include "session/chart_work.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

using Kind = ChartRuleKind;

ChartRule rule(Kind kind, const CenterId& center, int round = 1, std::vector<int> groups = {}) {
    ChartRule out;
    out.kind = kind;
    out.center = center;
    out.round = round;
    out.groups = std::move(groups);
    return out;
}

ChartRules with(ChartRules rules, ChartRule more) {
    rules.rules.push_back(std::move(more));
    return rules;
}

CenterId center(const Classroom& room, std::size_t i) {
    return open_centers(room.b()).at(i)->id;
}

std::size_t differing(const Chart& a, const Chart& b) {
    std::size_t n = 0;
    for (std::size_t g = 0; g < a.size(); ++g) {
        for (std::size_t r = 0; r < std::min(a[g].size(), b[g].size()); ++r)
            n += a[g][r] == b[g][r] ? 0 : 1;
    }
    return n;
}

void start(Classroom& room, int phases) {
    room.ok(StartLesson{room.cls, room.block});
    for (int i = 0; i < phases; ++i)
        room.ok(NextPhase{room.cls, room.block});
}

}  // namespace

TEST_CASE("a chart says that everyone sees everything and that nothing is better") {
    Classroom room(24);
    room.ready();
    const auto said = room.ok(MakeChart{room.cls, room.block, 1}).said;
    CHECK(has(said, "6 groups, 6 rounds"));
    CHECK(has(said, "Every group sees every center. Nobody waits."));
    // Six groups in cyclic order waste no place and break no order: a chart cannot do better.
    CHECK(has(said, "No chart does better."));
}

TEST_CASE("a pinned cell is where it was pinned, and the chart keeps it when it is made anew") {
    Classroom room(24);
    room.ready();
    const CenterId at = center(room, 4);
    REQUIRE(room.b().chart[0][1] != at);
    const auto said =
        room.ok(SetChartRules{room.cls, room.block,
                              with(room.b().chart_rules, rule(Kind::visit_in_round, at, 2, {0}))})
            .said;
    CHECK(has(said, "The chart is made anew"));
    CHECK(room.b().chart[0][1] == at);
    const auto anew = room.ok(MakeChart{room.cls, room.block, 99});
    CHECK(room.b().chart[0][1] == at);
    if (!anew.events.empty()) room.ok(Undo{});
    room.ok(Undo{});  // the rule and the chart it led to, in one
    CHECK(room.b().chart[0][1] != at);
    CHECK(room.b().chart_rules.rules.empty());
}

TEST_CASE("a center can be out of use in a round, for everyone or for some groups") {
    Classroom room(24);
    room.ready();
    const CenterId away = center(room, 0);
    ChartRules rules = with({}, rule(Kind::not_in_round, away, 3));
    ChartRule only = rule(Kind::only_in_rounds, center(room, 1), 1, {2});
    only.rounds = {5};
    rules = with(rules, only);
    room.ok(SetChartRules{room.cls, room.block, rules});
    for (const auto& row : room.b().chart)
        CHECK(row[2] != away);
    for (std::size_t r = 0; r < 6; ++r) {
        if (r != 4) CHECK(room.b().chart[2][r] != center(room, 1));
    }
    // One place fewer in round 3 than there are groups: somebody waits then.
    const auto said = room.ok(MakeChart{room.cls, room.block, 1}).said;
    CHECK(has(said, "waits in round 3"));
    CHECK_FALSE(has(said, "Every group sees every center"));
}

TEST_CASE("one center comes after another for every group") {
    Classroom room(24);
    room.ready();
    ChartRule after = rule(Kind::before, center(room, 0));
    after.then = center(room, 1);
    room.ok(SetChartRules{room.cls, room.block, with({}, after)});
    for (const auto& row : room.b().chart) {
        const auto then = std::find(row.begin(), row.end(), center(room, 1));
        if (then == row.end()) continue;
        CHECK(std::find(row.begin(), then, center(room, 0)) != then);
    }
}

TEST_CASE("a center that holds two groups takes two") {
    Classroom room(24);
    room.plan({"mean", "median", "ratio-write"});
    room.chart();
    CHECK(has(room.ok(MakeChart{room.cls, room.block, 1}).said, "There are fewer places"));
    for (const Center* c : open_centers(room.b())) {
        Center wider = *c;
        wider.holds = 2;
        room.ok(EditCenter{room.cls, room.block, wider});
    }
    room.ok(MakeChart{room.cls, room.block, 1});
    for (std::size_t r = 0; r < 3; ++r) {
        std::map<CenterId, int> at;
        for (const auto& row : room.b().chart) {
            REQUIRE_FALSE(row[r].empty());
            ++at[row[r]];
        }
        for (const auto& [id, groups] : at)
            CHECK(groups == 2);
    }
}

TEST_CASE("rules of centers that are closed and of groups that are gone are left out") {
    Classroom room(21);
    room.ready();
    const CenterId closed = center(room, 2);
    ChartRules rules = with({}, rule(Kind::must_visit, closed));
    rules = with(rules, rule(Kind::visit_in_round, center(room, 3), 1, {5}));
    room.ok(SetChartRules{room.cls, room.block, rules});
    CHECK(chart_question(room.b(), true).rules == std::vector<std::size_t>{0, 1});
    room.ok(CloseCenter{room.cls, room.block, closed, true});
    CHECK(chart_question(room.b(), true).rules == std::vector<std::size_t>{1});
    room.ok(SetStudentLeft{room.cls, room.student(0), true});
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, 1});
    REQUIRE(room.b().groups.size() == 5);
    CHECK(chart_question(room.b(), true).rules.empty());
    CHECK_FALSE(room.b().chart.empty());
    CHECK(room.b().chart_rules.rules.size() == 2);
}

TEST_CASE("a conflict names the rules in words, and dropping any one of them resolves it") {
    Classroom room(24);
    room.ready();
    const CenterId at = center(room, 0);
    ChartRules rules = with({}, rule(Kind::must_visit, center(room, 1)));
    rules = with(rules, rule(Kind::at_most, center(room, 3)));
    rules = with(rules, rule(Kind::visit_in_round, at, 1, {0}));
    room.ok(SetChartRules{room.cls, room.block, rules});
    const ChartRules wrong = with(rules, rule(Kind::not_in_round, at, 1));
    const std::string text = room.refused(SetChartRules{room.cls, room.block, wrong});
    const std::string name = center_words(room.b(), at);
    CHECK(has(text, "Group 1 is at " + name + " in round 1."));
    CHECK(has(text, "Nobody is at " + name + " in round 1."));
    CHECK(has(text, "Without any one of them there is a chart."));
    CHECK_FALSE(has(text, "at most once"));

    Block wanted = room.b();
    wanted.chart_rules = wrong;
    const auto trouble = chart_trouble(wanted);
    REQUIRE(trouble.has_value());
    CHECK(trouble->rules == std::vector<std::size_t>{2, 3});
    CHECK(trouble->any_one);
    CHECK_FALSE(trouble->room);
    for (const std::size_t drop : trouble->rules) {
        Block less = wanted;
        less.chart_rules.rules.erase(less.chart_rules.rules.begin() + std::ptrdiff_t(drop));
        CHECK_FALSE(chart_trouble(less).has_value());
        CHECK(chart_for(less, 1, true).has_value());
    }
}

TEST_CASE("where more room would help, the conflict says so") {
    Classroom room(24);
    room.ready();
    const CenterId at = center(room, 0);
    ChartRule few = rule(Kind::only_in_rounds, at);
    few.rounds = {1, 2, 3};
    room.ok(SetChartRules{room.cls, room.block, with({}, few)});
    const ChartRules wrong = with(room.b().chart_rules, rule(Kind::must_visit, at));
    const std::string text = room.refused(SetChartRules{room.cls, room.block, wrong});
    // Three rounds, one group at a time: six groups cannot all come.
    CHECK(has(text, "A center that holds more groups would help, too."));
    Center wider = *find_center(room.b(), at);
    wider.holds = 2;
    room.ok(EditCenter{room.cls, room.block, wider});
    room.ok(SetChartRules{room.cls, room.block, wrong});
    for (const auto& row : room.b().chart)
        CHECK(std::count(row.begin(), row.end(), at) >= 1);
}

TEST_CASE("another order makes the chart anew; the same order leaves it alone") {
    Classroom room(24);
    room.ready();
    const Chart cyclic = room.b().chart;
    room.ok(SetChartRules{room.cls, room.block, {ChartOrder::balanced, {}}});
    CHECK(room.b().chart != cyclic);
    // Williams 1949: six groups and six centers can have every ordered pair of neighbours once.
    const auto question = chart_question(room.b(), true);
    const auto cells = chart_cells(room.b(), question);
    REQUIRE(cells.has_value());
    const auto counts = plan::neighbour_counts(question.problem, *cells);
    for (std::size_t a = 0; a < 6; ++a) {
        for (std::size_t b = 0; b < 6; ++b)
            CHECK(counts[a][b] == (a == b ? 0 : 1));
    }
    const Chart balanced = room.b().chart;
    room.ok(SetChartRules{
        room.cls, room.block, {ChartOrder::balanced, {rule(Kind::must_visit, center(room, 0))}}});
    CHECK(room.b().chart == balanced);
}

TEST_CASE("a repair in mid-lesson says how many places change and that fewer is not possible") {
    Classroom room(24);
    room.ready();
    start(room, 3);  // round 1, move, round 2
    const Chart before = room.b().chart;
    const CenterId closed = before[0][3];
    const auto would = room.session.would(CloseCenter{room.cls, room.block, closed, true}, 0);
    REQUIRE(would.has_value());
    CHECK(room.b().chart == before);
    const auto said = room.ok(CloseCenter{room.cls, room.block, closed, true}).said;
    CHECK(said == would->said);
    CHECK(has(said, std::to_string(differing(before, room.b().chart)) +
                        " places changed; fewer is not possible."));
}

TEST_CASE("a group that stays a round longer stays, and little else changes") {
    Classroom room(24);
    room.ready();
    start(room, 3);
    const Chart before = room.b().chart;
    const CenterId at = before[2][1];
    room.ok(SetChartRules{room.cls, room.block, with({}, rule(Kind::visit_in_round, at, 3, {2}))});
    CHECK(room.b().chart[2][2] == at);
    for (std::size_t g = 0; g < 6; ++g) {
        CHECK(room.b().chart[g][0] == before[g][0]);
        CHECK(room.b().chart[g][1] == before[g][1]);
    }
    CHECK(differing(before, room.b().chart) <= 6);
}

TEST_CASE("a lost round leaves one fewer, in the chart and in today's lesson") {
    Classroom room(24);
    room.ready();
    start(room, 1);
    const Chart before = room.b().chart;
    const auto said = room.ok(LoseRound{room.cls, room.block}).said;
    CHECK(has(said, "One round is lost: 5 rounds in all."));
    CHECK(room.b().chart.front().size() == 5);
    CHECK(differing(before, room.b().chart) == 0);
    room.ok(Undo{});
    CHECK(room.b().chart == before);
    for (int i = 0; i < 5; ++i)
        room.ok(LoseRound{room.cls, room.block});
    CHECK(has(room.refused(LoseRound{room.cls, room.block}), "none left to lose"));
}

TEST_CASE("what a swap would do is known before it is done") {
    Classroom room(24);
    room.ready();
    ChartRule pin = rule(Kind::visit_in_round, room.b().chart[0][1], 2, {0});
    room.ok(SetChartRules{room.cls, room.block, with({}, pin)});
    const Chart after = with_swap(room.b(), 2, 0, 3);
    CHECK(after[0][1] == room.b().chart[3][1]);
    const auto effects = chart_effects(room.b(), after);
    const auto says = [&](const std::string& part) {
        return std::any_of(effects.begin(), effects.end(),
                           [&](const std::string& e) { return has(e, part); });
    };
    CHECK(says("Group 1 is at " + center_words(room.b(), after[0][1]) + " twice."));
    CHECK(says("Group 1 does not come to " + center_words(room.b(), pin.center) + "."));
    CHECK(says("It breaks: Group 1 is at"));
    // Two groups that exchange all their rounds see what they saw before.
    Chart rows = room.b().chart;
    std::swap(rows[1], rows[2]);
    CHECK(chart_effects(room.b(), rows).empty());
}

TEST_CASE("a chart planned in slices is the one planned at once and names the rules in its way") {
    Classroom room(24);
    room.ready();
    ChartWork work(room.b(), 5, true);
    while (!work.step(200)) {
    }
    const auto sliced = work.finish();
    const auto at_once = chart_for(room.b(), 5, true);
    REQUIRE(sliced.has_value());
    REQUIRE(at_once.has_value());
    CHECK(sliced->chart == at_once->chart);
    CHECK(sliced->quality == at_once->quality);
    Block wanted = room.b();
    const CenterId at = center(room, 0);
    wanted.chart_rules = with({}, rule(Kind::not_in_round, at, 1));
    wanted.chart_rules = with(wanted.chart_rules, rule(Kind::visit_in_round, at, 1, {0}));
    ChartWork wrong(wanted, 5, true);
    while (!wrong.step(200)) {
    }
    CHECK_FALSE(wrong.finish().has_value());
    REQUIRE(wrong.trouble().has_value());
    CHECK(wrong.trouble()->rules.size() == 2);
}

TEST_CASE("looking at a chart in slices says whether a better one is there") {
    Classroom room(24);
    room.ready();
    const auto check = [&] {
        ChartCheck c(room.b());
        int slices = 0;
        while (!c.step(500) && slices < 1000)
            ++slices;
        CHECK(c.done());
        return std::pair(c.better(), c.words());
    };
    CHECK(check() == std::pair(false, std::string("No chart does better.")));
    room.ok(SwapCells{room.cls, room.block, 2, 0, 3});
    const auto [better, words] = check();
    CHECK(better);
    CHECK(has(words, "make it anew"));
}
