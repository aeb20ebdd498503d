#include "evidence/model.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace tallyround::evidence;

TEST_CASE("the defaults are accepted as they are") {
    const auto checked = check(Model{});
    REQUIRE(checked);
    CHECK(checked->repairs.empty());
}

TEST_CASE("contradictions are refused with the place") {
    const auto where = [](auto change) {
        Model m;
        change(m);
        const auto checked = check(m);
        REQUIRE_FALSE(checked);
        CHECK_FALSE(checked.error().message.empty());
        return checked.error().where;
    };
    CHECK(where([](Model& m) { m.unknown = {0.9, 0.05, 0.05}; }) == "/emit/unknown/secure");
    CHECK(where([](Model& m) { m.known = {0.3, 0.1, 0.6}; }) == "/emit/known/stuck");
    CHECK(where([](Model& m) { m.known.secure = 0.5; }) == "/emit/known");
    CHECK(where([](Model& m) { m.unknown.shaky = 0.5; }) == "/emit/unknown");
    CHECK(where([](Model& m) { m.prior = -0.1; }) == "/prior");
    CHECK(where([](Model& m) { m.learn = 1.5; }) == "/learn");
    CHECK(where([](Model& m) { m.hint = 2.0; }) == "/help/hint");
    CHECK(where([](Model& m) { m.spacing_growth = 0.5; }) == "/spacing_growth");
    CHECK(where([](Model& m) { m.forget_per_day = std::nan(""); }) == "/forget_per_day");
    CHECK(where([](Model& m) { m.together = std::numeric_limits<double>::infinity(); }) ==
          "/help/together");
}

TEST_CASE("a shaky mark out of order is moved between secure and stuck, and said") {
    Model above;
    above.known = {0.5, 0.45, 0.05};
    above.unknown = {0.4, 0.1, 0.5};
    Model below;
    below.known = {0.9, 0.02, 0.08};
    below.unknown = {0.2, 0.6, 0.2};
    for (const Model& m : {above, below}) {
        const auto checked = check(m);
        REQUIRE(checked);
        CHECK(checked->repairs.size() == 1);
        const auto ratio = [&](Level l) {
            return checked->model.known.of(l) / checked->model.unknown.of(l);
        };
        CHECK(ratio(Level::secure) >= ratio(Level::shaky) - 1e-12);
        CHECK(ratio(Level::shaky) >= ratio(Level::stuck) - 1e-12);
        const Emission& k = checked->model.known;
        const Emission& u = checked->model.unknown;
        CHECK(k.secure + k.shaky + k.stuck == doctest::Approx(1.0));
        CHECK(u.secure + u.shaky + u.stuck == doctest::Approx(1.0));
    }
}

TEST_CASE("difficulty tilts both states alike and keeps the order of the ratios") {
    const Model m;
    for (const double d : {-12.0, -3.0, -0.5, 0.0, 0.5, 3.0, 12.0}) {
        const Emission k = at_difficulty(m.known, d);
        const Emission u = at_difficulty(m.unknown, d);
        CHECK(k.secure + k.shaky + k.stuck == doctest::Approx(1.0));
        CHECK(k.secure / u.secure >= k.shaky / u.shaky);
        CHECK(k.shaky / u.shaky >= k.stuck / u.stuck);
    }
    // Two levels: a plain shift of the log odds (Rasch 1960).
    const Emission two = at_difficulty({0.8, 0.0, 0.2}, 1.0);
    CHECK(std::log(two.secure / two.stuck) == doctest::Approx(std::log(4.0) - 1.0));
}

TEST_CASE("forgetting: edges and half-life") {
    Model m;
    m.forget_per_day = 0.1;
    m.spacing_growth = 1.0;
    CHECK(kept(m, 0, 1.0) == doctest::Approx(0.9));
    CHECK(kept(m, 7, 2.0) == doctest::Approx(0.81));
    CHECK(kept(m, 0, half_life(m, 0)) == doctest::Approx(0.5));
    CHECK(kept(m, 0, -5.0) == 1.0);
    m.spacing_growth = 2.0;
    CHECK(half_life(m, 2) == doctest::Approx(4.0 * half_life(m, 0)));
    CHECK(half_life(m, 1000) == 3650.0);
    m.forget_per_day = 0.0;
    CHECK(kept(m, 0, 1e9) == 1.0);
    CHECK(std::isinf(half_life(m, 0)));
    m.forget_per_day = 1.0;
    CHECK(kept(m, 0, 0.0) == 1.0);
    CHECK(kept(m, 0, 0.5) == 0.0);
}
