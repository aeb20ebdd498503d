#include "session/board.h"

#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

constexpr std::int64_t minute = 60'000;

}  // namespace

TEST_CASE("the board follows the lesson: start, round, move, tidy up") {
    Classroom room(24);
    room.ready();
    room.now = monday_ms + 10 * minute;
    room.ok(StartLesson{room.cls, room.block});
    const auto board = [&] { return board_picture(room.c(), room.b(), room.now, 0); };
    BoardPicture p = board();
    CHECK(p.title == "We start");
    REQUIRE(p.rows.size() == 6);
    CHECK(p.rows[2].now == room.b().chart[2][0]);
    CHECK(p.rows[2].next == room.b().chart[2][1]);
    CHECK(p.rows[2].names.size() == 4);
    CHECK(p.left_ms <= 3 * minute);
    room.ok(NextPhase{room.cls, room.block});
    p = board();
    CHECK(p.title == "Round 1 of 3");
    CHECK(p.doing.empty());
    CHECK(p.left_ms == 12 * minute - 1000);
    room.ok(NextPhase{room.cls, room.block});
    p = board();
    CHECK(p.title == "Move to round 2");
    CHECK(p.doing == "go to");
    CHECK(p.rows[0].now == room.b().chart[0][1]);
    for (int i = 0; i < 3; ++i)
        room.ok(NextPhase{room.cls, room.block});  // round 2, move, round 3
    p = board();
    CHECK(p.title == "Round 3 of 3");
    CHECK_FALSE(p.has_next);
    CHECK(p.rows[0].next.empty());
    room.ok(NextPhase{room.cls, room.block});
    CHECK(board().title == "Tidy up");
}

TEST_CASE("without a running lesson the bell times tell the round, wherever the device is") {
    Classroom room(24);
    room.ready();
    // 9:10, opening 3, rounds of 12, moves of 2: round 2 runs from 9:27 to 9:39.
    BoardPicture p = board_picture(room.c(), room.b(), monday_ms + 30 * minute, 0);
    CHECK(p.by_plan);
    CHECK(p.title == "Round 2");
    CHECK(p.left_ms == 9 * minute);
    CHECK(p.rows[1].now == room.b().chart[1][1]);
    CHECK(p.rows[1].next == room.b().chart[1][2]);
    // In the move before it the groups are told where to go and how long they have.
    p = board_picture(room.c(), room.b(), monday_ms + 26 * minute, 0);
    CHECK(p.title == "Round 2 at 09:27");
    CHECK(p.left_ms == minute);
    // The same moment read five hours to the west is the middle of the night.
    p = board_picture(room.c(), room.b(), monday_ms + 30 * minute, -300);
    CHECK(p.title == "Round 1 at 09:13");
    // The next day goes on with round 4.
    p = board_picture(room.c(), room.b(), monday_ms + (24 * 60 + 14) * minute, 0);
    CHECK(p.title == "Round 4");
    // After the bell there is nothing to count.
    p = board_picture(room.c(), room.b(), monday_ms + 300 * minute, 0);
    CHECK_FALSE(p.counting);
    CHECK(p.title == "Next: round 1");
}

TEST_CASE("a board without a chart has no rows") {
    Classroom room(8);
    room.plan({"mean"});
    CHECK(board_picture(room.c(), room.b(), room.now, 0).rows.empty());
}
