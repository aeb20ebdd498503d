#include <doctest/doctest.h>

#include "record/hash.h"
#include "story.h"

using namespace tallyround;
using namespace tallyround::record;
using namespace tallyround::testing::story;

namespace {

Marked look(int student) {
    return {cls, block, s(student), SkillId("x1"), k(1), 2, Level::shaky, Help::hint};
}

}  // namespace

TEST_CASE("a class is made, renamed and put away") {
    Story story;
    story.add(ClassRenamed{cls, " 6c \x01 ", 7}).add(ClassArchived{cls, true});
    CHECK(story.now().name == "6c");
    CHECK(story.now().grade == 7);
    CHECK(story.now().archived);
    story.add(ClassArchived{cls, false});
    CHECK_FALSE(story.now().archived);
}

TEST_CASE("students are kept in the order they came; the later name wins") {
    Story story;
    story.add(StudentRenamed{cls, s(1), "Ada"}).add(StudentRenamed{cls, s(1), "Ada L."});
    REQUIRE(story.now().students.size() == 5);
    CHECK(story.now().students[1].name == "Ada L.");
    CHECK(story.now().students[1].source_id == "1");
    story.add(StudentAdded{cls, s(1), "Ada K.", "77"});
    CHECK(story.now().students.size() == 5);
    CHECK(story.now().students[1].name == "Ada K.");
    CHECK(story.now().students[1].source_id == "77");
}

TEST_CASE("names lose what could hide in them, texts keep their lines") {
    Story story;
    story.add(StudentRenamed{cls, s(0), "  A\tda\xE2\x80\xAE\x07  L "});
    story.add(CenterSet{cls, block, k(0), "teacher", {}, "T\n", " one \n\n two\x02", "a\nb"});
    CHECK(story.now().students[0].name == "A da L");
    CHECK(story.here().centers[0].title == "T");
    CHECK(story.here().centers[0].instructions == "one\n\ntwo");
    CHECK(story.here().centers[0].materials == "a\nb");
}

TEST_CASE("who leaves gives up seat, flag and absence, and keeps marks and pairs") {
    Story story;
    story.add(GroupsSet{cls, block, {{s(0), s(1)}, {s(2), s(3)}}})
        .add(PairRuled{cls, s(1), s(2), PairRule::apart})
        .add(look(1))
        .add(AbsenceSet{cls, block, s(1), true})
        .add(FlagSet{cls, s(1), true})
        .add(StudentLeft{cls, s(1), true});
    CHECK(story.here().groups == Groups{{s(0)}, {s(2), s(3)}});
    CHECK(story.here().absent.empty());
    CHECK(story.now().flags.empty());
    CHECK(story.now().marks.size() == 1);
    CHECK(story.now().pairs.size() == 1);
    CHECK(story.now().students[1].left);
    story.add(look(1)).add(FlagSet{cls, s(1), true});
    CHECK(story.now().marks.size() == 2);
    CHECK(story.now().flags.empty());
    story.add(StudentLeft{cls, s(1), false});
    CHECK_FALSE(story.now().students[1].left);
    CHECK(group_of(story.here(), s(1)) == -1);
}

TEST_CASE("who leaves stays in the groups of earlier blocks") {
    Story story;
    story.add(GroupsSet{cls, block, {{s(0), s(1)}}})
        .add(BlockMade{cls, BlockId("next"), "Next"})
        .add(StudentLeft{cls, s(1), true});
    CHECK(story.here().groups == Groups{{s(0), s(1)}});
}

TEST_CASE("who joins late has no seat until groups are set again") {
    Story story;
    story.add(GroupsSet{cls, block, {{s(0), s(1)}, {s(2), s(3), s(4)}}})
        .add(StudentAdded{cls, StudentId("late"), "Late", ""});
    CHECK(group_of(story.here(), StudentId("late")) == -1);
    story.add(GroupsSet{cls, block, {{s(0), s(1), StudentId("late")}, {s(2), s(3), s(4)}}});
    CHECK(group_of(story.here(), StudentId("late")) == 0);
}

TEST_CASE("groups take in nobody twice and nobody who is not in the class") {
    Story story;
    story.add(StudentLeft{cls, s(4), true})
        .add(GroupsSet{cls, block, {{s(0), StudentId("who"), s(0)}, {s(1), s(0), s(4)}, {}}});
    CHECK(story.here().groups == Groups{{s(0)}, {s(1)}, {}});
}

TEST_CASE("a chart keeps its shape; a center that is not there becomes none") {
    Story story;
    story.add(ChartSet{cls, block, {{k(0), CenterId("gone")}, {CenterId{}, k(2)}}});
    CHECK(story.here().chart == Chart{{k(0), {}}, {{}, k(2)}});
}

TEST_CASE("pairs are kept once, in order, until taken away") {
    Story story;
    story.add(PairRuled{cls, s(3), s(2), PairRule::apart})
        .add(PairRuled{cls, s(1), s(0), PairRule::together})
        .add(PairRuled{cls, s(2), s(3), PairRule::together})
        .add(PairRuled{cls, s(2), s(2), PairRule::apart})
        .add(PairRuled{cls, s(2), StudentId("who"), PairRule::apart});
    CHECK(story.now().pairs ==
          std::vector<Pair>{{s(0), s(1), PairRule::together}, {s(2), s(3), PairRule::together}});
    CHECK(story.now().rule_between(s(3), s(2)) == PairRule::together);
    story.add(PairRuled{cls, s(3), s(2), PairRule::none});
    CHECK(story.now().pairs.size() == 1);
}

TEST_CASE("a center is set in place and stays closed until opened") {
    Story story;
    story.add(CenterClosed{cls, block, k(1), true})
        .add(CenterSet{cls, block, k(1), "device", SkillId("x9"), "New", "", ""})
        .add(CenterSet{cls, block, CenterId("more"), "teacher", {}, "", "", ""})
        .add(CenterSet{cls, block, CenterId{}, "teacher", {}, "", "", ""});
    const Block b = story.here();
    REQUIRE(b.centers.size() == 4);
    CHECK(b.centers[1].title == "New");
    CHECK(b.centers[1].closed);
    CHECK(b.centers[3].id == CenterId("more"));
    CHECK(b.centers[1].holds == 1);
    story.add(CenterSet{cls, block, k(1), "device", SkillId("x9"), "New", "", "", 2});
    CHECK(story.here().centers[1].holds == 2);
}

TEST_CASE("skills, own skills, time and devices are set as a whole") {
    Story story;
    story.add(SkillsChosen{cls, block, {SkillId("b"), SkillId("a"), SkillId("b"), {}}})
        .add(OwnSkillSet{cls, SkillId("mine"), "Mine", 6})
        .add(OwnSkillSet{cls, SkillId("mine"), "Mine too", 7})
        .add(TimeSet{cls, block, {{{2026, 12, 1}, 550, 605}}, {3, 12, 2, 3, 4}})
        .add(DevicesSet{cls, block, 6})
        .add(BlockMade{cls, block, "Fractions again"});
    CHECK(story.here().skills == std::vector<SkillId>{SkillId("b"), SkillId("a")});
    CHECK(story.now().own_skills ==
          std::vector<OwnSkill>{{SkillId("mine"), "Mine too", 7, "", {}, {}}});
    CHECK(story.here().periods.size() == 1);
    CHECK(story.here().timing.rounds == 3);
    CHECK(story.here().devices == 6);
    CHECK(story.now().blocks.size() == 1);
    CHECK(story.here().title == "Fractions again");
}

TEST_CASE("a look leaves a mark with its circumstances and clears the flag") {
    Story story;
    story.add(FlagSet{cls, s(1), true}).add(FlagSet{cls, s(2), true}).add(FlagSet{cls, s(1), true});
    const auto first = story.now().flags;
    REQUIRE(first.size() == 2);
    CHECK(first[0].student == s(1));
    CHECK(first[0].raised_ms < first[1].raised_ms);
    story.add(look(1));
    REQUIRE(story.now().flags.size() == 1);
    CHECK(story.now().flags[0].student == s(2));
    const Mark mark = story.now().marks.at(0);
    CHECK(mark.student == s(1));
    CHECK(mark.block == block);
    CHECK(mark.center == k(1));
    CHECK(mark.round == 2);
    CHECK(mark.level == Level::shaky);
    CHECK(mark.help == Help::hint);
    CHECK(mark.at_ms == story.last_ms());
    story.add(FlagSet{cls, s(2), false}).add(look(9));
    CHECK(story.now().flags.empty());
    CHECK(story.now().marks.size() == 1);
}

TEST_CASE("absence is a state, not a count, and outlives the day's lesson") {
    Story story;
    story.add(AbsenceSet{cls, block, s(1), true})
        .add(AbsenceSet{cls, block, s(1), true})
        .add(AbsenceSet{cls, block, StudentId("who"), true})
        .add(LessonEnded{cls, block})
        .add(LessonStarted{cls, block, 1, 3, 0});
    CHECK(story.here().absent == std::vector<StudentId>{s(1)});
    story.add(AbsenceSet{cls, block, s(1), false});
    CHECK(story.here().absent.empty());
}

TEST_CASE("a lesson goes through its phases and counts the rounds that were worked") {
    Story story;
    story.add(LessonStarted{cls, block, 1, 3, 90'000});
    CHECK(story.here().lesson.phase == Phase::opening);
    CHECK(story.here().lesson.round == 1);
    CHECK(story.here().lesson.last_round == 3);
    CHECK(story.here().lesson.started_ms == story.last_ms());
    CHECK(story.here().lesson.phase_ends_ms == 90'000);
    story.add(PhaseBegan{cls, block, Phase::working, 1, 200'000});
    CHECK(story.here().rounds_done == 0);
    story.add(PhaseBegan{cls, block, Phase::moving, 2, 210'000});
    CHECK(story.here().rounds_done == 1);
    CHECK(story.here().lesson.round == 2);
    story.add(PhaseBegan{cls, block, Phase::working, 2, 300'000});
    CHECK(story.here().rounds_done == 1);
    story.add(PhaseBegan{cls, block, Phase::working, 3, 400'000});
    CHECK(story.here().rounds_done == 2);
    story.add(PhaseBegan{cls, block, Phase::working, 2, 400'000});
    CHECK(story.here().rounds_done == 2);
    story.add(PhaseBegan{cls, block, Phase::closing, 2, 500'000});
    CHECK(story.here().rounds_done == 2);
    story.add(LessonEnded{cls, block});
    CHECK(story.here().lesson.phase == Phase::ended);
    CHECK_FALSE(story.here().lesson.running());
    CHECK(story.here().rounds_done == 2);
    story.add(LessonStarted{cls, block, 3, 4, 0});
    CHECK(story.here().lesson.phase == Phase::working);
    CHECK(story.here().lesson.round == 3);
    story.add(LessonEnded{cls, block});
    CHECK(story.here().rounds_done == 3);
}

TEST_CASE("pause, more time and going on") {
    Story story;
    story.add(LessonStarted{cls, block, 1, 3, 0})
        .add(PhaseBegan{cls, block, Phase::working, 1, 200'000})
        .add(TimeAdded{cls, block, 60'000});
    CHECK(story.here().lesson.phase_ends_ms == 260'000);
    story.add(LessonPaused{cls, block, 50'000}).add(TimeAdded{cls, block, 60'000});
    CHECK(story.here().lesson.paused_left_ms == 110'000);
    CHECK(story.here().lesson.phase_ends_ms == 260'000);
    story.add(TimeAdded{cls, block, -900'000});
    CHECK(story.here().lesson.paused_left_ms == 0);
    CHECK(story.here().lesson.paused());
    story.add(LessonResumed{cls, block, 400'000});
    CHECK_FALSE(story.here().lesson.paused());
    CHECK(story.here().lesson.phase_ends_ms == 400'000);
    story.add(TimeAdded{cls, block, -900'000});
    CHECK(story.here().lesson.phase_ends_ms == 0);
    story.add(LessonPaused{cls, block, -7}).add(PhaseBegan{cls, block, Phase::moving, 2, 9});
    CHECK_FALSE(story.here().lesson.paused());
    story.add(LessonPaused{cls, block, -7});
    CHECK(story.here().lesson.paused_left_ms == 0);
    story.add(LessonEnded{cls, block})
        .add(LessonPaused{cls, block, 7})
        .add(LessonResumed{cls, block, 7})
        .add(TimeAdded{cls, block, 7});
    CHECK_FALSE(story.here().lesson.paused());
    CHECK(story.here().lesson.phase == Phase::ended);
}

TEST_CASE("a change of places is timed without its pauses") {
    Story story;
    story.add(LessonStarted{cls, block, 1, 3, 0})
        .add(PhaseBegan{cls, block, Phase::working, 1, 200'000})
        .add(PhaseBegan{cls, block, Phase::moving, 2, 210'000});
    const std::int64_t began = story.last_ms();
    story.add(LessonPaused{cls, block, 50'000});
    const std::int64_t paused = story.last_ms();
    story.add(DevicesSet{cls, block, 6}).add(LessonResumed{cls, block, 400'000});
    const std::int64_t resumed = story.last_ms();
    CHECK(story.now().moves.empty());
    story.add(PhaseBegan{cls, block, Phase::working, 2, 300'000});
    const std::int64_t took = paused - began + story.last_ms() - resumed;
    REQUIRE(story.now().moves == std::vector<Move>{{story.last_ms(), took, false}});
    story.add(MovePractised{cls, 42'000}).add(MovePractised{cls, -1});
    REQUIRE(story.now().moves.size() == 3);
    CHECK(story.now().moves[1] == Move{story.now().moves[1].at_ms, 42'000, true});
    CHECK(story.now().moves[2].took_ms == 0);
}

TEST_CASE("shared lost minutes count for the day only") {
    Story story;
    story.add(RoundsRetimed{cls, block, 600'000});
    CHECK(story.here().lesson.round_ms == 0);
    story.add(LessonStarted{cls, block, 1, 3, 0}).add(RoundsRetimed{cls, block, 600'000});
    CHECK(story.here().lesson.round_ms == 600'000);
    story.add(LessonEnded{cls, block}).add(LessonStarted{cls, block, 2, 3, 0});
    CHECK(story.here().lesson.round_ms == 0);
}

TEST_CASE("notes and procedures are kept as they were written, tidied") {
    Story story;
    story.add(Noted{cls, block, s(1), SkillId("mean"), "  adds the   zeros \n then divides "})
        .add(Noted{cls, block, StudentId("who"), {}, "nobody"})
        .add(Noted{cls, block, s(1), {}, "   "})
        .add(ProceduresSet{cls, "Sit.\n Read. "});
    REQUIRE(story.now().notes.size() == 1);
    CHECK(story.now().notes[0].text == "adds the zeros\nthen divides");
    CHECK(story.now().notes[0].student == s(1));
    CHECK(story.now().notes[0].at_ms == story.last_ms() - 3000);
    CHECK(story.now().procedures == "Sit.\nRead.");
    story.add(ProceduresSet{cls, ""});
    CHECK(story.now().procedures.empty());
}

TEST_CASE("what names something unknown is passed over") {
    const std::string before = canonical(fold({}));
    Story story;
    const std::string there = canonical({{story.now()}});
    const ClassId no("nobody");
    const BlockId none("none");
    story.add(ClassRenamed{no, "A", 6})
        .add(StudentAdded{no, s(1), "A", ""})
        .add(StudentRenamed{cls, StudentId("who"), "A"})
        .add(StudentLeft{cls, StudentId("who"), true})
        .add(CenterClosed{cls, block, CenterId("gone"), true})
        .add(ChartSet{cls, none, {{k(0)}}})
        .add(GroupsSet{no, block, {{s(0)}}})
        .add(LessonStarted{cls, none, 1, 2, 3})
        .add(StudentAdded{cls, StudentId{}, "A", ""})
        .add(ClassMade{ClassId{}, "A", 6})
        .add(OwnSkillSet{cls, SkillId{}, "A", 6})
        .add(CardPictureKept{cls, PictureId{}, 10, 10, "AAAA"})
        .add(BlockMade{cls, BlockId{}, "A"})
        .add(Foreign{"weather_noted", "{}"});
    CHECK(canonical({{story.now()}}) == there);
    CHECK(canonical(fold({})) == before);
}

TEST_CASE("the hash of a long record is that of its text") {
    Story story;
    for (int i = 0; i < 400; ++i)
        story.add(Noted{cls, block, s(1), {}, std::string(500, static_cast<char>('a' + i % 26))});
    const State state{{story.now()}};
    REQUIRE(canonical(state).size() > 200'000);
    CHECK(state_hash(state) == bytes_hash(canonical(state)));
}

TEST_CASE("time added again and again never overflows") {
    Story story;
    story.add(LessonStarted{cls, block, 1, 3, std::numeric_limits<std::int64_t>::max()});
    for (int i = 0; i < 3000; ++i)
        story.add(TimeAdded{cls, block, std::numeric_limits<std::int64_t>::max()});
    CHECK(story.here().lesson.phase_ends_ms == max_ms);
    for (int i = 0; i < 3; ++i)
        story.add(TimeAdded{cls, block, std::numeric_limits<std::int64_t>::min()});
    CHECK(story.here().lesson.phase_ends_ms == 0);
}

TEST_CASE("states that differ anywhere have different texts") {
    State a = fold({});
    Story story;
    story.add(look(1)).add(FlagSet{cls, s(2), true});
    a.classes.push_back(story.now());
    const std::string text = canonical(a);
    const auto differs = [&](auto&& change) {
        State b = a;
        change(b.classes[0]);
        return canonical(b) != text;
    };
    CHECK(differs([](Class& c) { c.name += " "; }));
    CHECK(differs([](Class& c) { c.students[0].source_id = "z"; }));
    CHECK(differs([](Class& c) { std::swap(c.students[0], c.students[1]); }));
    CHECK(differs([](Class& c) { c.marks[0].help = Help::none; }));
    CHECK(differs([](Class& c) { c.flags[0].raised_ms += 1; }));
    CHECK(differs([](Class& c) { c.blocks[0].rounds_done = 1; }));
    CHECK(differs([](Class& c) { c.blocks[0].centers[2].closed = true; }));
    CHECK_FALSE(differs([](Class& c) { c.marks[0].event += 1; }));
}
