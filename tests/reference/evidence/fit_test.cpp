// Expected counts of the E-step against numerical derivatives of the log likelihood: Fisher's
// identity says the derivative along a parameter is the expected derivative of the complete-data
// log likelihood (Dempster, Laird, Rubin 1977, JRSS B 39:1). The likelihood itself is checked
// against the sum over hidden paths in bkt_test.cpp.
#include "evidence/fit.h"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>

#include "base/random.h"
#include "evidence/expectation.h"

using namespace tallyround::evidence;
using tallyround::base::Random;

namespace {

Sequences drawn(const Model& m, int pairs, int marks, std::uint64_t seed, bool cards = false) {
    Random random(seed);
    Sequences out;
    for (int i = 0; i < pairs; ++i) {
        bool known = random.unit() < m.prior;
        double day = 0.0;
        int spaced = 0;
        for (int j = 0; j < marks; ++j) {
            Mark mark{day, Level::stuck, Help::none, cards ? 3.0 * random.unit() - 1.5 : 0.0};
            const Emission e = at_difficulty(known ? m.known : m.unknown, mark.difficulty);
            const double u = random.unit();
            mark.level = u < e.secure             ? Level::secure
                         : u < e.secure + e.shaky ? Level::shaky
                                                  : Level::stuck;
            const bool later = j > 0 && std::floor(day) > std::floor(out.marks.back().day);
            if (later && mark.level == Level::secure) ++spaced;
            out.marks.push_back(mark);
            if (!known) known = random.unit() < m.learn;
            const double gap = random.below(3) == 0 ? 0.1 : 1.0 + 9.0 * random.unit();
            if (known) known = random.unit() < kept(m, spaced, gap);
            day += gap;
        }
        out.close();
    }
    return out;
}

double slope(const Sequences& s, const Model& m, const std::function<void(Model&, double)>& move) {
    const double h = 1e-6;
    Model up = m;
    Model down = m;
    move(up, h);
    move(down, -h);
    return (log_likelihood(s, up) - log_likelihood(s, down)) / (2.0 * h);
}

}  // namespace

TEST_CASE("expected counts satisfy Fisher's identity") {
    Model m;
    m.forget_per_day = 0.05;
    const Sequences s = drawn(m, 40, 7, 11, true);
    const Counts c = expect(s, m);
    CHECK(slope(s, m, [](Model& x, double h) { x.prior += h; }) ==
          doctest::Approx(c.started_known / m.prior - (c.pairs - c.started_known) / (1 - m.prior))
              .epsilon(1e-5));
    CHECK(slope(s, m, [](Model& x, double h) { x.learn += h; }) ==
          doctest::Approx(c.learned / m.learn - (c.could_learn - c.learned) / (1 - m.learn))
              .epsilon(1e-5));
    const double rate = -std::log1p(-m.forget_per_day);
    CHECK(slope(s, m, [&](Model& x, double h) { x.forget_per_day = -std::expm1(-(rate + h)); }) ==
          doctest::Approx(c.lost / rate - c.exposed_days).epsilon(1e-5));
    // Along the log odds of secure in the known state, cards tilting: seen minus expected.
    double seen = 0.0;
    for (const Shared& x : c.shared) {
        const double secure = at_difficulty(m.known, x.difficulty).secure;
        seen += x.known * ((x.level == Level::secure ? 1.0 : 0.0) - secure);
    }
    CHECK(slope(s, m, [](Model& x, double h) {
              const double up = x.known.secure * std::exp(h);
              const double sum = up + x.known.shaky + x.known.stuck;
              x.known = {up / sum, x.known.shaky / sum, x.known.stuck / sum};
          }) == doctest::Approx(seen).epsilon(1e-5));
}

TEST_CASE("every round raises the likelihood while no bound binds") {
    Model truth;
    truth.learn = 0.15;
    truth.forget_per_day = 0.03;
    for (const bool cards : {false, true}) {
        const Sequences s = drawn(truth, 300, 8, 12, cards);
        FitSettings settings;
        settings.start_weight = 0.0;
        settings.settled = 0.0;
        double before = log_likelihood(s, Model{});
        for (int rounds = 1; rounds <= 12; ++rounds) {
            settings.most_rounds = rounds;
            const Fitted fitted = fit_model(s, Model{}, settings);
            if (fitted.at_bound) break;
            CHECK(fitted.log_likelihood >= before - 1e-7);
            before = fitted.log_likelihood;
        }
        CHECK(before > log_likelihood(s, Model{}));
    }
}

TEST_CASE("parameters that made the marks are found again") {
    Model truth;
    truth.prior = 0.35;
    truth.learn = 0.2;
    truth.forget_per_day = 0.03;
    truth.known = {0.8, 0.13, 0.07};
    truth.unknown = {0.12, 0.33, 0.55};
    for (const bool cards : {false, true}) {
        const Sequences s = drawn(truth, 4000, 10, 13, cards);
        FitSettings settings;
        settings.most_rounds = 200;
        settings.settled = 1e-6;
        const Model m = fit_model(s, Model{}, settings).model;
        CHECK(m.prior == doctest::Approx(truth.prior).epsilon(0.08));
        CHECK(m.learn == doctest::Approx(truth.learn).epsilon(0.1));
        CHECK(m.forget_per_day == doctest::Approx(truth.forget_per_day).epsilon(0.1));
        CHECK(std::abs(m.known.secure - truth.known.secure) < 0.01);
        CHECK(std::abs(m.known.stuck - truth.known.stuck) < 0.01);
        CHECK(std::abs(m.unknown.secure - truth.unknown.secure) < 0.015);
        CHECK(std::abs(m.unknown.stuck - truth.unknown.stuck) < 0.015);
    }
}
