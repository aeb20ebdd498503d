#include "classroom.h"
#include "session/procedures.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

MarkGroup everyone(const Classroom& room, Level level) {
    const auto center = center_at(room.b(), 0, 1);
    const auto skill = find_center(room.b(), center)->skill;
    return {room.cls, room.block, skill, center, 1, room.b().groups[0], level};
}

}  // namespace

TEST_CASE("a whole group is marked at once and taken back at once") {
    Classroom room(24);
    room.ready();
    const StudentId early = room.b().groups[0][0];
    const StudentId away = room.b().groups[0][1];
    const auto all = everyone(room, Level::secure);
    room.ok(
        PutMark{room.cls, room.block, early, all.skill, all.center, 1, Level::stuck, Help::none});
    room.ok(SetAbsent{room.cls, room.block, away, true});
    room.ok(MarkGroup(all));
    REQUIRE(room.c().marks.size() == 3);
    CHECK(room.c().marks[0].level == Level::stuck);
    CHECK(room.c().marks[1].level == Level::secure);
    CHECK(room.c().marks[1].student != away);
    CHECK(room.c().marks[2].student != early);
    CHECK(room.session.undo_label() == "2 marks");
    CHECK(has(room.refused(MarkGroup(all)), "has a mark already"));
    room.ok(Undo{});
    CHECK(room.c().marks.size() == 1);
    room.ok(Redo{});
    CHECK(room.c().marks.size() == 3);
}

TEST_CASE("a note is kept and can be taken back") {
    Classroom room(4);
    room.ready();
    const auto said =
        room.ok(WriteNote{room.cls, room.block, room.student(0), {}, " mixes up  rows "}).said;
    CHECK(said == "Note on Student 1 kept.");
    CHECK(room.c().notes.at(0).text == "mixes up rows");
    CHECK(has(room.refused(WriteNote{room.cls, room.block, room.student(0), {}, " "}),
              "Write a few words"));
    CHECK(has(
        room.refused(WriteNote{room.cls, room.block, room.student(0), {}, std::string(501, 'x')}),
        "501 letters"));
    CHECK(room.session.undo_label() == "note on Student 1");
    room.ok(Undo{});
    CHECK(room.c().notes.empty());
}

TEST_CASE("a class has the usual procedures until it has its own") {
    Classroom room(4);
    CHECK(procedures_of(room.c()) == usual_procedures());
    room.ok(SetProcedures{room.cls, "Sit.\n\n Read. "});
    CHECK(procedures_of(room.c()) == "Sit.\n\nRead.");
    room.ok(SetProcedures{room.cls, std::string(usual_procedures())});
    CHECK(room.c().procedures.empty());
}

TEST_CASE("the trend of moves compares medians of five") {
    Classroom room(4);
    CHECK(move_trend(room.c()).sentence == "No move has been timed yet.");
    for (const int seconds : {95, 100, 300, 90, 80})
        room.ok(PractiseMove{room.cls, seconds * 1000});
    CHECK(move_trend(room.c()).sentence == "A move takes about 1 min 35 s.");
    for (const int seconds : {70, 60, 61, 58, 64})
        room.ok(PractiseMove{room.cls, seconds * 1000});
    const MoveTrend t = move_trend(room.c());
    CHECK(t.moves == 10);
    CHECK(t.recent_ms == 61'000);
    CHECK(t.before_ms == 95'000);
    CHECK(t.sentence == "A move takes about 1 min 1 s, 34 seconds less than before.");
    CHECK(has(room.refused(PractiseMove{room.cls, 10}), "Start the clock again"));
}
