#pragma once
#include <cstdint>
#include <span>
#include <unordered_map>
#include <vector>

#include "evidence/model.h"

namespace tallyround::evidence {

/// One answer, or one mark seen as an answer. Numbers are dense from 0; `item` is -1 when it is not
/// known which card it was.
struct Answer {
    int student = 0;
    int skill = 0;
    int item = -1;
    double right = 0.0;   ///< 0 wrong .. 1 right; a level's `credit` for a mark
    double weight = 1.0;  ///< a model's weight of the help; a sum for several answers at once
    double easier = 0.0;  ///< known shift of the log odds: minus the card's difficulty
};

/// A chance with its log odds and their variance (Laplace approximation, terms taken as
/// independent). `p` is averaged over that variance: log odds / sqrt(1 + pi v / 8), MacKay 1992.
struct Chance {
    double p = 0.5;
    double log_odds = 0.0;
    double variance = 0.0;
};

/// What separates students, skills and cards in one class:
///   log odds of right = common + sharpness(card) * level(student) + ease(skill)
///                       + ease(card in its skill) + own(student, skill)
/// A Rasch model (1960) with a sharpness as in Birnbaum 1968. Every term is shrunk to zero (log
/// sharpness too) by a normal distribution whose variance is learnt from the data, held near a
/// default while data are few. So a new student, skill or card is an average one, all-right and
/// all-wrong answers stay finite, and nothing has to be set by hand.
class Levels {
  public:
    /// Newton steps block by block until nothing moves by more than 1e-4, at most 80 rounds (from
    /// 125,000 answers on fewer, at least 20); each round is linear in the answers. Answers of
    /// weight 0 are ignored. The result does not depend on anything but the answers and their
    /// order.
    static Levels fit(std::span<const Answer> answers);

    /// The chance of a right answer. Unknown students, skills or items may be any other number.
    Chance chance(int student, int skill, int item = -1, double easier = 0.0) const;

    /// Prior of a Trace for this student and skill: what the student's other skills and the other
    /// students say, the pair's own answers taken out (they are in the Trace already). The chance
    /// of credit on an ordinary card is turned into the chance of known by the model's emissions;
    /// the model's own prior is where nothing is known. Held within .02 .. .98.
    double prior(const Model& model, int student, int skill) const;

    double common() const { return common_; }
    /// Log odds above the class; 0 for a student without answers.
    double level(int student) const { return value(students_, student); }
    /// Log odds easier than the average skill of this class; 0 for a skill without answers.
    double ease(int skill) const { return value(skills_, skill); }

  private:
    friend class LevelsFit;

    /// One family of shrunk terms: estimates, their variances, and the variance of the family.
    struct Family {
        std::vector<double> value;
        std::vector<double> variance;
        double spread = 1.0;
    };
    /// A family whose members each hang on one member of another: own on student, card on skill.
    struct Branches : Family {
        std::vector<std::size_t> trunk;
        std::vector<double> covariance;  ///< with the trunk
    };
    /// What the own answers of one student and skill pull on the student's level and skill's ease.
    struct Pull {
        double slope = 0.0;
        double curvature = 0.0;
    };

    static double value(const Family& family, int index);
    static double variance(const Family& family, int index);
    static std::int64_t key(int a, int b) { return (std::int64_t{a} << 32) | (b & 0xffffffffLL); }
    int find(const std::unordered_map<std::int64_t, int>& numbers, int a, int b) const;

    double common_ = 0.0;
    double answers_ = 0.0;  ///< sum of their weights
    Family students_;
    Family skills_;
    Branches cards_;    ///< by (skill, item)
    Branches own_;      ///< by (student, skill)
    Family sharpness_;  ///< log sharpness by (skill, item)
    std::vector<Pull> pull_;
    std::unordered_map<std::int64_t, int> card_number_;
    std::unordered_map<std::int64_t, int> own_number_;
};

}  // namespace tallyround::evidence
