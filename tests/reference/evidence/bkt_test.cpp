// Corbett & Anderson 1995, User Modeling and User-Adapted Interaction 4:253-278:
//   P(right) = L (1 - S) + (1 - L) G, posterior by Bayes, L' = posterior + (1 - posterior) T.
// The two sequences were worked by hand from these equations (checked twice, once in R).
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "base/random.h"
#include "evidence/trace.h"

using namespace tallyround::evidence;
using tallyround::base::Random;

namespace {

Model tracing(double l0, double t, double s, double g) {
    Model m;
    m.prior = l0;
    m.learn = t;
    m.forget_per_day = 0.0;
    m.known = {1.0 - s, 0.0, s};
    m.unknown = {g, 0.0, 1.0 - g};
    return m;
}

void check_sequence(const Model& m, const std::vector<int>& right, const std::vector<double>& p) {
    Trace t;
    for (std::size_t i = 0; i < right.size(); ++i) {
        t.add(m, {static_cast<double>(i), right[i] == 1 ? Level::secure : Level::stuck});
        CHECK(t.estimate(m).p == doctest::Approx(p[i]).epsilon(5e-11));
    }
}

/// The chance of known after the last learn step, by summing over every path of hidden states
/// (two a mark: when it is made and after its learn step). No recursion is shared with the filter.
double by_enumeration(const Model& m, const std::vector<Mark>& marks) {
    const std::size_t n = 2 * marks.size();
    double known = 0.0;
    double all = 0.0;
    for (std::size_t path = 0; path < (std::size_t{1} << n); ++path) {
        const auto has = [&](std::size_t at) { return ((path >> at) & 1U) != 0; };
        double chance = has(0) ? m.prior : 1.0 - m.prior;
        for (std::size_t i = 0; i < marks.size(); ++i) {
            const Emission& e = has(2 * i) ? m.known : m.unknown;
            const double d = marks[i].difficulty;
            const double sum = e.secure * std::exp(-d) + e.shaky * std::exp(-d / 2) + e.stuck;
            const double tilted =
                e.of(marks[i].level) * std::exp(-d * credit(marks[i].level)) / sum;
            chance *= std::pow(tilted, m.weight(marks[i].help));
            if (has(2 * i)) {
                chance *= has(2 * i + 1) ? 1.0 : 0.0;
            } else {
                chance *= has(2 * i + 1) ? m.learn : 1.0 - m.learn;
            }
            if (i + 1 == marks.size()) break;
            const double keep = std::pow(1.0 - m.forget_per_day, marks[i + 1].day - marks[i].day);
            if (has(2 * i + 1)) {
                chance *= has(2 * i + 2) ? keep : 1.0 - keep;
            } else {
                chance *= has(2 * i + 2) ? 0.0 : 1.0;
            }
        }
        all += chance;
        if (has(n - 1)) known += chance;
    }
    return known / all;
}

}  // namespace

TEST_CASE("Bayesian knowledge tracing, two sequences worked by hand") {
    check_sequence(tracing(0.5, 0.4, 0.2, 0.2), {1, 0, 1},
                   {0.88, 0.7882352941176, 0.9622377622378});
    check_sequence(
        tracing(0.3, 0.1, 0.1, 0.2), {1, 1, 1, 0, 1},
        {0.6926829268293, 0.9192307692308, 0.9827633378933, 0.8892578125, 0.9757640521479});
}

TEST_CASE("the filter equals the sum over all hidden paths") {
    Random random(20261125);
    INFO("seed 20261125");
    for (int round = 0; round < 60; ++round) {
        Model m;
        m.prior = random.unit();
        m.learn = 0.5 * random.unit();
        m.forget_per_day = 0.3 * random.unit();
        m.spacing_growth = 1.0;
        m.hint = random.unit();
        m.together = random.unit();
        std::vector<Mark> marks;
        double day = 0.0;
        for (int i = 0; i < 6; ++i) {
            day += random.below(2) == 0 ? 0.0 : 3.0 * random.unit();
            marks.push_back({day, static_cast<Level>(random.below(3)),
                             static_cast<Help>(random.below(3)), 4.0 * random.unit() - 2.0});
        }
        CHECK(Trace::of(m, marks).estimate(m).p ==
              doctest::Approx(by_enumeration(m, marks)).epsilon(1e-11));
    }
}

TEST_CASE("information of a look equals the sum over states and marks") {
    // I = sum p(s, x) log2(p(s, x) / (p(s) p(x))), Shannon 1948.
    const Model m;
    for (const double d : {-1.5, 0.0, 2.0}) {
        for (const double p : {0.01, 0.2, 0.5, 0.8, 0.99}) {
            double bits = 0.0;
            for (const Level level : {Level::stuck, Level::shaky, Level::secure}) {
                const double joint[2] = {p * at_difficulty(m.known, d).of(level),
                                         (1.0 - p) * at_difficulty(m.unknown, d).of(level)};
                const double x = joint[0] + joint[1];
                bits += joint[0] * std::log2(joint[0] / (p * x));
                bits += joint[1] * std::log2(joint[1] / ((1.0 - p) * x));
            }
            CHECK(information(m, p, d) == doctest::Approx(bits).epsilon(1e-10));
        }
    }
    // A mark that names the state is worth the whole entropy of the state.
    Model certain;
    certain.known = {1.0, 0.0, 0.0};
    certain.unknown = {0.0, 0.0, 1.0};
    CHECK(information(certain, 0.5) == doctest::Approx(1.0));
}

TEST_CASE("half-life of Settles & Meeder 2016 (ACL): 2^(-7/3) is .1984251315") {
    Model m;
    m.spacing_growth = 1.0;
    m.forget_per_day = 1.0 - std::exp2(-1.0 / 3.0);
    CHECK(half_life(m, 0) == doctest::Approx(3.0));
    CHECK(kept(m, 0, 7.0) == doctest::Approx(0.1984251315).epsilon(1e-9));
}
