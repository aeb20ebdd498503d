#pragma once
#include <array>
#include <span>

#include "evidence/model.h"

namespace tallyround::evidence {

/// What is believed about one student and one skill, on one day.
struct Estimate {
    double p = 0.0;     ///< chance that the student has it on that day
    double low = 0.0;   ///< 95 % score interval of Wilson 1927 with p seen in `strength` looks:
    double high = 1.0;  ///<   0..1 without marks, .44..1 after three secure ones, always holds p
    /// How many full marks the estimate stands on: help weighs less, days wear it down.
    double strength = 0.0;
    int marks = 0;          ///< marks counted, whatever their weight
    double last_day = 0.0;  ///< day of the last of them; meaningless without marks
};

/// What may be said in words. Never a firm one on three marks or fewer: three secure in a row
/// leave only 59 % belief that the rate exceeds .8 (1 - .8^4, uniform prior).
/// Words speak of the marks, never of the child.
enum class Standing {
    no_marks,   ///< nothing yet
    too_early,  ///< fewer than four full marks' worth
    likely,     ///< likely has it
    mixed,      ///< marks point both ways
    not_yet,    ///< likely needs another go
};
Standing standing(const Estimate& estimate);

/// Filters the marks of one student and one skill, one at a time, at a cost that does not depend
/// on how many came before. It keeps the product of the 2x2 forward matrices instead of a single
/// chance: the filtered chance is exact for *any* prior, so the prior may follow the class as it
/// changes without reading old marks again. About 64 bytes; copy freely.
class Trace {
  public:
    /// Counts one mark: forgetting since the mark before, Bayes' rule, then the learn step.
    /// Returns false and changes nothing when the mark is older than the last one counted;
    /// build again with `of` then. Requires a checked model, the same one in every call.
    bool add(const Model& model, const Mark& mark);

    /// All marks of one student and skill, in any order (sorted by day; same-day ties keep the
    /// order given).
    static Trace of(const Model& model, std::span<const Mark> marks);

    /// On the day of the last mark, after its learn step, from the model's prior or another one.
    Estimate estimate(const Model& model) const { return estimate(model, model.prior); }
    Estimate estimate(const Model& model, double prior) const;

    /// On a later day, forgetting taken into account; days before the last mark count as it.
    Estimate estimate_at(const Model& model, double prior, double day) const;

    int marks() const { return marks_; }
    double last_day() const { return last_day_; }
    Level last_level() const { return last_level_; }
    /// Secure marks without help on a later day than the mark before: what the half-life grows by.
    int spaced() const { return spaced_; }

  private:
    /// forward_[2 * now + before], 0 = known, 1 = unknown; scaled so that the largest is 1.
    std::array<double, 4> forward_{1.0, 0.0, 0.0, 1.0};
    double strength_ = 0.0;
    double last_day_ = 0.0;
    int marks_ = 0;
    int spaced_ = 0;
    Level last_level_ = Level::stuck;
};

/// Chances of the three levels at the next look, on a card of this difficulty.
Emission next_mark(const Model& model, double p, double difficulty = 0.0);

/// Expected information of one look: mutual information of the next mark and the hidden state, in
/// bits (Shannon 1948), 0 when p is 0 or 1.
double information(const Model& model, double p, double difficulty = 0.0);

}  // namespace tallyround::evidence
