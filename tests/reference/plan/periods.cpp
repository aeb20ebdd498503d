// Period arithmetic: rotations = floor((T - opening - closing + move) / (station + move)).
// Common practice, no source: about 15 minutes a station, at most four students at one.
#include <doctest/doctest.h>

#include "plan/fit.h"
#include "plan/group.h"

using namespace tallyround;

namespace {

plan::FitRequest lesson(int minutes, int rounds) {
    plan::FitRequest r;
    r.periods = {{{2026, 12, 1}, 9 * 3600, 9 * 3600 + minutes * 60, {}}};
    r.rounds = rounds;
    r.round_seconds = 15 * 60;
    r.move_seconds = 2 * 60;
    r.opening_seconds = 5 * 60;
    r.closing_seconds = 5 * 60;
    return r;
}

}  // namespace

TEST_CASE("stations of 15 minutes in periods of usual lengths") {
    struct Case {
        int minutes, rotations;
    };
    for (const Case c : {Case{45, 2}, Case{50, 2}, Case{60, 3}, Case{75, 3}, Case{90, 4}}) {
        CAPTURE(c.minutes);
        CHECK(plan::rounds_that_fit(lesson(c.minutes, 1), 15 * 60) == c.rotations);
    }
}

TEST_CASE("six stations of 15 minutes take 90 minutes, 100 with moves") {
    auto r = lesson(90, 6);
    r.opening_seconds = r.closing_seconds = r.move_seconds = 0;
    CHECK(plan::fit(r)->fits);
    r.move_seconds = 120;
    CHECK_FALSE(plan::fit(r)->fits);
    r.periods[0].end = r.periods[0].start + 100 * 60;
    const auto exact = plan::fit(r);
    CHECK(exact->fits);
    CHECK(exact->spare_seconds[0] == 0);
    r.periods[0].end -= 1;
    CHECK_FALSE(plan::fit(r)->fits);
    // With opening and closing a 90-minute block holds four: two lessons are needed.
    const auto two = plan::fit(lesson(90, 6));
    CHECK_FALSE(two->fits);
    CHECK(two->periods_needed == 2);
}

TEST_CASE("24 students need six groups of at most four") {
    plan::GroupProblem p;
    p.students = 24;
    CHECK(plan::solve_groups(p).best()->groups.size() == 6);
}
