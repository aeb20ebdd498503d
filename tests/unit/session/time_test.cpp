#include "classroom.h"
#include "session/pace.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

constexpr int nine = 9 * 60;
constexpr std::int64_t minute = 60'000;

/// Six centers, rounds of 12, moves of 2, opening 3, closing 4; these periods.
Classroom timed(std::vector<Period> periods, int rounds_a_day = 0) {
    Classroom room(24);
    room.plan();
    Timing timing;
    timing.rounds_a_day = rounds_a_day;
    room.ok(SetTime{room.cls, room.block, std::move(periods), timing});
    room.chart();
    return room;
}

void whole_lesson(Classroom& room) {
    room.ok(StartLesson{room.cls, room.block});
    while (room.b().lesson.running())
        room.ok(NextPhase{room.cls, room.block});
}

const base::Date monday{2026, 11, 30};
const base::Date tuesday{2026, 12, 1};

}  // namespace

TEST_CASE("no round runs across a break, and a lesson takes what is left beside it") {
    // 9:10 to 10:05 alone holds three rounds; an assembly from 9:40 to 9:55 leaves two before it
    // (9:13, 9:27 would end 9:39) and none after (9:55 + 12 + 4 is past the bell).
    Classroom room = timed({{monday, nine + 10, nine + 65, {{nine + 40, nine + 55}}},
                            {tuesday, nine + 10, nine + 65}});
    const Fitted fit = fit_block(room.b());
    REQUIRE(fit.rounds.size() == 5);
    CHECK(fit.rounds[0].start_second == (nine + 13) * 60);
    CHECK(fit.rounds[1].end_second == (nine + 39) * 60);
    CHECK(fit.rounds[2].date == tuesday);
    CHECK_FALSE(fit.fits);
    CHECK(next_rounds(room.b()) == std::pair(1, 2));
    whole_lesson(room);
    CHECK(room.b().rounds_done == 2);
    CHECK(next_rounds(room.b()) == std::pair(3, 5));
}

TEST_CASE("at most so many rounds a day, over all the periods of that day") {
    // Two periods of three rounds on Monday and two on Tuesday, at most four rounds a day.
    Classroom room = timed({{monday, nine, nine + 55},
                            {monday, nine + 120, nine + 175},
                            {tuesday, nine, nine + 55},
                            {tuesday, nine + 120, nine + 175}},
                           4);
    const Fitted fit = fit_block(room.b());
    REQUIRE(fit.fits);
    CHECK(std::count_if(fit.rounds.begin(), fit.rounds.end(),
                        [](const RoundTime& r) { return r.date == monday; }) == 4);
    CHECK(next_rounds(room.b()) == std::pair(1, 3));
    whole_lesson(room);
    CHECK(next_rounds(room.b()) == std::pair(4, 4));
    whole_lesson(room);
    CHECK(room.b().rounds_done == 4);
    CHECK(next_rounds(room.b()) == std::pair(5, 6));
}

TEST_CASE("bad breaks are refused with a sentence, good ones are put in order") {
    Classroom room(8);
    room.plan({"mean", "median"});
    const auto with = [&](std::vector<Break> breaks) {
        return SetTime{
            room.cls, room.block, {{monday, nine, nine + 55, std::move(breaks)}}, Timing{}};
    };
    CHECK(has(room.refused(with({{nine + 20, nine + 10}})), "starts at 09:20 has to end after"));
    CHECK(has(room.refused(with({{nine - 10, nine + 10}})), "from 08:50 to 09:10 does not lie"));
    CHECK(has(room.refused(with({{nine + 50, nine + 60}})), "inside the lesson from 09:00"));
    CHECK(has(room.refused(with({{nine + 10, nine + 20}, {nine + 15, nine + 25}})),
              "Two breaks overlap at 09:15"));
    Timing timing;
    timing.rounds_a_day = -1;
    CHECK(has(room.refused(SetTime{room.cls, room.block, {}, timing}), "Rounds a day"));
    room.ok(with({{nine + 40, nine + 45}, {nine + 10, nine + 20}}));
    REQUIRE(room.b().periods.front().breaks.size() == 2);
    CHECK(room.b().periods.front().breaks.front().start_minute == nine + 10);
}

TEST_CASE("a running lesson plans its rounds ahead clear of the break") {
    Classroom room = timed(
        {{monday, nine + 10, nine + 85, {{nine + 40, nine + 55}}}, {tuesday, nine, nine + 99}});
    room.now = monday_ms + 10 * minute;
    room.ok(StartLesson{room.cls, room.block});
    const Pace p = pace(room.b(), room.now - 1000, 0);
    REQUIRE(p.ahead.size() >= 3);
    CHECK(p.ahead[1].end_ms == monday_ms + 39 * minute);
    CHECK(p.ahead[2].start_ms == monday_ms + 55 * minute);
    CHECK(p.ends_ms <= p.bell_ms);
    // Were the rounds as long as `shared_round_ms` says, the bell would still be met, and not with
    // five seconds more each.
    const auto ends = [&](std::int64_t ms) {
        return pace_with(room.b(), room.now - 1000, 0, ms).ends_ms;
    };
    CHECK(ends(p.shared_round_ms) <= p.bell_ms);
    CHECK(ends(p.shared_round_ms + 5000) > p.bell_ms);
}
