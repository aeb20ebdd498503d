#include "evidence/expectation.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tallyround::evidence {

namespace {

/// What the days between two marks do.
struct Gap {
    double keep = 1.0;
    double days = 0.0;     ///< in units of the first half-life: days / growth^spaced
    double to_loss = 0.0;  ///< expected part of `days` until a loss known to fall within them
};

/// Likelihoods and gaps under one model. Ordinary cards and whole days, which are most, are worked
/// out once.
class Tables {
  public:
    Tables(const Model& model, double rate) : model_(model), rate_(rate) {
        for (std::size_t i = 0; i < plain_.size(); ++i)
            plain_[i] = evidence::likelihood(model, {0.0, Level(i % 3), Help(i / 3), 0.0});
        for (std::size_t spaced = 0; spaced < half_.size(); ++spaced)
            half_[spaced] = half_life(model, static_cast<double>(spaced));
    }

    Likelihood likelihood(const Mark& mark) const {
        if (mark.difficulty != 0.0) return evidence::likelihood(model_, mark);
        return plain_[std::size_t(mark.level) + 3 * std::size_t(mark.help)];
    }

    Gap gap(int spaced, double days) {
        if (days <= 0.0 || rate_ <= 0.0) return plain_gap(spaced, days);
        const auto s = static_cast<std::size_t>(spaced);
        const auto whole = static_cast<std::size_t>(std::min(days, 1e6));
        if (s >= half_.size() || whole >= whole_days || static_cast<double>(whole) != days) {
            return work_out(s < half_.size() ? half_[s] : half_life(model_, spaced), days);
        }
        Gap& held = gaps_[s * whole_days + whole];
        if (held.days == 0.0) held = work_out(half_[s], days);
        return held;
    }

  private:
    static constexpr std::size_t whole_days = 64;
    static constexpr std::size_t spaced_most = 32;

    /// Nothing is lost, or all of it at once.
    Gap plain_gap(int spaced, double days) const {
        const double keep = kept(model_, spaced, days);
        return {keep, keep < 1.0 ? days : 0.0, 0.5 * days};
    }

    Gap work_out(double half, double days) const {
        const double shortened = days * half_[0] / half;
        const double x = rate_ * shortened;
        return {std::exp2(-days / half), shortened,
                x < 1e-5 ? 0.5 * shortened : 1.0 / rate_ - shortened / std::expm1(x)};
    }

    const Model& model_;
    double rate_;
    std::array<Likelihood, 9> plain_;
    std::array<double, spaced_most> half_{};
    std::array<Gap, spaced_most * whole_days> gaps_{};
};

/// One mark of a pair during the two recursions. Chances are of known; forward and backward
/// values are scaled so that forward sums to one at every mark.
struct Step {
    Likelihood seen;
    double weight = 1.0;
    Gap gap;  ///< from the mark before to this one
    double forward_known = 0.0;
    double scale = 1.0;
};

/// Forward recursion; returns the log likelihood.
double forward(const Model& model, Tables& tables, std::span<const Mark> marks,
               std::vector<Step>& steps) {
    double known = model.prior;
    double unknown = 1.0 - model.prior;
    double log_likelihood = 0.0;
    double product = 1.0;
    int spaced = 0;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        Step& s = steps[i];
        s.gap = i > 0 ? tables.gap(spaced, marks[i].day - marks[i - 1].day) : Gap{};
        s.seen = tables.likelihood(marks[i]);
        s.weight = model.weight(marks[i].help);
        if (i > 0) {
            const double learnt = known + unknown * model.learn;
            known = learnt * s.gap.keep;
            unknown = 1.0 - known;
        }
        known *= s.seen.known;
        unknown *= s.seen.unknown;
        s.scale = known + unknown;
        known /= s.scale;
        unknown /= s.scale;
        s.forward_known = known;
        product *= s.scale;
        if (product < 1e-200) {
            log_likelihood += std::log(product);
            product = 1.0;
        }
        const bool later = i > 0 && std::floor(marks[i].day) > std::floor(marks[i - 1].day);
        if (later && marks[i].level == Level::secure && marks[i].help == Help::none) ++spaced;
    }
    return log_likelihood + std::log(product);
}

/// Adds the step from a mark to the next. `back_*` are the backward values of the next mark.
void count_step(const Model& model, const Step& from, const Step& next, double back_known,
                double back_unknown, Counts& counts) {
    const double to_known = next.seen.known * back_known / next.scale;
    const double to_unknown = next.seen.unknown * back_unknown / next.scale;
    const double had = from.forward_known;
    const double had_not = 1.0 - had;
    const double lose = 1.0 - next.gap.keep;
    const double learned = had_not * model.learn * (next.gap.keep * to_known + lose * to_unknown);
    const double still_not = had_not * (1.0 - model.learn) * to_unknown;
    counts.could_learn += learned + still_not;
    counts.learned += learned;
    const double held = had + had_not * model.learn;
    const double lost = held * lose * to_unknown;
    counts.lost += lost;
    counts.exposed_days +=
        held * next.gap.keep * to_known * next.gap.days + lost * next.gap.to_loss;
}

void expect_pair(const Model& model, Tables& tables, std::span<const Mark> marks,
                 std::vector<Step>& steps, Counts& counts) {
    counts.log_likelihood += forward(model, tables, marks, steps);
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
        count_step(model, steps[i - 1], steps[i], back_known, back_unknown, counts);
        const double to_known = steps[i].seen.known * back_known / steps[i].scale;
        const double to_unknown = steps[i].seen.unknown * back_unknown / steps[i].scale;
        const double keep = steps[i].gap.keep;
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
    Tables tables(model, rate);
    std::vector<Step> steps;
    std::size_t begin = 0;
    for (const std::size_t end : sequences.ends) {
        if (end > begin) {
            steps.assign(end - begin, {});
            expect_pair(model, tables, std::span(sequences.marks).subspan(begin, end - begin),
                        steps, counts);
        }
        begin = end;
    }
    return counts;
}

}  // namespace tallyround::evidence
