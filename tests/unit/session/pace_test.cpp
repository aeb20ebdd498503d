#include "session/pace.h"
#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

constexpr std::int64_t minute = 60'000;
constexpr std::int64_t bell_ms = monday_ms + 65 * minute;  // 10:05 where 9:00 is monday_ms

/// 9:10 to 10:05: opening 3, rounds of 12, moves of 2, closing 4: three rounds and 8 to spare.
Classroom started() {
    Classroom room(24);
    room.ready();
    room.now = monday_ms + 10 * minute;
    room.ok(StartLesson{room.cls, room.block});
    return room;
}

void next_at(Classroom& room, std::int64_t ms) {
    room.now = ms;
    room.ok(NextPhase{room.cls, room.block});
}

}  // namespace

TEST_CASE("a lesson on time ends before its bell") {
    Classroom room = started();
    const Pace p = pace(room.b(), monday_ms + 10 * minute, 0);
    REQUIRE(p.known);
    CHECK(p.bell_ms == bell_ms);
    REQUIRE(p.ahead.size() == 3);
    CHECK(p.ahead[0].start_ms == monday_ms + 13 * minute);
    CHECK(p.ahead[1].start_ms == monday_ms + 27 * minute);
    CHECK(p.ahead[2].end_ms == monday_ms + 53 * minute);
    CHECK(p.ends_ms == monday_ms + 57 * minute);
    CHECK(p.late_ms() == 0);
}

TEST_CASE("minutes lost are shared over the rounds ahead so that the bell is met") {
    Classroom room = started();
    next_at(room, monday_ms + 13 * minute);  // round 1
    next_at(room, monday_ms + 36 * minute);  // eleven minutes over: moving to round 2
    const Pace late = pace(room.b(), room.now - 1000, 0);
    REQUIRE(late.ahead.size() == 2);
    CHECK(late.ahead[0].number == 2);
    CHECK(late.ends_ms == monday_ms + (36 + 2 + 12 + 2 + 12 + 4) * minute);
    CHECK(late.late_ms() == 3 * minute);
    CHECK(late.shared_round_ms == 10 * minute + 30'000);
    const Pace shared = pace_with(room.b(), room.now - 1000, 0, late.shared_round_ms);
    CHECK(shared.late_ms() == 0);
    CHECK(shared.bell_ms - shared.ends_ms < 10'000);

    const auto said =
        room.ok(RetimeRounds{room.cls, room.block, int(late.shared_round_ms / 1000)}).said;
    CHECK(said == "The rounds left take 10 min 30 s each.");
    const std::int64_t at = room.now;
    room.ok(NextPhase{room.cls, room.block});
    CHECK(room.b().lesson.phase_ends_ms == at + 10 * minute + 30'000);
    room.ok(Undo{});
    room.ok(Undo{});
    CHECK(round_length_ms(room.b()) == 12 * minute);
}

TEST_CASE("the bell is found where the teacher is, hours away from UTC") {
    Classroom room = started();
    // The same lesson in a place 3 hours behind: the clocks there show 6:10, so the bell of 10:05
    // is at 13:05 UTC.
    CHECK(pace(room.b(), room.now, -180).bell_ms == bell_ms + 180 * minute);
    // A day on which the block has no period has no bell.
    CHECK_FALSE(pace(room.b(), room.now, -60 * 10).known);
}

TEST_CASE("a lesson begun after its bell has none") {
    Classroom room(24);
    room.ready();
    room.now = bell_ms;
    room.ok(StartLesson{room.cls, room.block});
    CHECK_FALSE(pace(room.b(), room.now, 0).known);
    CHECK(pace(room.b(), room.now, 0).late_ms() == 0);
}

TEST_CASE("with no rounds ahead nothing can be shared") {
    Classroom room = started();
    next_at(room, monday_ms + 13 * minute);
    for (int i = 0; i < 4; ++i)
        room.ok(NextPhase{room.cls, room.block});
    REQUIRE(room.b().lesson.round == 3);
    const Pace p = pace(room.b(), bell_ms, 0);
    CHECK(p.ahead.empty());
    CHECK(p.shared_round_ms == 0);
    CHECK(p.late_ms() > 0);
    room.ok(EndLesson{room.cls, room.block});
    CHECK_FALSE(pace(room.b(), bell_ms, 0).known);
    CHECK(has(room.refused(RetimeRounds{room.cls, room.block, 600}), "No lesson is running"));
}

TEST_CASE("too late to share: the rounds would have no length") {
    Classroom room = started();
    next_at(room, monday_ms + 62 * minute);
    CHECK(pace(room.b(), room.now, 0).shared_round_ms == 0);
    CHECK(has(room.refused(RetimeRounds{room.cls, room.block, 0}), "60 to 14400 seconds"));
}
