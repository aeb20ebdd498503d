#pragma once
#include <cstdint>

namespace tallyround::evidence {

/// What a look found. The order is the meaning: a higher level is never worse evidence.
enum class Level : std::uint8_t { stuck = 0, shaky = 1, secure = 2 };

/// What the student was given before the level was reached.
enum class Help : std::uint8_t { none = 0, hint = 1, together = 2 };

/// One look at one student on one skill.
/// `day` counts days from any fixed start and may have a fraction (0.5 is noon).
/// `difficulty` is the card's, in logits: 0 is an ordinary card of this skill, +1 makes the odds of
/// secure against stuck e times smaller for everybody (Rasch 1960), -1 e times larger.
struct Mark {
    double day = 0.0;
    Level level = Level::stuck;
    Help help = Help::none;
    double difficulty = 0.0;
};

/// Share of full credit of a level: 0, 1/2, 1. The half for shaky is a design choice without a
/// source; only the order of the three is relied on.
constexpr double credit(Level level) {
    return 0.5 * static_cast<double>(level);
}

}  // namespace tallyround::evidence
