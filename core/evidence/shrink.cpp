#include "evidence/shrink.h"

#include <algorithm>
#include <cassert>

namespace tallyround::evidence {

namespace {

struct Weighted {
    double mean = 0.0;
    double weight = 0.0;
    double weight2 = 0.0;
};

Weighted weighted_mean(std::span<const Observed> observed, double spread) {
    Weighted out;
    double sum = 0.0;
    for (const Observed& o : observed) {
        assert(o.variance > 0.0);
        const double w = 1.0 / (o.variance + spread);
        sum += w * o.mean;
        out.weight += w;
        out.weight2 += w * w;
    }
    out.mean = sum / out.weight;
    return out;
}

double moments_spread(std::span<const Observed> observed) {
    const Weighted w = weighted_mean(observed, 0.0);
    double q = 0.0;
    for (const Observed& o : observed)
        q += (o.mean - w.mean) * (o.mean - w.mean) / o.variance;
    const double left = w.weight - w.weight2 / w.weight;
    const double freedom = static_cast<double>(observed.size()) - 1.0;
    return left > 0.0 ? std::max((q - freedom) / left, 0.0) : 0.0;
}

}  // namespace

Shrinkage shrink(std::span<const Observed> observed) {
    Shrinkage out;
    if (observed.empty()) return out;
    out.spread = moments_spread(observed);
    const Weighted w = weighted_mean(observed, out.spread);
    out.common = w.mean;
    out.common_variance = 1.0 / w.weight;
    const auto k = static_cast<double>(observed.size());
    const double factor = observed.size() > 1 ? std::max((k - 3.0) / (k - 1.0), 1.0 / 3.0) : 1.0;
    const double factor_variance = observed.size() > 1 ? 2.0 / std::max(k - 3.0, 1.0) : 0.0;
    for (const Observed& o : observed) {
        const double pull = factor * o.variance / (o.variance + out.spread);
        const double way = out.common - o.mean;
        out.means.push_back({o.mean + pull * way, o.variance * (1.0 - pull) +
                                                      pull * pull * out.common_variance +
                                                      factor_variance * pull * pull * way * way});
    }
    return out;
}

}  // namespace tallyround::evidence
