#include <doctest/doctest.h>

#include <cstdint>
#include <string>

#include "cards/bank.h"
#include "cards/generate.h"

using namespace tallyround::cards;

TEST_CASE("the cards are the same bytes on every compiler and standard library") {
    // FNV-1a over 24 cards of every skill and tier with seed 1; changes whenever a card changes.
    std::uint64_t digest = 0xcbf29ce484222325U;
    const auto mix = [&](const std::string& text) {
        for (char c : text)
            digest = (digest ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
    };
    for (const SkillInfo& skill : skill_bank()) {
        for (Tier tier : {Tier::support, Tier::core, Tier::stretch}) {
            CAPTURE(skill.id);
            const auto cards = make_cards(skill.id, tier, 24, 1);
            REQUIRE(cards.has_value());
            for (const Card& card : *cards) {
                mix(card.prompt);
                mix(card.answer_math);
                for (const WrongAnswer& wrong : card.slips)
                    mix(wrong.answer);
            }
        }
    }
    CHECK(digest == 10215233006864641181U);
}
