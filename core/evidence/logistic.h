#pragma once
#include <cmath>

namespace tallyround::evidence {

/// Chance from log odds, without overflow at either end.
inline double logistic(double log_odds) {
    if (log_odds >= 0.0) return 1.0 / (1.0 + std::exp(-log_odds));
    const double e = std::exp(log_odds);
    return e / (1.0 + e);
}

/// Log odds of a chance strictly between 0 and 1.
inline double log_odds(double p) {
    return std::log(p / (1.0 - p));
}

/// A chance averaged over normal log odds, and how fast it changes with their mean.
struct Averaged {
    double p = 0.5;
    double slope = 0.25;
};

/// logistic(mean / sqrt(1 + pi variance / 8)): MacKay 1992, Neural Computation 4:720.
inline Averaged averaged(double mean, double variance) {
    constexpr double pi_over_8 = 0.39269908169872414;
    const double scale = 1.0 / std::sqrt(1.0 + pi_over_8 * variance);
    const double p = logistic(mean * scale);
    return {p, scale * p * (1.0 - p)};
}

}  // namespace tallyround::evidence
