// The chance of a right answer on classes of many shapes, none of them the model's own: never worse
// than the mean of the card or of the student, and finite whatever comes.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <functional>
#include <map>
#include <vector>

#include "base/random.h"
#include "evidence/calibration.h"
#include "evidence/levels.h"
#include "evidence/logistic.h"

using namespace tallyround::evidence;
using tallyround::base::Random;

namespace {

struct Shape {
    const char* name;
    int students;
    int skills;
    int items;     ///< cards a skill
    double share;  ///< of all cells that are answered; a quarter of those is held out
    /// Chance of right from three normal draws (student, skill of the student, card) and the rest.
    double (*right)(double student, double own, double card, Random& random);
};

double normal(Random& random) {
    double sum = -6.0;
    for (int i = 0; i < 12; ++i)
        sum += random.unit();
    return sum;
}

struct Cells {
    std::vector<Answer> train;
    std::vector<Answer> test;
};

Cells draw(const Shape& shape, std::uint64_t seed) {
    Random random(seed);
    std::vector<double> card(static_cast<std::size_t>(shape.skills * shape.items));
    for (double& c : card)
        c = normal(random);
    Cells out;
    for (int s = 0; s < shape.students; ++s) {
        const double student = normal(random);
        for (int k = 0; k < shape.skills; ++k) {
            const double own = normal(random);
            for (int i = 0; i < shape.items; ++i) {
                const int item = k * shape.items + i;
                const double p =
                    shape.right(student, own, card[static_cast<std::size_t>(item)], random);
                const bool right = random.unit() < p;
                if (random.unit() >= shape.share) continue;
                auto& list = random.below(4) == 0 ? out.test : out.train;
                list.push_back({s, k, item, right ? 1.0 : 0.0});
            }
        }
    }
    return out;
}

double loss(const std::vector<Answer>& test, const std::function<double(const Answer&)>& chance) {
    std::vector<Forecast> forecasts;
    for (const Answer& a : test)
        forecasts.push_back({chance(a), a.right > 0.5});
    return score(forecasts).log_loss;
}

/// Log loss of the mean of each group, one right and one wrong added.
double loss_of_means(const Cells& cells, int Answer::*by) {
    std::map<int, std::array<double, 2>> seen;
    for (const Answer& a : cells.train) {
        seen[a.*by][0] += a.right;
        seen[a.*by][1] += 1.0;
    }
    return loss(cells.test, [&](const Answer& a) {
        const auto it = seen.find(a.*by);
        return it == seen.end() ? 0.5 : (it->second[0] + 1.0) / (it->second[1] + 2.0);
    });
}

const Shape shapes[] = {
    {"levels and cards", 60, 4, 6, 0.8,
     [](double s, double, double c, Random&) { return logistic(1.2 * s + c); }},
    {"few skills, many cards", 40, 2, 40, 0.5,
     [](double s, double o, double c, Random&) { return logistic(s + 0.8 * o + 1.5 * c); }},
    {"cards only, one each", 200, 20, 1, 0.8,
     [](double s, double, double c, Random&) { return logistic(1.5 * s + c); }},
    {"very sparse", 300, 8, 5, 0.05,
     [](double s, double o, double c, Random&) { return logistic(s + o + c); }},
    {"one student", 1, 6, 12, 1.0,
     [](double s, double o, double c, Random&) { return logistic(s + o + 0.5 * c); }},
    {"nothing but chance", 50, 5, 4, 0.7, [](double, double, double, Random&) { return 0.6; }},
    {"has it or not", 80, 8, 3, 0.8,
     [](double s, double o, double, Random&) { return s + 1.5 * o > 0.0 ? 0.92 : 0.15; }},
    {"cards alone matter", 60, 5, 8, 0.5,
     [](double, double, double c, Random&) { return logistic(2.5 * c); }},
    {"students alone matter", 60, 5, 8, 0.5,
     [](double s, double, double, Random&) { return logistic(2.5 * s); }},
    {"guessing on hard cards", 100, 5, 6, 0.6,
     [](double s, double, double c, Random&) { return 0.25 + 0.75 * logistic(2.0 * (s + c)); }},
    {"two kinds of day", 60, 4, 6, 0.8,
     [](double s, double, double c, Random& r) {
         return r.below(3) == 0 ? 0.5 : logistic(1.5 * s + c);
     }},
    {"nearly all right", 60, 5, 6, 0.7,
     [](double s, double, double c, Random&) { return logistic(4.0 + s + c); }},
};

}  // namespace

TEST_CASE("never worse than the mean of the card, of the student or of all") {
    for (const Shape& shape : shapes) {
        double ours = 0.0;
        double by_card = 0.0;
        double by_student = 0.0;
        double by_skill = 0.0;
        const int classes = 5;
        for (std::uint64_t seed = 1; seed <= classes; ++seed) {
            const Cells cells = draw(shape, seed);
            const Levels levels = Levels::fit(cells.train);
            ours += loss(cells.test, [&](const Answer& a) {
                return levels.chance(a.student, a.skill, a.item).p;
            });
            by_card += loss_of_means(cells, &Answer::item);
            by_student += loss_of_means(cells, &Answer::student);
            by_skill += loss_of_means(cells, &Answer::skill);
        }
        std::printf(
            "predict, %s, seeds 1 to %d: log loss %.3f; card %.3f, student %.3f, skill "
            "%.3f\n",
            shape.name, classes, ours / classes, by_card / classes, by_student / classes,
            by_skill / classes);
        CHECK(ours <= std::min({by_card, by_student, by_skill}) + 0.01 * classes);
    }
}

TEST_CASE("constant, contradictory and lone answers give chances inside 0 and 1") {
    const auto check = [](const std::vector<Answer>& train) {
        const Levels levels = Levels::fit(train);
        for (const int who : {-1, 0, 5, 1'000'000}) {
            for (const int item : {-1, 0, 7}) {
                const Chance c = levels.chance(who, 0, item);
                CHECK(c.p > 0.0);
                CHECK(c.p < 1.0);
                CHECK(std::isfinite(c.log_odds));
                CHECK(c.variance >= 0.0);
            }
        }
        return levels.chance(0, 0, 0).p;
    };
    std::vector<Answer> right;
    std::vector<Answer> both;
    for (int i = 0; i < 500; ++i) {
        right.push_back({i % 20, i % 3, i % 7, 1.0});
        both.push_back({0, 0, 0, i % 2 == 0 ? 1.0 : 0.0});
    }
    CHECK(check({}) == doctest::Approx(0.5));
    CHECK(check({{0, 0, 0, 1.0}}) > 0.5);
    CHECK(check({{0, 0, 0, 0.0}}) < 0.5);
    CHECK(check(right) > 0.95);
    CHECK(check(both) == doctest::Approx(0.5).epsilon(0.02));
}
