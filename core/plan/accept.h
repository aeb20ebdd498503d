#pragma once
#include <cstdint>

#include "base/random.h"

namespace tallyround::plan {

/// exp(-x) for x >= 0 as (1 - x/1024)^1024: only basic IEEE operations, so every platform gets the
/// same bits (std::exp may differ in the last one). Off by less than 0.04 in absolute terms.
inline double falling_exp(double x) {
    if (x >= 40.0) return 0.0;
    double y = 1.0 - x / 1024.0;
    for (int i = 0; i < 10; ++i)
        y *= y;
    return y;
}

/// Metropolis et al. 1953: a step that costs `delta` more is taken with chance exp(-delta / T).
inline bool accept(double delta, double temperature, base::Random& random) {
    if (delta <= 0.0) return true;
    const double x = delta / temperature;
    return x < 40.0 && random.unit() < falling_exp(x);
}

/// factor with factor^steps = ratio, by bisection: basic operations only, the same everywhere.
inline double root_of(double ratio, std::int64_t steps) {
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        double power = 1.0;
        double base = middle;
        for (std::int64_t n = steps; n > 0; n /= 2) {
            if (n % 2 == 1) power *= base;
            base *= base;
        }
        (power < ratio ? low : high) = middle;
    }
    return high;
}

}  // namespace tallyround::plan
