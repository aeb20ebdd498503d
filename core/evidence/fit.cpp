#include "evidence/fit.h"

#include <algorithm>
#include <cmath>

#include "evidence/expectation.h"

namespace tallyround::evidence {

namespace {

double clamped(double x, double low, double high, bool& at_bound) {
    if (x < low || x > high) at_bound = true;
    return std::clamp(x, low, high);
}

/// Weighted counts of the three levels as an emission.
Emission shares(const Emission& counts) {
    const double sum = counts.secure + counts.shaky + counts.stuck;
    return {counts.secure / sum, counts.shaky / sum, counts.stuck / sum};
}

void count(Emission& counts, Level level, double by) {
    (level == Level::secure  ? counts.secure
     : level == Level::shaky ? counts.shaky
                             : counts.stuck) += by;
}

/// Newton steps for log odds of secure and shaky against stuck, cards tilting each mark:
/// sum of w * log P(level | difficulty) plus the start model's pseudo-marks.
class TiltedFit {
  public:
    TiltedFit(const std::vector<Shared>& marks, bool known, const Emission& pseudo)
        : marks_(marks), known_(known), pseudo_(pseudo) {}

    Emission improve(Emission e) const {
        for (int i = 0; i < 3; ++i)
            e = newton(e);
        return e;
    }

  private:
    struct Sums {
        Emission seen;
        Emission expected;
        double secure2 = 0.0, shaky2 = 0.0, both = 0.0;  ///< information matrix
    };

    static void add(Sums& sums, const Emission& chance, double weight) {
        sums.expected.secure += weight * chance.secure;
        sums.expected.shaky += weight * chance.shaky;
        sums.secure2 += weight * chance.secure * (1.0 - chance.secure);
        sums.shaky2 += weight * chance.shaky * (1.0 - chance.shaky);
        sums.both -= weight * chance.secure * chance.shaky;
    }

    Emission newton(const Emission& e) const {
        Sums sums;
        sums.seen = pseudo_;
        add(sums, e, pseudo_.secure + pseudo_.shaky + pseudo_.stuck);
        for (const Shared& m : marks_) {
            const double weight = known_ ? m.known : m.unknown;
            count(sums.seen, m.level, weight);
            add(sums, at_difficulty(e, m.difficulty), weight);
        }
        const double slope_secure = sums.seen.secure - sums.expected.secure;
        const double slope_shaky = sums.seen.shaky - sums.expected.shaky;
        const double a = sums.secure2 + 1e-9;
        const double b = sums.shaky2 + 1e-9;
        const double det = a * b - sums.both * sums.both;
        const double by_secure =
            std::clamp((b * slope_secure - sums.both * slope_shaky) / det, -1.0, 1.0);
        const double by_shaky =
            std::clamp((a * slope_shaky - sums.both * slope_secure) / det, -1.0, 1.0);
        return shares({e.secure * std::exp(by_secure), e.shaky * std::exp(by_shaky), e.stuck});
    }

    const std::vector<Shared>& marks_;
    bool known_;
    Emission pseudo_;
};

Emission scaled(const Emission& e, double by) {
    return {e.secure * by, e.shaky * by, e.stuck * by};
}

Emission emission_step(const std::vector<Shared>& marks, bool known, const Emission& now,
                       const Emission& start, double start_weight) {
    Emission counts = scaled(start, start_weight);
    bool tilted = false;
    for (const Shared& m : marks) {
        count(counts, m.level, known ? m.known : m.unknown);
        tilted = tilted || m.difficulty != 0.0;
    }
    if (counts.secure + counts.shaky + counts.stuck <= 0.0) return now;
    if (!tilted) return shares(counts);
    return TiltedFit(marks, known, scaled(start, start_weight)).improve(now);
}

Emission bounded(const Emission& e, double secure_low, double secure_high, double stuck_low,
                 double stuck_high, bool& at_bound) {
    const double secure = clamped(e.secure, secure_low, secure_high, at_bound);
    const double stuck = clamped(e.stuck, stuck_low, std::min(stuck_high, 1.0 - secure), at_bound);
    // What the bounds took or gave is shaky's; when nothing is left for it, stuck gives way.
    const double shaky = e.shaky > 0.0 ? std::max(1.0 - secure - stuck, 0.0) : 0.0;
    return {secure, shaky, 1.0 - secure - shaky};
}

double forget_step(const Counts& counts, const Model& now, const Model& start,
                   const FitSettings& settings) {
    const double start_rate = -std::log1p(-std::min(start.forget_per_day, 0.999));
    if (counts.exposed_days <= 0.0 || settings.keep_forget || start_rate <= 0.0) {
        return now.forget_per_day;
    }
    // So many days of holding a skill with the losses the start model expects.
    const double days = 10.0 * settings.start_weight;
    const double rate = (counts.lost + days * start_rate) / (counts.exposed_days + days);
    return -std::expm1(-rate);
}

Model maximise(const Counts& counts, const Model& now, const Model& start,
               const FitSettings& settings, bool& at_bound) {
    const double w = settings.start_weight;
    const Bounds& b = settings.bounds;
    Model m = now;
    m.prior = clamped((counts.started_known + w * start.prior) / (counts.pairs + w), b.edge,
                      1.0 - b.edge, at_bound);
    if (counts.could_learn + w > 0.0) {
        m.learn = clamped((counts.learned + w * start.learn) / (counts.could_learn + w), 0.0,
                          b.learn_most, at_bound);
    }
    m.forget_per_day =
        clamped(forget_step(counts, now, start, settings), 0.0, b.forget_most, at_bound);
    m.known = bounded(emission_step(counts.shared, true, now.known, start.known, w),
                      b.known_secure_least, 1.0, 0.0, b.known_stuck_most, at_bound);
    m.unknown = bounded(emission_step(counts.shared, false, now.unknown, start.unknown, w), 0.0,
                        b.unknown_secure_most, b.unknown_stuck_least, 1.0, at_bound);
    return m;
}

double largest_change(const Model& a, const Model& b) {
    const double changes[] = {a.prior - b.prior,
                              a.learn - b.learn,
                              a.forget_per_day - b.forget_per_day,
                              a.known.secure - b.known.secure,
                              a.known.stuck - b.known.stuck,
                              a.unknown.secure - b.unknown.secure,
                              a.unknown.stuck - b.unknown.stuck};
    double largest = 0.0;
    for (const double c : changes)
        largest = std::max(largest, std::abs(c));
    return largest;
}

bool enough_marks(const Sequences& sequences) {
    std::size_t pairs = 0;
    std::size_t begin = 0;
    for (const std::size_t end : sequences.ends) {
        pairs += end - begin >= 2 ? 1 : 0;
        begin = end;
    }
    return pairs >= fit_least_pairs && sequences.marks.size() >= fit_least_marks;
}

}  // namespace

double log_likelihood(const Sequences& sequences, const Model& model) {
    return expect(sequences, model).log_likelihood;
}

Fitted fit_model(const Sequences& sequences, const Model& start, const FitSettings& settings) {
    Fitted out;
    out.model = start;
    out.marks = sequences.marks.size();
    out.enough = enough_marks(sequences);
    out.log_likelihood_start = log_likelihood(sequences, start);
    out.log_likelihood = out.log_likelihood_start;
    if (!out.enough) return out;
    Model now = start;
    for (out.rounds = 0; out.rounds < settings.most_rounds;) {
        bool at_bound = false;
        const Model next = maximise(expect(sequences, now), now, start, settings, at_bound);
        const double change = largest_change(next, now);
        now = next;
        out.at_bound = at_bound;
        ++out.rounds;
        if (change <= settings.settled) break;
    }
    // Bounds keep a fit meaningful; `check` only puts a shaky mark back between the other two.
    if (const auto checked = check(now)) out.model = checked->model;
    out.log_likelihood = log_likelihood(sequences, out.model);
    return out;
}

}  // namespace tallyround::evidence
