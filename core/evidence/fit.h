#pragma once
#include <cstddef>
#include <vector>

#include "evidence/model.h"

namespace tallyround::evidence {

/// Marks of many student-skill pairs, one after the other, each pair in order of day.
/// Pair i is marks[ends[i-1]] .. marks[ends[i] - 1].
struct Sequences {
    std::vector<Mark> marks;
    std::vector<std::size_t> ends;

    void close() { ends.push_back(marks.size()); }  ///< ends the pair being appended
};

/// Where a fit may go. A model with likely luck or likely slips explains the same marks with the
/// meaning of the two states lost or swapped (Beck & Chang 2007, User Modeling, LNCS 4511:137).
struct Bounds {
    double known_secure_least = 0.6;
    double known_stuck_most = 0.2;
    double unknown_secure_most = 0.4;
    double unknown_stuck_least = 0.2;
    double learn_most = 0.5;
    double forget_most = 0.2;
    double edge = 0.01;  ///< prior stays within edge .. 1 - edge
};

struct FitSettings {
    Bounds bounds;
    /// Weight of the start model, as if so many marks, pairs and days had been seen to follow it.
    /// 0 gives maximum likelihood.
    double start_weight = 20.0;
    int most_rounds = 60;
    double settled = 1e-4;     ///< largest change of a parameter in the last round
    bool keep_forget = false;  ///< leave forgetting as it is
};

/// A fit is worth showing from here on; below, the start model stays.
inline constexpr std::size_t fit_least_marks = 300;
inline constexpr std::size_t fit_least_pairs = 40;

struct Fitted {
    Model model;          ///< checked; the start model when `enough` is false
    bool enough = false;  ///< at least fit_least_marks in fit_least_pairs of two or more
    std::size_t marks = 0;
    int rounds = 0;
    double log_likelihood_start = 0.0;
    double log_likelihood = 0.0;  ///< of the marks, help weights as powers
    bool at_bound = false;        ///< some parameter ended on a bound
};

/// Expectation-maximisation (Baum et al. 1970) with scaled forward-backward recursions: prior,
/// learn, forgetting (its censored exponential waiting times, closed form) and both emissions; with
/// cards of known difficulty the emissions take Newton steps on their tilted likelihood. Spacing
/// growth and help weights are not fitted. Each round is linear in the marks. Requires `start`
/// checked. The same marks in the same order give the same result.
Fitted fit_model(const Sequences& sequences, const Model& start, const FitSettings& settings = {});

/// Log likelihood of the marks under a checked model.
double log_likelihood(const Sequences& sequences, const Model& model);

}  // namespace tallyround::evidence
