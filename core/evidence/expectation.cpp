#include "evidence/expectation.h"

#include <cmath>

namespace tallyround::evidence {

namespace {

/// One mark of a pair during the two recursions. Chances are of known; forward and backward
/// values are scaled so that forward sums to one at every mark.
struct Step {
    Likelihood seen;
    double weight = 1.0;
    double keep = 1.0;  ///< from the mark before to this one
    double days = 0.0;  ///< in units of the first half-life: days / growth^spaced
    double forward_known = 0.0;
    double scale = 1.0;
};

double shortened_days(const Model& model, int spaced, double days) {
    const double now = half_life(model, spaced);
    return now > 0.0 ? days * half_life(model, 0) / now : days;
}

/// Forward recursion; returns the log likelihood.
double forward(const Model& model, std::span<const Mark> marks, std::vector<Step>& steps) {
    double known = model.prior;
    double unknown = 1.0 - model.prior;
    double log_likelihood = 0.0;
    int spaced = 0;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        Step& s = steps[i];
        const double gap = i > 0 ? marks[i].day - marks[i - 1].day : 0.0;
        s.keep = kept(model, spaced, gap);
        s.days = s.keep < 1.0 ? shortened_days(model, spaced, gap) : 0.0;
        s.seen = likelihood(model, marks[i]);
        s.weight = model.weight(marks[i].help);
        if (i > 0) {
            const double learnt = known + unknown * model.learn;
            known = learnt * s.keep;
            unknown = 1.0 - known;
        }
        known *= s.seen.known;
        unknown *= s.seen.unknown;
        s.scale = known + unknown;
        known /= s.scale;
        unknown /= s.scale;
        s.forward_known = known;
        log_likelihood += std::log(s.scale);
        const bool later = i > 0 && std::floor(marks[i].day) > std::floor(marks[i - 1].day);
        if (later && marks[i].level == Level::secure && marks[i].help == Help::none) ++spaced;
    }
    return log_likelihood;
}

/// Expected days until a loss known to fall within `days`, for this loss rate.
double days_to_loss(double rate, double days) {
    const double x = rate * days;
    if (x < 1e-5) return 0.5 * days;
    return 1.0 / rate - days / std::expm1(x);
}

/// Adds the step from a mark to the next. `back_*` are the backward values of the next mark.
void count_step(const Model& model, double rate, const Step& from, const Step& next,
                double back_known, double back_unknown, Counts& counts) {
    const double to_known = next.seen.known * back_known / next.scale;
    const double to_unknown = next.seen.unknown * back_unknown / next.scale;
    const double had = from.forward_known;
    const double had_not = 1.0 - had;
    const double lose = 1.0 - next.keep;
    const double learned = had_not * model.learn * (next.keep * to_known + lose * to_unknown);
    const double still_not = had_not * (1.0 - model.learn) * to_unknown;
    counts.could_learn += learned + still_not;
    counts.learned += learned;
    const double held = had + had_not * model.learn;
    const double lost = held * lose * to_unknown;
    counts.lost += lost;
    if (next.days > 0.0) {
        counts.exposed_days +=
            held * next.keep * to_known * next.days + lost * days_to_loss(rate, next.days);
    }
}

void expect_pair(const Model& model, double rate, std::span<const Mark> marks,
                 std::vector<Step>& steps, Counts& counts) {
    counts.log_likelihood += forward(model, marks, steps);
    const std::size_t first = counts.shared.size();
    counts.shared.resize(first + marks.size());
    double back_known = 1.0;
    double back_unknown = 1.0;
    for (std::size_t i = marks.size(); i-- > 0;) {
        const double known = steps[i].forward_known * back_known;
        const double unknown = (1.0 - steps[i].forward_known) * back_unknown;
        const double sum = known + unknown;
        counts.shared[first + i] = {marks[i].level, marks[i].difficulty,
                                    steps[i].weight * known / sum, steps[i].weight * unknown / sum};
        if (i == 0) {
            counts.started_known += known / sum;
            break;
        }
        count_step(model, rate, steps[i - 1], steps[i], back_known, back_unknown, counts);
        const double to_known = steps[i].seen.known * back_known / steps[i].scale;
        const double to_unknown = steps[i].seen.unknown * back_unknown / steps[i].scale;
        const double keep = steps[i].keep;
        back_known = keep * to_known + (1.0 - keep) * to_unknown;
        back_unknown = model.learn * back_known + (1.0 - model.learn) * to_unknown;
    }
    counts.pairs += 1.0;
}

}  // namespace

Counts expect(const Sequences& sequences, const Model& model) {
    Counts counts;
    counts.shared.reserve(sequences.marks.size());
    const double rate = model.forget_per_day > 0.0 && model.forget_per_day < 1.0
                            ? -std::log1p(-model.forget_per_day)
                            : 0.0;
    std::vector<Step> steps;
    std::size_t begin = 0;
    for (const std::size_t end : sequences.ends) {
        if (end > begin) {
            steps.assign(end - begin, {});
            expect_pair(model, rate, std::span(sequences.marks).subspan(begin, end - begin), steps,
                        counts);
        }
        begin = end;
    }
    return counts;
}

}  // namespace tallyround::evidence
