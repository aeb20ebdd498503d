#include "evidence/intervals.h"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cassert>
#include <cmath>

namespace tallyround::evidence {

namespace {

namespace policies = boost::math::policies;
using policies::ignore_error;

// Plain double arithmetic everywhere, so that every platform takes the same path. Arguments are
// checked here, so Boost need not compose messages: that keeps its string streams, and with them
// the library's locales, out of the app.
using Plain =
    policies::policy<policies::promote_double<false>, policies::domain_error<ignore_error>,
                     policies::pole_error<ignore_error>, policies::overflow_error<ignore_error>,
                     policies::evaluation_error<ignore_error>,
                     policies::rounding_error<ignore_error>,
                     policies::indeterminate_result_error<ignore_error>>;

double beta_quantile(double a, double b, double share) {
    return boost::math::ibeta_inv(a, b, share, Plain());
}

}  // namespace

Interval wilson(double hits, double looks, double z) {
    assert(hits >= 0.0 && hits <= looks * (1.0 + 1e-12));
    if (looks <= 0.0) return {0.0, 1.0};
    const double z2 = z * z;
    const double misses = std::max(looks - hits, 0.0);
    const double middle = hits + 0.5 * z2;
    const double reach = z * std::sqrt(hits * misses / looks + 0.25 * z2);
    const double all = looks + z2;
    return {std::max((middle - reach) / all, 0.0), std::min((middle + reach) / all, 1.0)};
}

Interval jeffreys(double hits, double looks, double share) {
    const double a = hits + 0.5;
    const double b = looks - hits + 0.5;
    const double tail = 0.5 * (1.0 - share);
    return {hits > 0.0 ? beta_quantile(a, b, tail) : 0.0,
            hits < looks ? beta_quantile(a, b, 1.0 - tail) : 1.0};
}

Interval clopper_pearson(double hits, double looks, double share) {
    const double tail = 0.5 * (1.0 - share);
    const double misses = looks - hits;
    return {hits > 0.0 ? beta_quantile(hits, misses + 1.0, tail) : 0.0,
            hits < looks ? beta_quantile(hits + 1.0, misses, 1.0 - tail) : 1.0};
}

double belief_above(double x, double hits, double looks, double a, double b) {
    return boost::math::ibetac(a + hits, b + looks - hits, x, Plain());
}

double normal_below(double z) {
    return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

}  // namespace tallyround::evidence
