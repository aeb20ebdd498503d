#include "evidence/trace.h"

#include <doctest/doctest.h>

#include <vector>

using namespace tallyround::evidence;

namespace {

Model two_level(double prior, double learn, double slip, double guess) {
    Model m;
    m.prior = prior;
    m.learn = learn;
    m.forget_per_day = 0.0;
    m.known = {1.0 - slip, 0.0, slip};
    m.unknown = {guess, 0.0, 1.0 - guess};
    return m;
}

}  // namespace

TEST_CASE("without marks the estimate is the prior and says nothing for sure") {
    const Model m;
    const Estimate e = Trace().estimate(m);
    CHECK(e.p == m.prior);
    CHECK(e.low == 0.0);
    CHECK(e.high == 1.0);
    CHECK(e.marks == 0);
    CHECK(standing(e) == Standing::no_marks);
}

TEST_CASE("three secure marks are never called likely, five are") {
    const Model m;
    Trace t;
    for (int i = 0; i < 3; ++i)
        REQUIRE(t.add(m, {0.1 * i, Level::secure, Help::none, 0.0}));
    CHECK(t.estimate(m).p > 0.9);
    CHECK(standing(t.estimate(m)) == Standing::too_early);
    for (int i = 3; i < 5; ++i)
        REQUIRE(t.add(m, {0.1 * i, Level::secure, Help::none, 0.0}));
    CHECK(standing(t.estimate(m)) == Standing::likely);
}

TEST_CASE("stuck marks end in not yet, mixed marks in mixed") {
    const Model m;
    Trace stuck;
    Trace mixed;
    for (int i = 0; i < 6; ++i) {
        stuck.add(m, {0.1 * i, Level::stuck, Help::none, 0.0});
        mixed.add(m, {0.1 * i, i % 2 == 0 ? Level::secure : Level::shaky, Help::none, 0.0});
    }
    CHECK(standing(stuck.estimate(m)) == Standing::not_yet);
    CHECK(standing(mixed.estimate(m)) == Standing::mixed);
}

TEST_CASE("the prior may change after the marks as if it had been there from the start") {
    const Model m = two_level(0.3, 0.1, 0.1, 0.2);
    Model other = m;
    other.prior = 0.8;
    const std::vector<Mark> marks{{0.0, Level::secure}, {0.2, Level::stuck}, {3.0, Level::secure}};
    CHECK(Trace::of(m, marks).estimate(m, 0.8).p ==
          doctest::Approx(Trace::of(other, marks).estimate(other).p).epsilon(1e-14));
}

TEST_CASE("an older mark is not filtered in place, and sorting gives the same as in order") {
    const Model m;
    const std::vector<Mark> ordered{{1.0, Level::stuck}, {2.0, Level::shaky}, {5.0, Level::secure}};
    const std::vector<Mark> jumbled{ordered[2], ordered[0], ordered[1]};
    CHECK(Trace::of(m, jumbled).estimate(m).p == Trace::of(m, ordered).estimate(m).p);
    Trace t = Trace::of(m, ordered);
    const double before = t.estimate(m).p;
    CHECK_FALSE(t.add(m, {4.0, Level::stuck}));
    CHECK(t.estimate(m).p == before);
    CHECK(t.marks() == 3);
}

TEST_CASE("days without marks lower the chance and the strength, more slowly after spacing") {
    const Model m;
    Trace massed;
    Trace spread;
    for (int i = 0; i < 5; ++i) {
        massed.add(m, {4.0 + 0.01 * i, Level::secure});
        spread.add(m, {1.0 * i, Level::secure});
    }
    CHECK(massed.spaced() == 0);
    CHECK(spread.spaced() == 4);
    const Estimate now = massed.estimate(m);
    const Estimate later = massed.estimate_at(m, m.prior, 34.0);
    CHECK(later.p < now.p);
    CHECK(later.strength < now.strength);
    CHECK(later.low < now.low);
    CHECK(massed.estimate_at(m, m.prior, 64.0).p < spread.estimate_at(m, m.prior, 64.0).p);
    CHECK(massed.estimate_at(m, m.prior, -3.0).p == now.p);
}

TEST_CASE("help weakens a mark both ways and weight nothing leaves only the learn step") {
    Model m;
    m.together = 0.0;
    const auto one = [&](Level level, Help help) {
        Trace t;
        t.add(m, {0.0, level, help, 0.0});
        return t.estimate(m);
    };
    CHECK(one(Level::secure, Help::none).p > one(Level::secure, Help::hint).p);
    CHECK(one(Level::stuck, Help::none).p < one(Level::stuck, Help::hint).p);
    CHECK(one(Level::secure, Help::together).p ==
          doctest::Approx(m.prior + (1 - m.prior) * m.learn));
    CHECK(one(Level::secure, Help::together).strength == 0.0);
    CHECK(one(Level::secure, Help::hint).strength == doctest::Approx(m.hint));
}

TEST_CASE("a secure mark on a hard card counts more, a stuck one less") {
    const Model m;
    const auto one = [&](Level level, double difficulty) {
        Trace t;
        t.add(m, {0.0, level, Help::none, difficulty});
        return t.estimate(m).p;
    };
    CHECK(one(Level::secure, 1.0) > one(Level::secure, 0.0));
    CHECK(one(Level::secure, 0.0) > one(Level::secure, -1.0));
    CHECK(one(Level::stuck, 1.0) > one(Level::stuck, 0.0));
    CHECK(one(Level::secure, 1e300) == one(Level::secure, 10.0));
}

TEST_CASE("what cannot happen under the parameters is strong evidence, not a division by zero") {
    const Model m = two_level(0.5, 0.0, 0.0, 0.0);
    Trace t;
    t.add(m, {0.0, Level::secure});
    CHECK(t.estimate(m).p == doctest::Approx(1.0));
    t.add(m, {0.1, Level::shaky});
    CHECK(t.estimate(m).p == doctest::Approx(1.0));
    t.add(m, {0.2, Level::stuck});
    t.add(m, {0.3, Level::stuck});
    CHECK(t.estimate(m).p < 1e-6);
}

TEST_CASE("a look tells nothing about what is certain and most about what is not") {
    const Model m;
    CHECK(information(m, 0.0) == 0.0);
    CHECK(information(m, 1.0) == doctest::Approx(0.0));
    CHECK(information(m, 0.5) > information(m, 0.9));
    CHECK(information(m, 0.5) > information(m, 0.1));
    CHECK(information(m, 0.5) < 1.0);
}
