#include "evidence/levels_fit.h"

#include <algorithm>
#include <cmath>

#include "evidence/logistic.h"

namespace tallyround::evidence {

namespace {

constexpr std::size_t most_rounds = 80;
constexpr std::size_t fewest_rounds = 20;
constexpr std::size_t most_visits = 10'000'000;  // rounds times answers
constexpr double settled = 1e-4;
constexpr double longest_step = 1.0;
constexpr double longest_sharpness_step = 0.25;
constexpr double least_spread = 1e-4;

double mean_of(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double x : values)
        sum += x;
    return values.empty() ? 0.0 : sum / static_cast<double>(values.size());
}

double take_mean(std::vector<double>& values) {
    const double mean = mean_of(values);
    for (double& x : values)
        x -= mean;
    return mean;
}

}  // namespace

LevelsFit::LevelsFit(std::span<const Answer> answers) {
    read(answers);
    const auto size = [](Family& family, std::size_t n, double spread) {
        family.value.assign(n, 0.0);
        family.variance.assign(n, spread);
        family.spread = spread;
    };
    std::size_t students = 0;
    std::size_t skills = 0;
    for (const Row& row : rows_) {
        students = std::max(students, row.student + 1);
        skills = std::max(skills, row.skill + 1);
    }
    size(out_.students_, students, 1.0);
    size(out_.skills_, skills, 0.5);
    size(out_.cards_, out_.card_number_.size(), 0.5);
    size(out_.own_, out_.own_number_.size(), 0.3);
    size(out_.sharpness_, out_.card_number_.size(), 0.05);
    out_.cards_.covariance.assign(out_.cards_.value.size(), 0.0);
    out_.own_.covariance.assign(out_.own_.value.size(), 0.0);
    for (const Row& row : rows_)
        out_.answers_ += row.weight;
    sharp_.assign(out_.cards_.value.size(), 1.0);
}

void LevelsFit::read(std::span<const Answer> answers) {
    rows_.reserve(answers.size());
    const auto number = [](auto& numbers, Branches& branches, int a, int b, int trunk) {
        const auto [it, added] =
            numbers.try_emplace(Levels::key(a, b), static_cast<int>(numbers.size()));
        if (added) branches.trunk.push_back(static_cast<std::size_t>(trunk));
        return static_cast<std::size_t>(it->second);
    };
    for (const Answer& a : answers) {
        if (!(a.weight > 0.0)) continue;
        Row row{};
        row.student = static_cast<std::size_t>(a.student);
        row.skill = static_cast<std::size_t>(a.skill);
        row.card = number(out_.card_number_, out_.cards_, a.skill, a.item, a.skill);
        row.own = number(out_.own_number_, out_.own_, a.student, a.skill, a.student);
        row.right = a.right;
        row.weight = a.weight;
        row.easier = a.easier;
        rows_.push_back(row);
    }
}

double LevelsFit::solve(Family& trunk, Branches& branches) {
    std::vector<double> schur(trunk.value.size(), 1.0 / trunk.spread);
    std::vector<double> pull(trunk.value.size());
    for (std::size_t t = 0; t < pull.size(); ++t) {
        schur[t] += trunk_[t].curvature;
        pull[t] = trunk_[t].slope - trunk.value[t] / trunk.spread;
    }
    for (std::size_t b = 0; b < branches.value.size(); ++b) {
        branch_[b].curvature += 1.0 / branches.spread;
        branch_[b].slope -= branches.value[b] / branches.spread;
        const double share = cross_[b] / branch_[b].curvature;
        schur[branches.trunk[b]] -= share * cross_[b];
        pull[branches.trunk[b]] -= share * branch_[b].slope;
    }
    double largest = 0.0;
    for (std::size_t t = 0; t < pull.size(); ++t) {
        pull[t] = std::clamp(pull[t] / schur[t], -longest_step, longest_step);
        trunk.value[t] += pull[t];
        trunk.variance[t] = 1.0 / schur[t];
        largest = std::max(largest, std::abs(pull[t]));
    }
    for (std::size_t b = 0; b < branches.value.size(); ++b) {
        const std::size_t t = branches.trunk[b];
        const double share = cross_[b] / branch_[b].curvature;
        const double by = std::clamp(branch_[b].slope / branch_[b].curvature - share * pull[t],
                                     -longest_step, longest_step);
        branches.value[b] += by;
        branches.variance[b] = 1.0 / branch_[b].curvature + share * share / schur[t];
        branches.covariance[b] = -share / schur[t];
        largest = std::max(largest, std::abs(by));
    }
    return largest;
}

double LevelsFit::step_students() {
    trunk_.assign(out_.students_.value.size(), {});
    branch_.assign(out_.own_.value.size(), {});
    cross_.assign(out_.own_.value.size(), 0.0);
    for (const Row& row : rows_) {
        const Averaged a = averaged(row.log_odds, row.variance);
        const double s = sharp_[row.card];
        const double miss = row.weight * (row.right - a.p);
        const double bend = row.weight * a.slope;
        trunk_[row.student].slope += miss * s;
        trunk_[row.student].curvature += bend * s * s;
        branch_[row.own].slope += miss;
        branch_[row.own].curvature += bend;
        cross_[row.own] += bend * s;
    }
    const double moved = solve(out_.students_, out_.own_);
    refresh();
    return moved;
}

double LevelsFit::step_skills() {
    trunk_.assign(out_.skills_.value.size(), {});
    branch_.assign(out_.cards_.value.size(), {});
    for (const Row& row : rows_) {
        const Averaged a = averaged(row.log_odds, row.variance);
        branch_[row.card].slope += row.weight * (row.right - a.p);
        branch_[row.card].curvature += row.weight * a.slope;
    }
    cross_.assign(branch_.size(), 0.0);
    for (std::size_t b = 0; b < branch_.size(); ++b) {
        Push& trunk = trunk_[out_.cards_.trunk[b]];
        trunk.slope += branch_[b].slope;
        trunk.curvature += branch_[b].curvature;
        cross_[b] = branch_[b].curvature;
    }
    const double moved = solve(out_.skills_, out_.cards_);
    refresh();
    return moved;
}

double LevelsFit::step_common() {
    // One answer's worth of evidence for one half keeps all-right classes finite.
    const double start = logistic(out_.common_);
    double slope = 0.5 - start;
    double curvature = start * (1.0 - start);
    for (const Row& row : rows_) {
        const Averaged a = averaged(row.log_odds, row.variance);
        slope += row.weight * (row.right - a.p);
        curvature += row.weight * a.slope;
    }
    const double by = std::clamp(slope / curvature, -longest_step, longest_step);
    out_.common_ += by;
    for (Row& row : rows_)
        row.log_odds += by;
    return std::abs(by);
}

double LevelsFit::step_sharpness() {
    Family& family = out_.sharpness_;
    branch_.assign(family.value.size(), {});
    for (const Row& row : rows_) {
        const Averaged a = averaged(row.log_odds, row.variance);
        const double s = sharp_[row.card];
        const double mean = level(row);
        const double variance = out_.students_.variance[row.student];
        // The second term is the price of the level's own uncertainty (Stein's identity). Without
        // it few answers a student would let sharpness grow without end.
        const double shared = s * variance + out_.own_.covariance[row.own];
        branch_[row.card].slope +=
            row.weight * ((row.right - a.p) * s * mean - a.slope * s * shared);
        branch_[row.card].curvature += row.weight * a.slope * s * s * (mean * mean + variance);
    }
    double largest = 0.0;
    for (std::size_t i = 0; i < family.value.size(); ++i) {
        const double curvature = branch_[i].curvature + 1.0 / family.spread;
        const double by =
            std::clamp((branch_[i].slope - family.value[i] / family.spread) / curvature,
                       -longest_sharpness_step, longest_sharpness_step);
        family.value[i] += by;
        family.variance[i] = 1.0 / curvature;
        largest = std::max(largest, std::abs(by));
    }
    center_sharpness();
    refresh();
    return largest;
}

/// Sharpness and the spread of levels can trade off; the average card keeps sharpness one.
void LevelsFit::center_sharpness() {
    const double scale = std::exp(take_mean(out_.sharpness_.value));
    for (double& x : out_.students_.value)
        x *= scale;
    for (double& x : out_.students_.variance)
        x *= scale * scale;
    for (double& x : out_.own_.covariance)
        x *= scale;
    for (std::size_t i = 0; i < sharp_.size(); ++i)
        sharp_[i] = std::exp(out_.sharpness_.value[i]);
}

/// Moves the mean of every family into the common term, which changes no log odds but saves the
/// many rounds in which Newton steps would trade one against the other.
void LevelsFit::center_terms() {
    const double level = take_mean(out_.students_.value);
    for (std::size_t i = 0; i < sharp_.size(); ++i)
        out_.cards_.value[i] += sharp_[i] * level;
    out_.common_ += take_mean(out_.cards_.value);
    out_.common_ += take_mean(out_.skills_.value);
    out_.common_ += take_mean(out_.own_.value);
}

/// Sets every row's log odds and their variance from the terms.
void LevelsFit::refresh() {
    for (Row& row : rows_) {
        const double s = sharp_[row.card];
        row.log_odds = row.easier + out_.common_ + s * level(row) + out_.skills_.value[row.skill] +
                       out_.cards_.value[row.card] + out_.own_.value[row.own];
        row.variance = s * s * out_.students_.variance[row.student] +
                       2.0 * s * out_.own_.covariance[row.own] + out_.own_.variance[row.own] +
                       out_.skills_.variance[row.skill] + 2.0 * out_.cards_.covariance[row.card] +
                       out_.cards_.variance[row.card];
    }
}

double LevelsFit::learn_spreads() {
    double largest = 0.0;
    const auto learn = [&](Family& family, const Typical& prior) {
        double sum = prior.strength * prior.typical;
        for (std::size_t i = 0; i < family.value.size(); ++i)
            sum += family.value[i] * family.value[i] + family.variance[i];
        const double n = static_cast<double>(family.value.size()) + prior.strength;
        // Twice the step of expectation-maximisation in log spread: the plain one creeps where few
        // answers tell of each term.
        const double target = sum / n;
        const double further = std::clamp(target / family.spread, 0.5, 2.0);
        const double spread = std::clamp(target * further, least_spread, prior.most);
        largest = std::max(largest, std::abs(spread - family.spread) / family.spread);
        family.spread = spread;
    };
    learn(out_.students_, {0.5, 1.0, 25.0});
    learn(out_.skills_, {0.3, 1.0, 9.0});
    learn(out_.cards_, {0.3, 1.0, 9.0});
    learn(out_.own_, {0.1, 2.0, 9.0});
    learn(out_.sharpness_, {0.05, 6.0, 0.5});
    return largest;
}

double LevelsFit::step_all() {
    double moved = step_students();
    moved = std::max(moved, step_skills());
    moved = std::max(moved, step_sharpness());
    moved = std::max(moved, step_common());
    center_terms();
    return std::max(moved, 0.01 * learn_spreads());
}

void LevelsFit::note_pulls() {
    out_.pull_.assign(out_.own_.value.size(), {});
    for (const Row& row : rows_) {
        const Averaged a = averaged(row.log_odds, row.variance);
        Levels::Pull& pull = out_.pull_[row.own];
        pull.slope += row.weight * (row.right - a.p);
        pull.curvature += row.weight * a.slope;
    }
    // What the pair's own term would have taken up anyway did not pull on its trunks.
    for (Levels::Pull& pull : out_.pull_)
        pull.curvature /= 1.0 + pull.curvature * out_.own_.spread;
}

Levels LevelsFit::run() {
    if (!rows_.empty()) {
        refresh();
        const std::size_t rounds =
            std::clamp(most_visits / rows_.size(), fewest_rounds, most_rounds);
        for (std::size_t round = 0; round < rounds && step_all() > settled; ++round) {
        }
        refresh();
        note_pulls();
    }
    return std::move(out_);
}

}  // namespace tallyround::evidence
