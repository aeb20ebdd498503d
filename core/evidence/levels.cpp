#include "evidence/levels.h"

#include <algorithm>
#include <cmath>

#include "evidence/levels_fit.h"
#include "evidence/logistic.h"

namespace tallyround::evidence {

namespace {

double mean_credit(const Emission& e) {
    return e.secure + 0.5 * e.shaky;
}

}  // namespace

double Levels::value(const Family& family, int index) {
    const auto i = static_cast<std::size_t>(index);
    return index >= 0 && i < family.value.size() ? family.value[i] : 0.0;
}

double Levels::variance(const Family& family, int index) {
    const auto i = static_cast<std::size_t>(index);
    return index >= 0 && i < family.variance.size() ? family.variance[i] : family.spread;
}

int Levels::find(const std::unordered_map<std::int64_t, int>& numbers, int a, int b) const {
    const auto it = numbers.find(key(a, b));
    return it == numbers.end() ? -1 : it->second;
}

Levels Levels::fit(std::span<const Answer> answers) {
    return LevelsFit(answers).run();
}

Chance Levels::chance(int student, int skill, int item, double easier) const {
    const int card = find(card_number_, skill, item);
    const int own = find(own_number_, student, skill);
    const double sharp = std::exp(value(sharpness_, card));
    Chance out;
    out.log_odds = common_ + sharp * value(students_, student) + value(skills_, skill) +
                   value(cards_, card) + value(own_, own) + easier;
    out.variance = sharp * sharp * variance(students_, student) + variance(skills_, skill) +
                   variance(cards_, card) + variance(own_, own);
    if (own >= 0) out.variance += 2.0 * sharp * own_.covariance[static_cast<std::size_t>(own)];
    if (card >= 0) out.variance += 2.0 * cards_.covariance[static_cast<std::size_t>(card)];
    out.p = averaged(out.log_odds, out.variance).p;
    return out;
}

double Levels::prior(const Model& model, int student, int skill) const {
    if (answers_ <= 0.0) return model.prior;
    const int own = find(own_number_, student, skill);
    const Pull pull = own >= 0 ? pull_[static_cast<std::size_t>(own)] : Pull{};
    // One Newton step away from the fit with the pair's own answers left out.
    const auto without = [&](const Family& family, int index) {
        const double var = variance(family, index);
        const double rest = std::max(1.0 / var - pull.curvature, 1.0 / family.spread);
        return std::pair(value(family, index) - pull.slope / rest, 1.0 / rest);
    };
    const auto [level, level_variance] = without(students_, student);
    const auto [ease, ease_variance] = without(skills_, skill);
    const double seen =
        averaged(common_ + level + ease, level_variance + ease_variance + own_.spread).p;
    const double known = mean_credit(model.known);
    const double unknown = mean_credit(model.unknown);
    if (known - unknown < 1e-6) return model.prior;
    const double implied = std::clamp((seen - unknown) / (known - unknown), 0.02, 0.98);
    // The model's prior stands for a few answers of its own, so a class begins there.
    const double trust = answers_ / (answers_ + 10.0);
    return std::clamp(model.prior + trust * (implied - model.prior), 0.02, 0.98);
}

}  // namespace tallyround::evidence
