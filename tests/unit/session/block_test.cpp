#include <set>

#include "classroom.h"
#include "model/kinds.h"

using namespace tallyround;
using namespace tallyround::testing;

TEST_CASE("every chosen skill gets one center, one of them led by the teacher") {
    Classroom room(24);
    room.plan();
    REQUIRE(room.b().centers.size() == 6);
    std::multiset<std::string> kinds;
    for (std::size_t i = 0; i < 6; ++i) {
        CHECK(room.b().centers[i].skill == room.b().skills[i]);
        CHECK_FALSE(room.b().centers[i].instructions.empty());
        kinds.insert(room.b().centers[i].kind);
    }
    CHECK(kinds.count("teacher") == 1);
    CHECK(std::set<std::string>(kinds.begin(), kinds.end()).size() == 6);
    CHECK(room.ok(AddCentersForSkills{room.cls, room.block}).events.empty());
}

TEST_CASE("devices are not planned for more groups than they reach") {
    Classroom room(24);
    room.block = BlockId(room.ok(MakeBlock{room.cls, "", {}}).made.front());
    CHECK(room.b().title == "Block 1");
    room.ok(SetDevices{room.cls, room.block, 3});
    for (const char* skill : {"mean", "median", "integer-order", "powers-value", "like-terms",
                              "unit-rate", "ratio-write", "area-triangle", "mixed-add"})
        room.ok(ChooseSkill{room.cls, room.block, SkillId(skill), true});
    room.ok(AddCentersForSkills{room.cls, room.block});
    for (const Center& center : room.b().centers)
        CHECK(center.kind != "device");
}

TEST_CASE("a center is edited within limits and keeps lines") {
    Classroom room(4);
    room.plan({"mean"});
    Center center = room.b().centers.front();
    center.title = "  Corner table ";
    center.instructions = "\n Read. \n\n Write.\x01 \n\n";
    room.ok(EditCenter{room.cls, room.block, center});
    CHECK(room.b().centers.front().title == "Corner table");
    CHECK(room.b().centers.front().instructions == "Read.\n\nWrite.");
    CHECK(center_title(room.b().centers.front()) == "Corner table");
    center.kind = "castle";
    CHECK(has(room.refused(EditCenter{room.cls, room.block, center}), "Kind:"));
    center = room.b().centers.front();
    center.materials = std::string(1001, 'x');
    CHECK(has(room.refused(EditCenter{room.cls, room.block, center}), "Materials: The text has"));
    CHECK(has(room.refused(AddCenter{room.cls, room.block, "cards", {}}), "Choose the skill"));
}

TEST_CASE("a new block like an old one copies centers, timing and skills, not what happened") {
    Classroom room(12);
    room.ready();
    room.ok(CloseCenter{room.cls, room.block, room.b().centers[1].id, true});
    const Block old = room.b();
    const auto made = room.ok(MakeBlock{room.cls, "Again", old.id}).made;
    const Block& copy = room.b();
    CHECK(copy.id.str() == made.front());
    CHECK(copy.skills == old.skills);
    CHECK(copy.timing == old.timing);
    CHECK(copy.devices == old.devices);
    CHECK(copy.periods.empty());
    CHECK(copy.groups.empty());
    CHECK(copy.chart.empty());
    REQUIRE(copy.centers.size() == 5);
    CHECK(copy.centers[1].skill == old.centers[2].skill);
    CHECK(copy.centers[0].id != old.centers[0].id);
}

TEST_CASE("a block from proposals is made in one go and taken back in one") {
    Classroom room(12);
    room.ready();
    const Block old = room.b();
    const std::string before = room.hash();
    const auto happened = room.ok(MakeBlockFrom{
        room.cls, "", old.id, {{SkillId("mean"), "cards"}, {SkillId("percent-of"), "teacher"}}});
    const Block& made = room.b();
    CHECK(made.id.str() == happened.made.front());
    CHECK(made.title == "Block 2");
    CHECK(made.skills == std::vector<SkillId>{SkillId("mean"), SkillId("percent-of")});
    REQUIRE(made.centers.size() == 2);
    CHECK(made.centers[0].kind == "cards");
    CHECK(made.centers[1].kind == "teacher");
    CHECK(made.centers[1].skill == SkillId("percent-of"));
    CHECK_FALSE(made.centers[1].instructions.empty());
    CHECK(made.devices == old.devices);
    CHECK(made.timing.round_minutes == old.timing.round_minutes);
    CHECK(wished_rounds(made) == 2);
    CHECK(has(happened.said, "2 centers"));
    CHECK(room.session.undo_label() == "new block Block 2");
    room.ok(Undo{});
    CHECK(room.hash() == before);
    CHECK(has(room.refused(MakeBlockFrom{room.cls, "", old.id, {}}), "Tick"));
    CHECK(has(room.refused(MakeBlockFrom{room.cls, "", {}, {{SkillId("nonsense"), "cards"}}}),
              "nonsense"));
    CHECK(has(room.refused(MakeBlockFrom{room.cls, "", {}, {{SkillId("mean"), "nonsense"}}}),
              "kind"));
}

TEST_CASE("times that cannot be are refused by the name of their field") {
    Classroom room(4);
    room.plan({"mean"});
    const auto with = [&](auto change) {
        SetTime wish{room.cls, room.block, {{{2026, 12, 1}, 550, 605}}, {}};
        wish.timing.rounds = 3;
        change(wish);
        return wish;
    };
    room.ok(with([](SetTime&) {}));
    CHECK(has(room.refused(with([](SetTime& w) { w.periods[0].end_minute = 540; })),
              "Period 1: It ends at 09:00, before it starts at 09:10"));
    CHECK(has(room.refused(with([](SetTime& w) {
        w.periods[0].date = {2026, 2, 30};
    })),
              "no such day"));
    CHECK(has(room.refused(with([](SetTime& w) { w.timing.rounds = 0; })), "Rounds:"));
    CHECK(has(room.refused(with([](SetTime& w) { w.timing.rounds = -1; })), "Rounds:"));
    CHECK(has(room.refused(with([](SetTime& w) { w.timing.round_minutes = 0; })),
              "Round minutes: 0 is not possible. Choose 1 to 240 minutes"));
    CHECK(has(room.refused(with([](SetTime& w) { w.timing.move_minutes = -2; })), "Move minutes"));
    CHECK(has(room.refused(with([](SetTime& w) { w.timing.opening_minutes = -1; })), "Opening"));
    CHECK(has(room.refused(with([](SetTime& w) { w.timing.closing_minutes = 999; })), "Closing"));
    CHECK(has(room.refused(with([](SetTime& w) {
        w.periods.push_back({{2026, 12, 1}, 600, 660});
    })),
              "Tue 1 Dec 09:10 to 10:05 and Tue 1 Dec 10:00 to 11:00 overlap"));
}

TEST_CASE("periods are kept in order of time") {
    Classroom room(4);
    room.plan({"mean"});
    room.ok(
        SetTime{room.cls,
                room.block,
                {{{2026, 12, 2}, 550, 605}, {{2026, 12, 1}, 700, 750}, {{2026, 12, 1}, 550, 605}},
                {}});
    CHECK(room.b().periods[0].start_minute == 550);
    CHECK(room.b().periods[1].start_minute == 700);
    CHECK(room.b().periods[2].date == base::Date{2026, 12, 2});
}

TEST_CASE("six rounds of fifteen minutes take 90 minutes without moves and 100 with them") {
    // Common practice, no source: about 15 minutes a center, six centers for 24 students.
    model::Timing timing{6, 15, 0, 0, 0};
    CHECK(fit_wish({{{2026, 12, 1}, 540, 630}}, timing).fits);
    CHECK_FALSE(fit_wish({{{2026, 12, 1}, 540, 629}}, timing).fits);
    timing.move_minutes = 2;
    CHECK(fit_wish({{{2026, 12, 1}, 540, 640}}, timing).fits);
    const Fitted short_one = fit_wish({{{2026, 12, 1}, 540, 639}}, timing);
    CHECK_FALSE(short_one.fits);
    CHECK(short_one.rounds_that_fit == 5);
    CHECK(short_one.longest_round_minutes == 14);
    CHECK(has(short_one.sentence, "do not fit"));
}

TEST_CASE("a block without a chosen number of rounds takes one for each open center") {
    Classroom room(24);
    room.plan();
    CHECK(wished_rounds(room.b()) == 6);
    room.ok(CloseCenter{room.cls, room.block, room.b().centers[0].id, true});
    CHECK(wished_rounds(room.b()) == 5);
    room.time(3);
    CHECK(wished_rounds(room.b()) == 3);
    const Fitted fitted = fit_block(room.b());
    REQUIRE(fitted.fits);
    CHECK(fitted.rounds[0].start_second == (9 * 60 + 13) * 60);
    CHECK(fitted.sentence == "3 rounds fit on Mon 30 Nov, 09:13 to 09:53.");
}

TEST_CASE("each step names what it waits for") {
    Classroom room(0);
    CHECK(next_step(room.c()) == Step::students);
    CHECK(has(step_needs(room.c(), Step::groups), "students"));
    room.ok(AddStudents{room.cls, {{"Ana", ""}, {"Bo", ""}}});
    CHECK(next_step(room.c()) == Step::skills);
    room.block = BlockId(room.ok(MakeBlock{room.cls, "B", {}}).made.front());
    CHECK(next_step(room.c()) == Step::skills);
    CHECK(has(step_needs(room.c(), Step::centers), "skill"));
    room.ok(ChooseSkill{room.cls, room.block, SkillId("mean"), true});
    CHECK(next_step(room.c()) == Step::centers);
    room.ok(AddCentersForSkills{room.cls, room.block});
    CHECK(next_step(room.c()) == Step::fit);
    room.time();
    CHECK(next_step(room.c()) == Step::groups);
    CHECK(has(step_needs(room.c(), Step::walk), "groups"));
    room.ok(MakeGroups{room.cls, room.block});
    CHECK(next_step(room.c()) == Step::chart);
    room.ok(MakeChart{room.cls, room.block});
    CHECK(next_step(room.c()) == Step::walk);
    CHECK(step_needs(room.c(), Step::walk).empty());
    room.ok(StartLesson{room.cls, room.block});
    room.ok(NextPhase{room.cls, room.block});
    room.ok(EndLesson{room.cls, room.block});
    CHECK(next_step(room.c()) == Step::review);
}
