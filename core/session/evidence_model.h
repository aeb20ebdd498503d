#pragma once
#include <cstdint>

#include "evidence/model.h"
#include "evidence/trace.h"
#include "model/mark.h"
#include "session/derived.h"

namespace tallyround::session {

// How the record's marks are handed to the evidence model. Shared by derived_*.cpp only.

inline constexpr double day_ms = 86'400'000.0;

/// The usual parameters, from which a fit to a class begins.
inline const evidence::Model& evidence_model() {
    static const evidence::Model model;
    return model;
}

inline evidence::Level evidence_level(model::Level level) {
    switch (level) {
        case model::Level::secure:
            return evidence::Level::secure;
        case model::Level::shaky:
            return evidence::Level::shaky;
        case model::Level::stuck:
            break;
    }
    return evidence::Level::stuck;
}

inline evidence::Help evidence_help(model::Help help) {
    switch (help) {
        case model::Help::none:
            return evidence::Help::none;
        case model::Help::hint:
            return evidence::Help::hint;
        case model::Help::together:
            break;
    }
    return evidence::Help::together;
}

inline evidence::Mark evidence_mark(const model::Mark& mark) {
    return {double(mark.at_ms) / day_ms, evidence_level(mark.level), evidence_help(mark.help), 0.0};
}

evidence::Estimate evidence_estimate(const Standing& standing);
Word word_of(const evidence::Estimate& estimate);

}  // namespace tallyround::session
