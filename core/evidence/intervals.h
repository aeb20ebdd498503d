#pragma once

namespace tallyround::evidence {

/// A range inside 0..1.
struct Interval {
    double low = 0.0;
    double high = 1.0;
};

/// 97.5 % point of the standard normal distribution: 95 % between minus and plus this.
inline constexpr double z95 = 1.959963984540054;

/// Score interval of Wilson 1927 for `hits` of `looks`, neither needing to be whole; 0..1 without
/// looks. Closed form, holds hits/looks. Requires 0 <= hits <= looks.
Interval wilson(double hits, double looks, double z = z95);

/// Equal-tailed interval of Beta(hits + 1/2, looks - hits + 1/2) holding `share`; the end is 0 or
/// 1 when hits is 0 or all (Brown, Cai, DasGupta 2001, Stat. Sci. 16:101).
Interval jeffreys(double hits, double looks, double share = 0.95);

/// Interval of Clopper & Pearson 1934: covers at least `share`, wider than the two above.
Interval clopper_pearson(double hits, double looks, double share = 0.95);

/// Belief that a rate exceeds `x` after `hits` of `looks`, starting from Beta(a, b).
double belief_above(double x, double hits, double looks, double a = 1.0, double b = 1.0);

/// Standard normal distribution function.
double normal_below(double z);

}  // namespace tallyround::evidence
