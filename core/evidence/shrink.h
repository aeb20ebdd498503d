#pragma once
#include <span>
#include <vector>

namespace tallyround::evidence {

/// A mean that was observed and the variance of its error.
struct Observed {
    double mean = 0.0;
    double variance = 1.0;  ///< > 0
};

/// What shrinkage makes of it.
struct Shrunk {
    double mean = 0.0;
    double variance = 0.0;  ///< posterior, the uncertain common mean included
};

/// Common mean, variance of the true means around it, and every mean shrunk toward it.
struct Shrinkage {
    double common = 0.0;
    double common_variance = 0.0;
    double spread = 0.0;  ///< variance of the true means
    std::vector<Shrunk> means;
};

/// Parametric empirical Bayes for normal means with unequal variances (Morris 1983, JASA 78:47).
/// `spread` by the moments of DerSimonian & Laird 1986 (Controlled Clinical Trials 7:177); the
/// common mean weighs each by 1 / (variance + spread); each mean goes variance / (variance +
/// spread) of its way there, times (k - 3) / (k - 1) for k means (at least 1/3), which for equal
/// variances is the estimator of James & Stein 1961 as Efron & Morris 1975 use it (JASA 70:311).
/// The posterior variance counts the common mean and the factor itself as uncertain. One mean
/// stays as it is. Empty in, empty out.
Shrinkage shrink(std::span<const Observed> observed);

}  // namespace tallyround::evidence
