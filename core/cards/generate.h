#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "cards/picture.h"
#include "cards/slip.h"

namespace tallyround::cards {

/// How hard the numbers are; what that means for each skill is said by `tier_features`.
enum class Tier { support, core, stretch };

std::string_view tier_id(Tier tier);  ///< "support", "core", "stretch"
std::optional<Tier> find_tier(std::string_view id);

/// What a known slip would answer on this card.
struct WrongAnswer {
    std::string_view slip;    ///< id of a SlipInfo
    std::string answer;       ///< as a student would write it
    std::string answer_math;  ///< for a computer-algebra system
};

/// One problem with its key. Text is plain (no markup), UTF-8; besides ASCII it uses × ÷ − ° π √ ≤
/// ≥ and superscript digits. The math fields are exact ASCII: fractions instead of decimals, "*"
/// for every product, "^" for powers, "A = B" for an equation, "," between several.
struct Card {
    std::string prompt;
    std::string prompt_math;
    std::string answer;
    std::string answer_math;
    std::vector<std::string> steps;
    std::vector<WrongAnswer> slips;  ///< answers differ from the right one and from each other
    Picture picture;                 ///< what a teacher would draw beside it, if anything
};

inline constexpr std::int64_t max_cards = 500;

/// True when `make_cards` can make cards for the skill.
bool has_generator(std::string_view skill);

/// `count` different cards for a skill. The same arguments give the same cards on every platform,
/// and a longer set begins with the shorter one. Errors: an unknown skill (with near ids), a count
/// outside 1..max_cards, a skill without generator, or fewer different cards than asked for.
base::Result<std::vector<Card>> make_cards(std::string_view skill, Tier tier, std::int64_t count,
                                           std::uint64_t seed);

/// "There is no skill …" with the ids nearest to it: the sentence for an id that is not in the
/// bank.
std::string unknown_skill(std::string_view skill);

/// What makes a problem of this skill easier or harder, a sentence a tier; empty without generator.
std::string_view tier_features(std::string_view skill, Tier tier);

/// The slips the key of a skill can name; empty without generator.
const std::vector<const SlipInfo*>& skill_slips(std::string_view skill);
/// The slip with this id, or nullptr.
const SlipInfo* find_slip(std::string_view id);

}  // namespace tallyround::cards
