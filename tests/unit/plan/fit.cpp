#include "plan/fit.h"

#include <doctest/doctest.h>

using namespace tallyround;
using plan::FitRequest;
using plan::Period;

namespace {

constexpr int minute = 60;

Period period(int day, int start, int end) {
    return {{2026, 12, day}, start * minute, end * minute, {}};
}

FitRequest request(std::vector<Period> periods, int rounds, int round_minutes) {
    FitRequest r;
    r.periods = std::move(periods);
    r.rounds = rounds;
    r.round_seconds = round_minutes * minute;
    return r;
}

}  // namespace

TEST_CASE("rounds start after the opening and are a move apart") {
    FitRequest r = request({period(1, 550, 605)}, 3, 12);
    r.move_seconds = 2 * minute;
    r.opening_seconds = 3 * minute;
    r.closing_seconds = 4 * minute;
    const auto fit = plan::fit(r);
    REQUIRE(fit);
    CHECK(fit->fits);
    REQUIRE(fit->rounds.size() == 3);
    CHECK(fit->rounds[0].start == 553 * minute);
    CHECK(fit->rounds[0].end == 565 * minute);
    CHECK(fit->rounds[1].start == 567 * minute);
    CHECK(fit->rounds[2].end == 593 * minute);
    CHECK(fit->spare_seconds == std::vector<int>{8 * minute});
    CHECK(fit->longest_round_minutes == 14);
    CHECK(fit->periods_needed == 1);
}

TEST_CASE("periods are filled in order and an unused one keeps all its usable time") {
    FitRequest r = request({period(1, 540, 570), period(2, 540, 560), period(3, 540, 585)}, 3, 14);
    r.opening_seconds = 1 * minute;
    r.closing_seconds = 1 * minute;
    const auto fit = plan::fit(r);
    REQUIRE(fit);
    CHECK(fit->fits);
    CHECK(fit->rounds[1].period == 0);
    CHECK(fit->rounds[2].period == 1);
    CHECK(fit->spare_seconds == std::vector<int>{0, 4 * minute, 43 * minute});
    CHECK(fit->rounds_that_fit == 2 + 1 + 3);
}

TEST_CASE("what does not fit says how many do, the longest round and the periods needed") {
    FitRequest r = request({period(1, 540, 600), period(2, 540, 570)}, 6, 15);
    const auto fit = plan::fit(r);
    REQUIRE(fit);
    CHECK(fit->fits);
    CHECK(fit->rounds_that_fit == 4 + 2);
    FitRequest more = r;
    more.rounds = 9;
    const auto cut = plan::fit(more);
    CHECK_FALSE(cut->fits);
    CHECK(cut->rounds_that_fit == 6);
    CHECK(cut->longest_round_minutes == 10);
    CHECK(cut->periods_needed == 4);
    const std::string sentence = plan::what_to_cut(more, *cut);
    CHECK(sentence.find("10 minutes") != std::string::npos);
    CHECK(sentence.find("plan 6 rounds") != std::string::npos);
    CHECK(sentence.find("2 periods") != std::string::npos);
}

TEST_CASE("a round that no period like the last one holds needs no number of them") {
    const auto fit = plan::fit(request({period(1, 540, 550)}, 1, 15));
    REQUIRE(fit);
    CHECK_FALSE(fit->fits);
    CHECK(fit->periods_needed == 0);
    CHECK(fit->longest_round_minutes == 10);
}

TEST_CASE("no round runs across a break and the break covers the move") {
    FitRequest r = request({period(1, 540, 600)}, 3, 15);
    r.move_seconds = 5 * minute;
    r.periods[0].breaks = {{560 * minute, 565 * minute}};
    const auto fit = plan::fit(r);
    REQUIRE(fit);
    CHECK(fit->rounds_that_fit == 3);
    CHECK(fit->rounds[2].start == 585 * minute);
    r.rounds = 2;
    const auto two = plan::fit(r);
    REQUIRE(two->fits);
    CHECK(two->rounds[0].end == 555 * minute);
    CHECK(two->rounds[1].start == 565 * minute);
    // 60 minutes less the break and two rounds; the move happens in the break.
    CHECK(two->spare_seconds[0] == 25 * minute);
}

TEST_CASE("one round a day") {
    FitRequest r = request({period(1, 540, 600), period(1, 660, 720), period(2, 540, 600)}, 2, 15);
    r.rounds_a_day = 1;
    const auto fit = plan::fit(r);
    REQUIRE(fit->fits);
    CHECK(fit->rounds[0].period == 0);
    CHECK(fit->rounds[1].period == 2);
}

TEST_CASE("what cannot be meant is refused with its place") {
    const auto where = [](FitRequest r) {
        const auto fit = plan::fit(r);
        return fit ? std::string("accepted") : fit.error().where;
    };
    CHECK(where(request({}, 1, 10)) == "/periods");
    CHECK(where(request({period(1, 540, 600), period(1, 600, 540)}, 1, 10)) == "/periods/1/end");
    CHECK(where(request({period(1, 540, 540)}, 1, 10)) == "/periods/0/end");
    CHECK(where(request({period(1, 540, 600)}, 0, 10)) == "/rounds");
    CHECK(where(request({period(1, 540, 600)}, 1, 0)) == "/round_minutes");
    FitRequest r = request({period(1, 540, 600)}, 1, 10);
    r.move_seconds = -1;
    CHECK(where(r) == "/move_minutes");
    r.move_seconds = 0;
    r.periods[0].breaks = {{500 * minute, 550 * minute}};
    CHECK(where(r) == "/periods/0/breaks/0");
}

TEST_CASE("lengths are told in minutes and seconds") {
    CHECK(plan::length_text(60) == "1 minute");
    CHECK(plan::length_text(12 * 60) == "12 minutes");
    CHECK(plan::length_text(90) == "1 min 30 s");
}
