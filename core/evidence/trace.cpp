#include "evidence/trace.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "evidence/intervals.h"

namespace tallyround::evidence {

namespace {

constexpr double firm_strength = 3.5;  // more than three full marks
constexpr double likely_p = 0.85;
constexpr double not_yet_p = 0.40;
constexpr double likely_low = 0.5;
constexpr double not_yet_high = 0.75;

double entropy_term(double x) {
    return x > 0.0 ? -x * std::log2(x) : 0.0;
}

double entropy(const Emission& e) {
    return entropy_term(e.secure) + entropy_term(e.shaky) + entropy_term(e.stuck);
}

Emission mix(const Emission& known, const Emission& unknown, double p) {
    return {p * known.secure + (1.0 - p) * unknown.secure,
            p * known.shaky + (1.0 - p) * unknown.shaky,
            p * known.stuck + (1.0 - p) * unknown.stuck};
}

}  // namespace

Standing standing(const Estimate& e) {
    if (e.marks == 0) return Standing::no_marks;
    if (e.strength < firm_strength) return Standing::too_early;
    if (e.p >= likely_p && e.low >= likely_low) return Standing::likely;
    if (e.p <= not_yet_p && e.high <= not_yet_high) return Standing::not_yet;
    return Standing::mixed;
}

bool Trace::add(const Model& model, const Mark& mark) {
    if (marks_ > 0 && mark.day < last_day_) return false;
    const double gap = marks_ > 0 ? mark.day - last_day_ : 0.0;
    const double keep = kept(model, spaced_, gap);
    const Likelihood seen = likelihood(model, mark);
    for (int before = 0; before < 2; ++before) {
        const double had = forward_[static_cast<std::size_t>(before)];
        const double had_not = forward_[static_cast<std::size_t>(2 + before)];
        const double known = had * keep * seen.known;
        const double unknown = (had_not + had * (1.0 - keep)) * seen.unknown;
        forward_[static_cast<std::size_t>(before)] = known + model.learn * unknown;
        forward_[static_cast<std::size_t>(2 + before)] = (1.0 - model.learn) * unknown;
    }
    const double largest = *std::max_element(forward_.begin(), forward_.end());
    for (double& x : forward_)
        x /= largest;
    strength_ = strength_ * keep + model.weight(mark.help);
    const bool later_day = marks_ > 0 && std::floor(mark.day) > std::floor(last_day_);
    if (later_day && mark.level == Level::secure && mark.help == Help::none) ++spaced_;
    last_day_ = mark.day;
    last_level_ = mark.level;
    ++marks_;
    return true;
}

Trace Trace::of(const Model& model, std::span<const Mark> marks) {
    std::vector<Mark> sorted(marks.begin(), marks.end());
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Mark& a, const Mark& b) { return a.day < b.day; });
    Trace out;
    for (const Mark& m : sorted)
        out.add(model, m);
    return out;
}

Estimate Trace::estimate(const Model& model, double prior) const {
    return estimate_at(model, prior, last_day_);
}

Estimate Trace::estimate_at(const Model& model, double prior, double day) const {
    const double known = forward_[0] * prior + forward_[1] * (1.0 - prior);
    const double unknown = forward_[2] * prior + forward_[3] * (1.0 - prior);
    const double keep = marks_ > 0 ? kept(model, spaced_, day - last_day_) : 1.0;
    Estimate out;
    out.p = known / (known + unknown) * keep;
    out.strength = strength_ * keep;
    const Interval range = wilson(out.p * out.strength, out.strength);
    out.low = std::min(range.low, out.p);
    out.high = std::max(range.high, out.p);
    out.marks = marks_;
    out.last_day = last_day_;
    return out;
}

Emission next_mark(const Model& model, double p, double difficulty) {
    return mix(at_difficulty(model.known, difficulty), at_difficulty(model.unknown, difficulty), p);
}

double information(const Model& model, double p, double difficulty) {
    const Emission known = at_difficulty(model.known, difficulty);
    const Emission unknown = at_difficulty(model.unknown, difficulty);
    const double bits =
        entropy(mix(known, unknown, p)) - p * entropy(known) - (1.0 - p) * entropy(unknown);
    return std::max(bits, 0.0);
}

}  // namespace tallyround::evidence
