// Random terms of partners and random periods.
#include <doctest/doctest.h>

#include <algorithm>

#include "base/random.h"
#include "plan/fit.h"
#include "plan/partners.h"

using namespace tallyround;

namespace {
constexpr std::uint64_t seed = 1949;
}

TEST_CASE("terms: everybody once a block, counts are right, never below a bound") {
    MESSAGE("seed ", seed);
    base::Random random(seed);
    for (int trial = 0; trial < 60; ++trial) {
        plan::PartnersProblem p;
        p.students = int(random.between(2, 40));
        p.size = int(random.between(2, 6));
        p.blocks = int(random.between(1, 12));
        CAPTURE(p.students);
        CAPTURE(p.size);
        CAPTURE(p.blocks);
        const auto search = solve_partners(p, 60'000);
        const auto& found = *search.best();
        REQUIRE(int(found.blocks.size()) == p.blocks);
        int pairs = 0;
        for (const auto& block : found.blocks) {
            std::vector<int> seen(std::size_t(p.students), 0);
            std::vector<int> sizes;
            for (const auto& group : block) {
                sizes.push_back(int(group.size()));
                pairs += int(group.size() * (group.size() - 1) / 2);
                for (const int student : group)
                    ++seen[student];
            }
            CHECK(std::all_of(seen.begin(), seen.end(), [](int n) { return n == 1; }));
            std::sort(sizes.rbegin(), sizes.rend());
            CHECK(sizes == plan::block_sizes(p.students, p.size));
        }
        CHECK(found.repeat_pairs + found.distinct_pairs == pairs);
        CHECK(found.repeat_pairs >= plan::bound_repeats(p.students, p.size, p.blocks));
        if (found.repeat_pairs == 0) {
            CHECK(p.blocks <= plan::bound_blocks(p.students, p.size));
            CHECK(search.proved_best());
        }
    }
}

TEST_CASE("periods: rounds lie inside, in order, a move apart; the longest round is the longest") {
    base::Random random(seed + 1);
    for (int trial = 0; trial < 300; ++trial) {
        CAPTURE(trial);
        plan::FitRequest r;
        for (auto n = random.between(1, 4); n > 0; --n) {
            const int start = int(random.between(7 * 3600, 12 * 3600));
            plan::Period period{
                {2026, 12, int(n)}, start, start + int(random.between(60, 7200)), {}};
            const int length = period.end - period.start;
            if (random.below(3) == 0) {
                const int from = period.start + int(random.between(0, length / 2));
                period.breaks = {{from, from + int(random.between(1, length / 2))}};
            }
            r.periods.push_back(period);
        }
        r.rounds = int(random.between(1, 8));
        r.round_seconds = int(random.between(60, 1800));
        r.move_seconds = int(random.between(0, 300));
        r.opening_seconds = int(random.between(0, 400));
        r.closing_seconds = int(random.between(0, 400));
        const auto fit = plan::fit(r);
        REQUIRE(fit);
        CHECK(fit->fits == (fit->rounds_that_fit >= r.rounds));
        for (std::size_t i = 0; i < fit->rounds.size(); ++i) {
            const auto& round = fit->rounds[i];
            const auto& period = r.periods[round.period];
            CHECK(round.end - round.start == r.round_seconds);
            CHECK(round.start >= period.start + r.opening_seconds);
            CHECK(round.end <= period.end - r.closing_seconds);
            for (const auto& gap : period.breaks)
                CHECK((round.end <= gap.start || round.start >= gap.end));
            if (i > 0 && fit->rounds[i - 1].period == round.period)
                CHECK(round.start >= fit->rounds[i - 1].end + r.move_seconds);
        }
        const int longest = fit->longest_round_minutes * 60;
        if (longest > 0) CHECK(plan::rounds_that_fit(r, longest) >= r.rounds);
        CHECK(plan::rounds_that_fit(r, longest + 60) < r.rounds);
        for (const int spare : fit->spare_seconds)
            CHECK(spare >= 0);
    }
}
