#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

constexpr std::int64_t minute = 60'000;

/// Six centers, six rounds of 12 minutes, three of them on each of two days.
Classroom two_days() {
    Classroom room(24);
    room.ready();
    return room;
}

}  // namespace

TEST_CASE("a lesson needs groups and a chart") {
    Classroom room(8);
    room.plan();
    CHECK(has(room.refused(StartLesson{room.cls, room.block}), "Make the groups first"));
    room.ok(MakeGroups{room.cls, room.block});
    CHECK(has(room.refused(StartLesson{room.cls, room.block}), "Make the chart first"));
    CHECK(has(room.refused(NextPhase{room.cls, room.block}), "No lesson is running"));
    CHECK(has(room.refused(PauseLesson{room.cls, room.block}), "No lesson is running"));
}

TEST_CASE("one day runs through opening, rounds, moves, closing and end") {
    Classroom room = two_days();
    CHECK(next_rounds(room.b()) == std::pair(1, 3));
    std::int64_t at = room.now;
    room.ok(StartLesson{room.cls, room.block});
    CHECK(room.b().lesson.phase == Phase::opening);
    CHECK(room.b().lesson.phase_ends_ms == at + 3 * minute);
    const auto next = [&](Phase phase, int round, int minutes) {
        at = room.now;
        room.ok(NextPhase{room.cls, room.block});
        CHECK(room.b().lesson.phase == phase);
        CHECK(room.b().lesson.round == round);
        CHECK(room.b().lesson.phase_ends_ms == at + minutes * minute);
    };
    next(Phase::working, 1, 12);
    CHECK(has(room.refused(StartLesson{room.cls, room.block}), "running already"));
    CHECK(has(room.refused(MakeGroups{room.cls, room.block}), "A lesson is running"));
    CHECK(has(room.refused(MakeBlock{room.cls, "X", {}}), "End it first"));
    CHECK(has(room.refused(ArchiveClass{room.cls, true}), "End it first"));
    next(Phase::moving, 2, 2);
    CHECK(room.b().rounds_done == 1);
    next(Phase::working, 2, 12);
    next(Phase::moving, 3, 2);
    next(Phase::working, 3, 12);
    next(Phase::closing, 3, 4);
    CHECK(room.b().rounds_done == 3);
    const auto said = room.ok(NextPhase{room.cls, room.block}).said;
    CHECK(room.b().lesson.phase == Phase::ended);
    CHECK(said == "The lesson has ended. 3 rounds are left for another day.");
}

TEST_CASE("the second day goes on where the first stopped") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    while (room.b().lesson.running())
        room.ok(NextPhase{room.cls, room.block});
    CHECK(next_rounds(room.b()) == std::pair(4, 6));
    CHECK(next_step(room.c()) == Step::walk);
    room.now += 24 * 60 * minute;
    room.ok(StartLesson{room.cls, room.block});
    CHECK(room.b().lesson.first_round == 4);
    CHECK(room.b().lesson.last_round == 6);
    while (room.b().lesson.running())
        room.ok(NextPhase{room.cls, room.block});
    CHECK(room.b().rounds_done == 6);
    CHECK(next_rounds(room.b()) == std::pair(0, 0));
    CHECK(has(room.refused(StartLesson{room.cls, room.block}), "All 6 rounds are done"));
}

TEST_CASE("a day cut short leaves its rounds to the next, which takes what it holds") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    for (int i = 0; i < 4; ++i)
        room.ok(NextPhase{room.cls, room.block});  // moving to round 3
    room.ok(EndLesson{room.cls, room.block});
    CHECK(room.b().rounds_done == 2);
    CHECK(next_rounds(room.b()) == std::pair(3, 5));
}

TEST_CASE("the period of today counts when an earlier day was missed") {
    Classroom room(24);
    room.plan();
    room.ok(
        SetTime{room.cls, room.block, {{{2026, 11, 30}, 550, 605}, {{2026, 12, 1}, 550, 580}}, {}});
    room.chart();
    CHECK(next_rounds(room.b()) == std::pair(1, 3));
    const std::int64_t next_day = room.now + 24 * 60 * minute;
    CHECK(next_rounds(room.b(), next_day) == std::pair(1, 1));
    // 09:10 in Auckland, UTC+13, is 20:10 UTC of the day before.
    const std::int64_t auckland = room.now + 11 * 60 * minute;
    CHECK(next_rounds(room.b(), auckland) == std::pair(1, 1));
    // 09:10 in Honolulu, UTC-10, is 19:10 UTC of the same day.
    CHECK(next_rounds(room.b(), room.now + 10 * 60 * minute) == std::pair(1, 3));
}

TEST_CASE("without opening, moves and closing only rounds are left") {
    Classroom room(8);
    room.plan({"mean", "median"});
    room.ok(SetTime{room.cls, room.block, {{{2026, 11, 30}, 550, 605}}, {2, 10, 0, 0, 0}});
    room.chart();
    room.ok(StartLesson{room.cls, room.block});
    CHECK(room.b().lesson.phase == Phase::working);
    CHECK(room.b().lesson.round == 1);
    room.ok(NextPhase{room.cls, room.block});
    CHECK(room.b().lesson.phase == Phase::working);
    CHECK(room.b().lesson.round == 2);
    CHECK(room.b().rounds_done == 1);
    room.ok(NextPhase{room.cls, room.block});
    CHECK(room.b().lesson.phase == Phase::ended);
    CHECK(room.b().rounds_done == 2);
}

TEST_CASE("a pause keeps the time that is left") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    room.ok(NextPhase{room.cls, room.block});
    room.now += 5 * minute;
    const std::int64_t left = left_ms(room.b().lesson, room.now);
    room.ok(PauseLesson{room.cls, room.block});
    CHECK(room.ok(PauseLesson{room.cls, room.block}).events.empty());
    room.now += 60 * minute;
    CHECK(left_ms(room.b().lesson, room.now) == left);
    const std::int64_t at = room.now;
    room.ok(ResumeLesson{room.cls, room.block});
    CHECK(left_ms(room.b().lesson, at) == left);
    CHECK(room.ok(ResumeLesson{room.cls, room.block}).events.empty());
}

TEST_CASE("one minute more counts from the bell, or from now in overtime") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    const std::int64_t bell = room.b().lesson.phase_ends_ms;
    CHECK(room.ok(AddTime{room.cls, room.block, 60}).said == "1 minute more.");
    CHECK(room.b().lesson.phase_ends_ms == bell + minute);
    room.now = bell + 5 * minute;
    const std::int64_t late = room.now;
    room.ok(AddTime{room.cls, room.block, 60});
    CHECK(room.b().lesson.phase_ends_ms == late + minute);
    const std::int64_t at = room.now;
    room.ok(AddTime{room.cls, room.block, -600});
    CHECK(room.b().lesson.phase_ends_ms == at);
    CHECK(has(room.refused(AddTime{room.cls, room.block, 999'999}), "Time:"));
    room.ok(PauseLesson{room.cls, room.block});
    room.ok(AddTime{room.cls, room.block, 90});
    CHECK(room.b().lesson.paused_left_ms == 90'000);
}

TEST_CASE("a mark says what was on screen when the finger went down") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    room.ok(NextPhase{room.cls, room.block});
    const Center& center = room.b().centers[2];
    const PutMark tap{room.cls,  room.block, room.student(3), center.skill,
                      center.id, 1,          Level::shaky,    Help::hint};
    room.ok(NextPhase{room.cls, room.block});
    room.ok(CloseCenter{room.cls, room.block, center.id, true});
    CHECK(room.ok(tap).said == "Student 4: shaky after a hint.");
    const Mark& mark = room.c().marks.back();
    CHECK(mark.round == 1);
    CHECK(mark.center == tap.center);
    CHECK(mark.level == Level::shaky);
    CHECK(mark.help == Help::hint);
    CHECK(has(room.refused(PutMark{room.cls, room.block, room.student(0), {}, {}}), "Choose the"));
    CHECK(has(room.refused(PutMark{room.cls, room.block, room.student(0), SkillId("x"), {}}),
              "no skill \"x\""));
    CHECK(has(room.refused(PutMark{room.cls, room.block, room.student(0), SkillId("mean"),
                                   CenterId("nowhere")}),
              "not in the block"));
}

TEST_CASE("a flag is raised once, a mark answers it and the end of the lesson clears the rest") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    for (const std::size_t i : {0U, 1U, 2U})
        room.ok(SetFlag{room.cls, room.student(i), true});
    CHECK(room.ok(SetFlag{room.cls, room.student(0), true}).events.empty());
    CHECK(room.c().flags.size() == 3);
    room.ok(PutMark{room.cls, room.block, room.student(0), SkillId("mean"), {}});
    room.ok(SetAbsent{room.cls, room.block, room.student(1), true});
    CHECK(room.c().flags.size() == 1);
    room.ok(EndLesson{room.cls, room.block});
    CHECK(room.c().flags.empty());
    CHECK(room.b().absent.empty());  // the next day starts with everyone
    room.ok(Undo{});
    CHECK(room.c().flags.size() == 1);
    CHECK(room.b().absent.size() == 1);
    CHECK(room.b().lesson.phase == Phase::opening);
}

TEST_CASE("fewer rounds than have begun are refused") {
    Classroom room = two_days();
    room.ok(StartLesson{room.cls, room.block});
    for (int i = 0; i < 3; ++i)
        room.ok(NextPhase{room.cls, room.block});
    SetTime wish{room.cls, room.block, room.b().periods, room.b().timing};
    wish.timing.rounds = 1;
    CHECK(has(room.refused(wish), "Round 2 has begun already"));
    wish.timing.rounds = 2;
    room.ok(wish);
    CHECK(room.b().chart.front().size() == 2);
    room.ok(NextPhase{room.cls, room.block});
    CHECK(room.b().lesson.phase == Phase::closing);
}
