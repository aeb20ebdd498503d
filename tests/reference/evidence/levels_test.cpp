// Fraction subtraction, 536 pupils x 20 items: K. Tatsuoka's data as published with C. Tatsuoka
// 2002 (Applied Statistics 51:337-350). Rasch values by conditional maximum likelihood, two R
// packages agreeing (psychotools, eRm).
#include "evidence/levels.h"

#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include "evidence/calibration.h"
#include "table.h"

using namespace tallyround::evidence;

namespace {

struct Cell {
    int pupil;
    int item;
    double right;
};

std::vector<Cell> cells() {
    const auto rows = read_table("evidence/tatsuoka_fraction_subtraction_536x20.csv");
    std::vector<Cell> out;
    for (std::size_t i = 1; i < rows.size(); ++i)
        for (std::size_t j = 0; j < rows[i].size(); ++j)
            out.push_back({static_cast<int>(i - 1), static_cast<int>(j), std::stod(rows[i][j])});
    return out;
}

/// Items that need the same of the eight skills share a number.
std::vector<int> skill_of_item() {
    const auto rows = read_table("evidence/tatsuoka_Q_20x8.csv");
    std::map<std::string, int> numbers;
    std::vector<int> out;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        std::string pattern;
        for (std::size_t k = 1; k < rows[i].size(); ++k)
            pattern += rows[i][k];
        out.push_back(numbers.try_emplace(pattern, static_cast<int>(numbers.size())).first->second);
    }
    return out;
}

double correlation(const std::vector<double>& x, const std::vector<double>& y) {
    const auto n = static_cast<double>(x.size());
    double sx = 0, sy = 0, sxx = 0, syy = 0, sxy = 0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        sx += x[i];
        sy += y[i];
        sxx += x[i] * x[i];
        syy += y[i] * y[i];
        sxy += x[i] * y[i];
    }
    return (sxy - sx * sy / n) / std::sqrt((sxx - sx * sx / n) * (syy - sy * sy / n));
}

}  // namespace

TEST_CASE("held-out cells of the fraction data: log loss at most .44, AUC at least .88") {
    // A cell is held out when (7 i + 3 j) mod 5 = 0. Penalised Rasch reaches .4193 / .8905, counts
    // per skill .4901 / .8503.
    const auto skill = skill_of_item();
    for (const bool with_item : {true, false}) {
        std::vector<Answer> train;
        std::vector<Cell> test;
        for (const Cell& c : cells()) {
            if ((7 * c.pupil + 3 * c.item) % 5 == 0) {
                test.push_back(c);
            } else {
                train.push_back({c.pupil, skill[static_cast<std::size_t>(c.item)],
                                 with_item ? c.item : -1, c.right});
            }
        }
        const Levels levels = Levels::fit(train);
        std::vector<Forecast> forecasts;
        for (const Cell& c : test) {
            const Chance chance = levels.chance(c.pupil, skill[static_cast<std::size_t>(c.item)],
                                                with_item ? c.item : -1);
            forecasts.push_back({chance.p, c.right > 0.5});
        }
        const Scores scores = score(forecasts);
        CAPTURE(with_item);
        CAPTURE(scores.log_loss);
        CAPTURE(scores.auc);
        CHECK(scores.log_loss <= 0.41);
        CHECK(scores.auc >= 0.89);
        CHECK(scores.calibration_error <= 0.03);
    }
}

TEST_CASE("levels and difficulties line up with the Rasch values") {
    std::vector<Answer> all;
    std::vector<double> raw(536, 0.0);
    for (const Cell& c : cells()) {
        all.push_back({c.pupil, c.item, -1, c.right});
        raw[static_cast<std::size_t>(c.pupil)] += c.right;
    }
    const Levels levels = Levels::fit(all);
    const auto difficulty = read_table("evidence/tatsuoka_rasch_difficulty.csv");
    std::vector<double> rasch;
    std::vector<double> ours;
    for (std::size_t j = 1; j < difficulty.size(); ++j) {
        rasch.push_back(std::stod(difficulty[j][1]));
        ours.push_back(-levels.chance(-1, static_cast<int>(j - 1)).log_odds);
    }
    CHECK(rasch.size() == 20);
    CHECK(correlation(rasch, ours) > 0.97);
    const auto theta = read_table("evidence/tatsuoka_rasch_theta_by_rawscore.csv");
    std::vector<double> expected;
    std::vector<double> level;
    for (int pupil = 0; pupil < 536; ++pupil) {
        const auto row = static_cast<std::size_t>(raw[static_cast<std::size_t>(pupil)]) + 1;
        expected.push_back(std::stod(theta[row][1]));
        level.push_back(levels.level(pupil));
    }
    CHECK(correlation(expected, level) > 0.98);
}
