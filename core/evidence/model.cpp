#include "evidence/model.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace tallyround::evidence {

namespace {

constexpr double least_ratio = 1e-12;
constexpr double longest_half_life = 3650.0;
constexpr double most_difficulty = 10.0;

bool in_unit(double x) {
    return x >= 0.0 && x <= 1.0;  // false for NaN
}

std::optional<base::Error> range_error(const Model& m) {
    const std::pair<const char*, double> units[] = {
        {"/prior", m.prior},
        {"/learn", m.learn},
        {"/forget_per_day", m.forget_per_day},
        {"/help/hint", m.hint},
        {"/help/together", m.together},
        {"/emit/known/secure", m.known.secure},
        {"/emit/known/shaky", m.known.shaky},
        {"/emit/known/stuck", m.known.stuck},
        {"/emit/unknown/secure", m.unknown.secure},
        {"/emit/unknown/shaky", m.unknown.shaky},
        {"/emit/unknown/stuck", m.unknown.stuck},
    };
    for (const auto& [where, value] : units) {
        if (!in_unit(value)) return base::Error{where, "Expected a number from 0 to 1."};
    }
    if (!(m.spacing_growth >= 1.0 && m.spacing_growth <= 10.0)) {
        return base::Error{"/spacing_growth", "Expected a number from 1 to 10."};
    }
    return std::nullopt;
}

bool sums_to_one(const Emission& e) {
    return std::abs(e.secure + e.shaky + e.stuck - 1.0) <= 1e-6;
}

std::optional<base::Error> contradiction(const Model& m) {
    if (!sums_to_one(m.known) || !sums_to_one(m.unknown)) {
        return base::Error{sums_to_one(m.known) ? "/emit/unknown" : "/emit/known",
                           "The chances of secure, shaky and stuck must sum to 1."};
    }
    if (m.unknown.secure > m.known.secure) {
        return base::Error{"/emit/unknown/secure",
                           "A secure mark is likelier without the skill than with it; it must be "
                           "at most /emit/known/secure."};
    }
    if (m.known.stuck > m.unknown.stuck) {
        return base::Error{"/emit/known/stuck",
                           "A stuck mark is likelier with the skill than without it; it must be "
                           "at most /emit/unknown/stuck."};
    }
    return std::nullopt;
}

/// Chances of one mark in the two states, neither so far below the other that it rules it out.
Likelihood bounded(double known, double unknown) {
    if (known <= 0.0 && unknown <= 0.0) return {least_ratio, least_ratio};
    return {std::max(known, least_ratio * unknown), std::max(unknown, least_ratio * known)};
}

/// Sets shaky : other to `ratio` without changing their sum; `moving` is the other level of `from`.
void balance(Emission& from, double& moving, double ratio) {
    const double both = from.shaky + moving;
    moving = both / (1.0 + ratio);
    from.shaky = both - moving;
}

}  // namespace

base::Result<CheckedModel> check(const Model& model) {
    if (auto error = range_error(model)) return tl::make_unexpected(*std::move(error));
    if (auto error = contradiction(model)) return tl::make_unexpected(*std::move(error));
    CheckedModel out{model, {}};
    Emission& known = out.model.known;
    Emission& unknown = out.model.unknown;
    // Likelihood ratios compared by cross products, so that zeros need no special case.
    if (known.shaky * unknown.secure > known.secure * unknown.shaky) {
        balance(known, known.secure, unknown.shaky / unknown.secure);
        out.repairs.emplace_back(
            "A shaky mark would have counted for more than a secure one; the two now count alike.");
    }
    if (known.shaky * unknown.stuck < known.stuck * unknown.shaky) {
        balance(unknown, unknown.stuck, known.shaky / known.stuck);
        out.repairs.emplace_back(
            "A shaky mark would have counted for less than a stuck one; the two now count alike.");
    }
    return out;
}

Emission at_difficulty(const Emission& emission, double difficulty) {
    if (difficulty == 0.0) return emission;
    const double d = std::clamp(difficulty, -most_difficulty, most_difficulty);
    const double half = std::exp(-0.5 * d);
    const Emission raw{emission.secure * half * half, emission.shaky * half, emission.stuck};
    const double sum = raw.secure + raw.shaky + raw.stuck;
    return {raw.secure / sum, raw.shaky / sum, raw.stuck / sum};
}

Likelihood likelihood(const Model& model, const Mark& mark) {
    const Emission known = at_difficulty(model.known, mark.difficulty);
    const Emission unknown = at_difficulty(model.unknown, mark.difficulty);
    Likelihood out = bounded(known.of(mark.level), unknown.of(mark.level));
    if (known.of(mark.level) <= 0.0 && unknown.of(mark.level) <= 0.0 &&
        mark.level != Level::shaky && known.shaky + unknown.shaky > 0.0) {
        // Neither state makes this mark: it counts at least as far from shaky as shaky does from
        // nothing.
        const Likelihood shaky = bounded(known.shaky, unknown.shaky);
        if ((mark.level == Level::secure) == (shaky.known > shaky.unknown)) out = shaky;
    }
    const double weight = model.weight(mark.help);
    if (weight != 1.0) {
        out.known = std::pow(out.known, weight);
        out.unknown = std::pow(out.unknown, weight);
    }
    return out;
}

double half_life(const Model& model, double spaced) {
    if (model.forget_per_day <= 0.0) return std::numeric_limits<double>::infinity();
    if (model.forget_per_day >= 1.0) return 0.0;
    const double first = -std::log(2.0) / std::log1p(-model.forget_per_day);
    if (spaced <= 0.0 || model.spacing_growth == 1.0) return first;
    return std::min(first * std::pow(model.spacing_growth, spaced),
                    std::max(first, longest_half_life));
}

double kept(const Model& model, double spaced, double days) {
    if (days <= 0.0 || model.forget_per_day <= 0.0) return 1.0;
    if (model.forget_per_day >= 1.0) return 0.0;
    return std::exp2(-days / half_life(model, spaced));
}

}  // namespace tallyround::evidence
