#pragma once
#include <span>
#include <vector>

#include "evidence/trace.h"

namespace tallyround::advise {

/// One student and one skill as they stand today.
struct Holding {
    int student = 0;
    int skill = 0;
    double p = 0.0;     ///< chance that the student has it today
    int spaced = 0;     ///< spaced successes so far (evidence::Trace::spaced)
    double days = 0.0;  ///< days since the last mark; negative without marks
};

/// What reviewing one skill next would do for the class.
struct SkillReview {
    int skill = 0;
    double gain = 0.0;  ///< students more expected to hold it on the day than without a review
    double held = 0.0;  ///< students expected to hold it on the day without a review
    int students = 0;   ///< students counted
    int need_it = 0;    ///< students with p below one half: candidates for the teacher center
    int slipping = 0;   ///< students above one half now and below it on the day
};

/// Effect of one review block on a pair: chance p becomes p + (1 - p) * taught, and the half-life
/// grows when at least a day has passed since the last look. A design choice without a source.
struct ReviewEffect {
    double taught = 0.35;
};

/// Skills in the order in which reviewing them today is worth most, `days_ahead` days from now
/// (0: today). Equal gains: smaller skill number first. Linear in the holdings, then a sort.
std::vector<SkillReview> order_review(const evidence::Model& model,
                                      std::span<const Holding> holdings, double days_ahead,
                                      const ReviewEffect& effect = {});

}  // namespace tallyround::advise
