#pragma once
#include <span>
#include <vector>

#include "evidence/fit.h"

namespace tallyround::evidence {

/// A mark with how much of it each state accounts for.
struct Shared {
    Level level;
    double difficulty;
    double known;  ///< chance of known at this mark given all marks, times the help weight
    double unknown;
};

/// What one pass over the marks says about the hidden steps: expected counts.
struct Counts {
    double pairs = 0.0;
    double started_known = 0.0;
    double could_learn = 0.0;  ///< unknown at a mark that is not the pair's last
    double learned = 0.0;
    double lost = 0.0;          ///< times a known skill was lost between two marks
    double exposed_days = 0.0;  ///< days it was held, shortened by spacing, up to the loss
    double log_likelihood = 0.0;
    std::vector<Shared> shared;  ///< one a mark, in order
};

/// E-step over all pairs. Exact: forward-backward, and the waiting time until a loss known only to
/// lie between two marks is replaced by its expectation.
Counts expect(const Sequences& sequences, const Model& model);

}  // namespace tallyround::evidence
