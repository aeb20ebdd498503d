#pragma once
#include <span>
#include <vector>

#include "evidence/levels.h"

namespace tallyround::evidence {

/// Fits Levels by variational Bayes: every term has a normal posterior, and its mean takes Newton
/// steps on the expected log likelihood. Students with their own (student, skill) terms, and skills
/// with their cards, are each solved together: an answer touches one trunk (student, skill) and one
/// of its branches (own, card), so the matrix of a trunk is an arrow and its Schur complement one
/// number. Expectations over an answer's log odds use the closed form of `averaged`. A family's
/// variance is (sum of squares + posterior variances + prior) / count. Unlike a joint mode this
/// stays sound with few answers a student (Neyman & Scott 1948 is what it avoids).
class LevelsFit {
  public:
    explicit LevelsFit(std::span<const Answer> answers);
    Levels run();

  private:
    using Family = Levels::Family;
    using Branches = Levels::Branches;
    /// A weak inverse-gamma prior on a family's variance: `strength` terms of variance `typical`.
    struct Typical {
        double typical;
        double strength;
        double most;
    };
    struct Row {
        std::size_t student;
        std::size_t skill;
        std::size_t card;
        std::size_t own;
        double right;
        double weight;
        double easier;
        double log_odds;
        double variance;
    };
    /// Slope and curvature of the expected log likelihood along one term.
    struct Push {
        double slope = 0.0;
        double curvature = 0.0;
    };

    void read(std::span<const Answer> answers);
    double step_students();
    double step_skills();
    /// Solves trunks and branches from `trunk_`, `branch_` and `cross_`; returns the largest move.
    double solve(Family& trunk, Branches& branches);
    double step_common();
    double step_sharpness();
    void center_sharpness();
    void center_terms();
    double learn_spreads();
    void refresh();
    void note_pulls();
    double step_all();
    double level(const Row& row) const { return out_.students_.value[row.student]; }

    Levels out_;
    std::vector<Row> rows_;
    std::vector<double> sharp_;  ///< e^log sharpness by card
    std::vector<Push> trunk_;
    std::vector<Push> branch_;
    std::vector<double> cross_;  ///< curvature between a branch and its trunk
};

}  // namespace tallyround::evidence
