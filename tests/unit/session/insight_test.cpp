#include "session/insight.h"

#include <algorithm>

#include "base/text.h"
#include "classroom.h"
#include "session/demo.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

constexpr std::int64_t a_day = 86'400'000;

/// Marks for one student and skill, a minute apart.
void put(Classroom& room, std::size_t student, const char* skill, int times,
         Level level = Level::secure, Help help = Help::none) {
    for (int i = 0; i < times; ++i) {
        room.ok(PutMark{
            room.cls, room.block, room.student(student), SkillId(skill), {}, 0, level, help});
        room.now += 60'000;
    }
}

Standings standings_of(const Classroom& room) {
    Standings standings;
    standings.update(room.c(), room.now);
    return standings;
}

}  // namespace

TEST_CASE("a pair without marks starts from the student's other skills and the skill's others") {
    Classroom room(8);
    room.plan({"mean", "median", "percent-of"});
    for (std::size_t s = 0; s < 8; ++s)
        put(room, s, "mean", 3, s < 4 ? Level::secure : Level::stuck);
    for (std::size_t s = 1; s < 8; ++s)
        put(room, s, "median", 2, s < 4 ? Level::secure : Level::stuck);
    const Standings standings = standings_of(room);
    const double able = standings.of(room.student(0), SkillId("median")).p;
    Classroom other(8);
    other.plan({"mean", "median", "percent-of"});
    for (std::size_t s = 0; s < 8; ++s)
        put(other, s, "mean", 3, s < 4 ? Level::stuck : Level::secure);
    for (std::size_t s = 1; s < 8; ++s)
        put(other, s, "median", 2, s < 4 ? Level::stuck : Level::secure);
    CHECK(able > 0.6);
    CHECK(standings_of(other).of(other.student(0), SkillId("median")).p < 0.45);
    CHECK(standings.of(room.student(0), SkillId("median")).marks == 0);
    CHECK(word_for(standings.of(room.student(0), SkillId("median"))) == Word::no_marks);
}

TEST_CASE("parameters are fitted when there are enough marks and the teacher can keep the usual") {
    Classroom room(12);
    room.plan({"mean", "median", "percent-of", "ratio-write"});
    const char* skills[] = {"mean", "median", "percent-of", "ratio-write"};
    CHECK_FALSE(standings_of(room).fitted());
    CHECK(has(reading_of(room.c(), standings_of(room)).why, "there are 0"));
    for (int round = 0; round < 10; ++round) {
        for (std::size_t s = 0; s < 12; ++s) {
            const char* skill = skills[(s + std::size_t(round)) % 4];
            put(room, s, skill, 1,
                (s + std::size_t(round)) % 3 == 0 ? Level::stuck : Level::secure);
            put(room, s, skill, 2, s % 2 == 0 ? Level::secure : Level::shaky);
        }
        room.now += a_day;
    }
    const Standings fitted = standings_of(room);
    REQUIRE(fitted.fitted());
    const Reading reading = reading_of(room.c(), fitted);
    CHECK(reading.fitted);
    CHECK(has(reading.why, "Fitted to the last"));
    CHECK(std::any_of(reading.lines.begin(), reading.lines.end(),
                      [](const ReadingLine& line) { return line.ours != line.usual; }));

    room.ok(KeepUsualReading{room.cls, true});
    const Standings usual = standings_of(room);
    CHECK_FALSE(usual.fitted());
    CHECK(usual.model().learn == evidence::Model{}.learn);
    CHECK(has(reading_of(room.c(), usual).why, "because you keep them"));
    room.ok(Undo{});
    CHECK(standings_of(room).fitted());
    CHECK(room.ok(KeepUsualReading{room.cls, false}).events.empty());
}

TEST_CASE("a path holds every mark of the student with the estimate after it") {
    Classroom room(3);
    room.plan({"mean", "median"});
    put(room, 0, "mean", 2, Level::stuck);
    put(room, 1, "mean", 1);
    put(room, 0, "median", 1);
    put(room, 0, "mean", 2, Level::secure, Help::hint);
    const Standings standings = standings_of(room);
    const auto all = path_of(room.c(), standings, room.student(0));
    REQUIRE(all.size() == 5);
    CHECK(all[2].skill == SkillId("median"));
    CHECK(all[3].help == Help::hint);
    CHECK(all[0].at_ms < all[4].at_ms);
    const auto one = path_of(room.c(), standings, room.student(0), SkillId("mean"));
    REQUIRE(one.size() == 4);
    CHECK(one[1].p < one[0].p);
    CHECK(one[3].p > one[1].p);
    for (const PathPoint& point : one) {
        CHECK(point.low <= point.p);
        CHECK(point.p <= point.high);
        CHECK(point.event ==
              room.c()
                  .marks[std::size_t(&point - one.data()) + (&point - one.data() > 1 ? 2 : 0)]
                  .event);
    }
    // The path ends where the standing is.
    CHECK(one[3].p ==
          doctest::Approx(standings.of(room.student(0), SkillId("mean")).p).epsilon(1e-3));
}

TEST_CASE("a skill's page puts every present student under one word") {
    Classroom room(5);
    room.plan({"percent-of"});
    put(room, 0, "percent-of", 6);
    put(room, 1, "percent-of", 6, Level::stuck);
    put(room, 2, "percent-of", 1);
    room.ok(SetStudentLeft{room.cls, room.student(4), true});
    const SkillPage page = skill_page(room.c(), standings_of(room), SkillId("percent-of"));
    REQUIRE(page.by_word.size() == 5);
    CHECK(page.by_word[std::size_t(Word::likely_has_it)] == std::vector{room.student(0)});
    CHECK(page.by_word[std::size_t(Word::needs_time)] == std::vector{room.student(1)});
    CHECK(page.by_word[std::size_t(Word::early)] == std::vector{room.student(2)});
    CHECK(page.by_word[std::size_t(Word::no_marks)] == std::vector{room.student(3)});
    CHECK(page.centers.size() == 1);
    CHECK_FALSE(page.slips.empty());
    CHECK(has(page.why, "1 likely has it"));
}

TEST_CASE("what the words were followed by is counted from earlier marks only") {
    Classroom room(4);
    room.plan({"mean"});
    put(room, 0, "mean", 8);
    put(room, 1, "mean", 6, Level::stuck);
    put(room, 0, "mean", 1, Level::stuck);
    put(room, 0, "mean", 1, Level::stuck, Help::hint);
    const Calibration calibration = calibration_of(room.c());
    int said = 0;
    for (const WordRecord& record : calibration.words) {
        said += record.said;
        CHECK(record.said == record.secure + record.shaky + record.stuck);
        if (record.word == Word::no_marks) CHECK(record.said == 2);
        // The first four marks come before the word may be said; then four secure, one stuck.
        if (record.word == Word::likely_has_it) {
            CHECK(record.secure == 4);
            CHECK(record.stuck == 1);
            CHECK(record.expected > 0.7);
        }
    }
    CHECK(said == 15);  // the one with help is left out
    CHECK(calibration.scores.forecasts == 15);
    CHECK(calibration.why == "\"Likely has it\" was followed by a secure mark 4 of 5 times.");
    // A later mark changes no earlier forecast.
    put(room, 2, "mean", 1);
    const Calibration later = calibration_of(room.c());
    CHECK(later.scores.forecasts == 16);
    CHECK(later.scores.log_loss * 16 > calibration.scores.log_loss * 15);
}

TEST_CASE("a look is due sooner for massed marks than for spaced ones") {
    Classroom room(2);
    room.plan({"mean"});
    for (int day = 0; day < 5; ++day) {
        put(room, 0, "mean", 1);
        room.now += a_day;
    }
    put(room, 1, "mean", 5);
    const auto due = due_looks(room.c(), standings_of(room), room.now);
    REQUIRE(due.size() == 2);
    CHECK(due[0].student == room.student(1));
    CHECK(due[0].due_ms < due[1].due_ms);
    CHECK(due[0].due_ms > room.now);
    CHECK(due[1].half_life_days > 2.0 * due[0].half_life_days);
    // On the due day the chance has come down to three quarters.
    Standings then;
    then.update(room.c(), due[0].due_ms);
    CHECK(then.of(room.student(1), SkillId("mean")).p == doctest::Approx(0.75).epsilon(1e-6));
    const auto forecast =
        forecast_for(room.c(), standings_of(room), room.now, room.now + 60 * a_day);
    REQUIRE(forecast.size() == 1);
    CHECK(forecast[0].held_then < forecast[0].held_now);
    CHECK(forecast[0].due >= 1);
    CHECK(forecast_for(room.c(), standings_of(room), room.now, room.now - a_day)[0].held_then ==
          doctest::Approx(forecast[0].held_now));
}

TEST_CASE("ready by: blocks on the way hold skills, others none, and the plan beats equal rounds") {
    Classroom room(10);
    room.plan({"mean", "median", "percent-of", "ratio-write"});
    for (std::size_t s = 0; s < 10; ++s) {
        put(room, s, "mean", 5, s < 8 ? Level::stuck : Level::secure);
        put(room, s, "median", 5);
        put(room, s, "percent-of", 2, Level::shaky);
    }
    ReadyWish wish;
    wish.skills = {SkillId("mean"), SkillId("median"), SkillId("percent-of"),
                   SkillId("ratio-write"), SkillId("mean")};
    wish.blocks = {{2026, 12, 14}, {2026, 12, 7}, {2026, 11, 1}, {2027, 1, 11}, {2026, 12, 18}};
    wish.ready_by = {2026, 12, 21};
    wish.skills_a_block = 2;
    const ReadyPlan plan = ready_plan(room.c(), standings_of(room), wish, room.now);
    REQUIRE(plan.blocks.size() == 5);
    CHECK(plan.pairs == 40);
    CHECK(plan.blocks[0].date == wish.blocks[0]);
    CHECK(plan.blocks[0].skills.size() == 2);
    CHECK(plan.blocks[1].skills.size() == 2);
    CHECK(plan.blocks[2].skills.empty());
    CHECK(plan.blocks[3].skills.empty());
    CHECK(plan.blocks[4].skills.size() == 2);
    CHECK(plan.blocks[4].why.size() == 2);
    CHECK(plan.held_with >= plan.held_equal);
    CHECK(plan.held_equal > plan.held_without);
    CHECK(plan.held_without < plan.held_now);
    CHECK(ready_plan(room.c(), standings_of(room), {}, room.now).pairs == 0);
}

TEST_CASE("the next block: most to gain first, a teacher group of those who share a need") {
    Classroom room(12);
    room.plan({"mean", "median", "percent-of"});
    room.time();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::mixed, 4, 1});
    for (std::size_t s = 0; s < 12; ++s) {
        put(room, s, "mean", 5);
        put(room, s, "median", 5, s < 6 ? Level::stuck : Level::secure);
    }
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::apart});
    const NextBlock next = next_block(room.c(), standings_of(room), room.now);
    REQUIRE(next.skills.size() == 3);
    CHECK(next.skills.back().skill == SkillId("mean"));
    CHECK(next.skills.back().tier == cards::Tier::stretch);
    for (const SkillProposal& proposal : next.skills) {
        CHECK_FALSE(proposal.kind.empty());
        CHECK_FALSE(proposal.why_skill.empty());
        CHECK_FALSE(proposal.why_kind.empty());
        CHECK_FALSE(proposal.why_tier.empty());
        CHECK((proposal.kind == "teacher") == (proposal.skill == SkillId("median")));
    }
    REQUIRE_FALSE(next.teacher.empty());
    const auto& group = next.teacher.front().students;
    CHECK(next.teacher.front().skill == SkillId("median"));
    CHECK(group.size() == 4);
    const auto in = [&](std::size_t s) {
        return std::find(group.begin(), group.end(), room.student(s)) != group.end();
    };
    CHECK_FALSE((in(0) && in(1)));
    for (std::size_t s = 6; s < 12; ++s)
        CHECK_FALSE(in(s));
    CHECK(next.tiers.size() == 9);
    CHECK(next_block(room.c(), standings_of(room), room.now, 1).skills.size() == 1);

    Classroom empty(3);
    CHECK_FALSE(next_block(empty.c(), standings_of(empty), empty.now).why.empty());
}

TEST_CASE("a center swapped keeps its place in the rounds to come and its marks") {
    Classroom room(24);
    room.ready();
    room.ok(StartLesson{room.cls, room.block});
    room.ok(NextPhase{room.cls, room.block});
    const Center was = room.b().centers[1];
    const Chart before = room.b().chart;
    const auto ideas = swap_ideas(room.c(), room.b(), was.id, standings_of(room));
    REQUIRE_FALSE(ideas.empty());
    for (const SwapIdea& idea : ideas) {
        CHECK(idea.kind != was.kind);
        CHECK_FALSE(idea.why.empty());
    }
    const auto happened = room.ok(SwapCenter{room.cls, room.block, was.id, ideas.front().kind});
    const CenterId now(happened.made.front());
    const Center* made = find_center(room.b(), now);
    REQUIRE(made != nullptr);
    CHECK(made->skill == was.skill);
    CHECK(made->kind == ideas.front().kind);
    CHECK(find_center(room.b(), was.id)->closed);
    for (std::size_t g = 0; g < before.size(); ++g) {
        for (std::size_t r = 0; r < before[g].size(); ++r) {
            const CenterId expected = r > 0 && before[g][r] == was.id ? now : before[g][r];
            CHECK(room.b().chart[g][r] == expected);
        }
    }
    CHECK(room.session.undo_label() == "swapping a center");
    CHECK(has(room.refused(SwapCenter{room.cls, room.block, was.id, "cards"}), "closed already"));
    CHECK(has(room.refused(SwapCenter{room.cls, room.block, now, made->kind}), "already"));
    CHECK(has(room.refused(SwapCenter{room.cls, room.block, now, "nonsense"}), "kinds"));
    room.ok(Undo{});
    CHECK(room.b().chart == before);
    CHECK_FALSE(find_center(room.b(), was.id)->closed);
}

TEST_CASE("no sentence calls a child anything") {
    record::Log log{ReplicaId("test")};
    log.load(demo_events({2026, 12, 1}));
    const Class& cls = log.state().classes.front();
    const std::int64_t now = 1'796'083'200'000;
    Standings standings;
    standings.update(cls, now);
    std::vector<std::string> said{reading_of(cls, standings).why, calibration_of(cls).why};
    for (const WordRecord& r : calibration_of(cls).words)
        said.push_back(r.text);
    for (const Due& due : due_looks(cls, standings, now))
        said.push_back(due.why);
    const NextBlock next = next_block(cls, standings, now);
    for (const SkillProposal& p : next.skills) {
        said.insert(said.end(), {p.why_skill, p.why_kind, p.why_tier});
        said.push_back(skill_page(cls, standings, p.skill).why);
    }
    for (const TeacherGroup& group : next.teacher)
        said.push_back(group.why);
    CHECK(said.size() > 20);
    for (const std::string& text : said) {
        CHECK(text.back() == '.');
        for (const char* label : {"weak", "strong", "slow", "low ", "behind", "failing", "bad",
                                  "smart", "gifted", "disab"}) {
            CHECK_FALSE(has(text, label));
        }
    }
}
