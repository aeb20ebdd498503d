#pragma once
#include <string>
#include <vector>

#include "base/result.h"
#include "evidence/marks.h"

namespace tallyround::evidence {

/// Chances of the three levels in one hidden state; they sum to 1.
struct Emission {
    double secure = 0.0;
    double shaky = 0.0;
    double stuck = 0.0;
    double of(Level level) const {
        return level == Level::secure ? secure : level == Level::shaky ? shaky : stuck;
    }
};

/// Parameters of the two-state hidden Markov model of one student and one skill: the student has
/// it ("known") or not yet ("unknown"). Bayesian knowledge tracing (Corbett & Anderson 1995, UMUAI
/// 4:253) with three levels, help, difficulty and forgetting added. The defaults are design
/// choices: chance levels inside the bounds of Beck & Chang 2007 (a secure mark by luck at most
/// .3, a slip at most .3), weak learning per look, a half-life of some seven weeks.
struct Model {
    double prior = 0.5;             ///< chance of known before any mark
    double learn = 0.1;             ///< chance that one look turns unknown into known
    double forget_per_day = 0.014;  ///< chance that a day turns known into unknown
    /// Factor by which the half-life grows with every secure mark, without help, on a later day
    /// than the mark before it. 1 keeps forgetting constant.
    double spacing_growth = 1.6;
    Emission known{0.85, 0.10, 0.05};
    Emission unknown{0.20, 0.30, 0.50};
    double hint = 0.5;      ///< weight of a mark after a hint, 0 (nothing) to 1 (like none)
    double together = 0.2;  ///< weight of a mark reached together

    double weight(Help help) const {
        return help == Help::none ? 1.0 : help == Help::hint ? hint : together;
    }
};

/// A model that can be used, and what was changed in it, one plain sentence each.
struct CheckedModel {
    Model model;
    std::vector<std::string> repairs;
};

/// Refuses what contradicts itself: numbers outside 0..1 or not finite, chances that do not sum to
/// 1 (within 1e-6), secure likelier when unknown, stuck likelier when known. Error::where is a JSON
/// pointer below the model ("/emit/unknown/secure"). Repairs one thing, and says so: a shaky mark
/// that would count above secure or below stuck is moved to the nearer of the two.
base::Result<CheckedModel> check(const Model& model);

/// Chances of the three levels for a card of this difficulty, in the state given.
/// Adjacent-category tilt (partial credit model, Masters 1982): chances times e^(-difficulty *
/// credit), rescaled; with two levels it is a plain logit shift. It multiplies all three likelihood
/// ratios by one factor, so their order never changes. Difficulty is held within -10..10.
Emission at_difficulty(const Emission& emission, double difficulty);

/// Likelihoods of one mark in the two states, help taken as a power (weight of evidence), their
/// ratio within 1e-12 .. 1e12 so that a surprise is strong evidence and never a division by zero.
/// The ratio of secure is at least that of shaky, and that at least the one of stuck, marks that
/// neither state makes included.
struct Likelihood {
    double known = 1.0;
    double unknown = 1.0;
};
Likelihood likelihood(const Model& model, const Mark& mark);

/// Chance that known is still known `days` later after `spaced` spaced successes (a mean of several
/// students' need not be whole):
/// (1 - forget_per_day)^(days / spacing_growth^spaced). Half-life form: Settles & Meeder 2016.
double kept(const Model& model, double spaced, double days);

/// Days until `kept` is one half; infinite when nothing is forgotten, at most about ten years
/// otherwise (3650 days), where growth stops.
double half_life(const Model& model, double spaced);

}  // namespace tallyround::evidence
