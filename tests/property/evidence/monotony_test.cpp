// A better mark is never worse evidence, whatever the model, the help and the card.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdio>

#include "base/random.h"
#include "evidence/trace.h"

using namespace tallyround::evidence;
using tallyround::base::Random;

namespace {

constexpr std::uint64_t seed = 20261126;

/// Any model that `check` lets pass, zeros and ones included.
Model random_model(Random& random) {
    const auto chance = [&] {
        const auto edge = random.below(12);
        return edge == 0 ? 0.0 : edge == 1 ? 1.0 : random.unit();
    };
    for (;;) {
        Model m;
        m.prior = chance();
        m.learn = chance();
        m.forget_per_day = random.below(3) == 0 ? 0.0 : 0.3 * random.unit();
        m.spacing_growth = 1.0 + 2.0 * random.unit();
        m.hint = chance();
        m.together = chance();
        const auto emission = [&] {
            const double secure = chance();
            const double shaky = (1.0 - secure) * chance();
            return Emission{secure, shaky, 1.0 - secure - shaky};
        };
        m.known = emission();
        m.unknown = emission();
        if (const auto checked = check(m)) return checked->model;
    }
}

std::vector<Mark> random_marks(Random& random) {
    std::vector<Mark> marks;
    double day = 0.0;
    const auto n = 1 + random.below(7);
    for (std::uint64_t i = 0; i < n; ++i) {
        day += random.below(2) == 0 ? 0.0 : 20.0 * random.unit();
        marks.push_back({day, static_cast<Level>(random.below(3)),
                         static_cast<Help>(random.below(3)), 12.0 * random.unit() - 6.0});
    }
    return marks;
}

}  // namespace

TEST_CASE("secure is at least shaky is at least stuck, at any place in any history") {
    std::printf("seed %llu\n", static_cast<unsigned long long>(seed));
    Random random(seed);
    for (int round = 0; round < 20'000; ++round) {
        Model m = random_model(random);
        // A secure mark also grows the half-life, which can only raise what is kept.
        std::vector<Mark> marks = random_marks(random);
        Mark& changed = marks[random.below(marks.size())];
        const double later = marks.back().day + 30.0 * random.unit();
        std::array<double, 3> p{};
        std::array<double, 3> p_later{};
        for (const Level level : {Level::stuck, Level::shaky, Level::secure}) {
            changed.level = level;
            const Trace trace = Trace::of(m, marks);
            const Estimate now = trace.estimate(m);
            p[static_cast<std::size_t>(level)] = now.p;
            p_later[static_cast<std::size_t>(level)] = trace.estimate_at(m, m.prior, later).p;
            CHECK(now.low >= 0.0);
            CHECK(now.low <= now.p);
            CHECK(now.p <= now.high);
            CHECK(now.high <= 1.0);
        }
        CAPTURE(round);
        CHECK(p[1] >= p[0] - 1e-12);
        CHECK(p[2] >= p[1] - 1e-12);
        CHECK(p_later[1] >= p_later[0] - 1e-12);
        CHECK(p_later[2] >= p_later[1] - 1e-12);
    }
}

TEST_CASE(
    "estimates stay chances for any marks, and a greater start never gives a smaller chance") {
    Random random(seed + 1);
    for (int round = 0; round < 5'000; ++round) {
        const Model m = random_model(random);
        std::vector<Mark> marks = random_marks(random);
        for (Mark& mark : marks)
            mark.difficulty *= random.below(20) == 0 ? 1e300 : 1.0;
        const Trace trace = Trace::of(m, marks);
        double last = 0.0;
        for (const double prior : {0.0, 0.2, 0.5, 0.8, 1.0}) {
            const double p = trace.estimate(m, prior).p;
            CHECK(p >= last - 1e-12);
            CHECK(p <= 1.0);
            last = p;
        }
    }
}
