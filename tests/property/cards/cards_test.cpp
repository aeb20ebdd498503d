#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <tuple>

#include "base/text.h"
#include "cards/bank.h"
#include "cards/generate.h"
#include "evaluate.h"

using namespace tallyround::cards;

namespace {

constexpr Tier tiers[] = {Tier::support, Tier::core, Tier::stretch};
constexpr std::uint64_t seeds[] = {1, 2, 20260901};

template <class Check>
void for_every_set(Check check) {
    for (const SkillInfo& skill : skill_bank()) {
        if (!has_generator(skill.id)) continue;
        for (Tier tier : tiers) {
            for (std::uint64_t seed : seeds) {
                CAPTURE(skill.id);
                CAPTURE(tier_id(tier));
                CAPTURE(seed);
                const auto cards = make_cards(skill.id, tier, 24, seed);
                REQUIRE(cards.has_value());
                REQUIRE(cards->size() == 24);
                check(skill, *cards);
            }
        }
    }
}

bool balanced(const std::string& text) {
    int depth = 0;
    for (char c : text) {
        depth += c == '(' ? 1 : c == ')' ? -1 : 0;
        if (depth < 0) return false;
    }
    return depth == 0;
}

bool plain_ascii(const std::string& text) {
    return !text.empty() &&
           std::all_of(text.begin(), text.end(), [](char c) { return c > ' ' && c < 0x7f; });
}

}  // namespace

TEST_CASE("no card repeats within a set of 24") {
    for_every_set([](const SkillInfo&, const std::vector<Card>& cards) {
        std::set<std::string> prompts;
        for (const Card& card : cards)
            CHECK(prompts.insert(card.prompt).second);
    });
}

TEST_CASE("slip answers differ from the right one and from each other") {
    for_every_set([](const SkillInfo& skill, const std::vector<Card>& cards) {
        const auto& known = skill_slips(skill.id);
        for (const Card& card : cards) {
            CAPTURE(card.prompt);
            std::set<std::string> answers{card.answer};
            std::set<std::string> maths{card.answer_math};
            CHECK_FALSE(card.slips.empty());
            for (const WrongAnswer& wrong : card.slips) {
                CHECK(answers.insert(wrong.answer).second);
                CHECK(maths.insert(wrong.answer_math).second);
                CHECK(std::any_of(known.begin(), known.end(),
                                  [&](const SlipInfo* slip) { return slip->id == wrong.slip; }));
            }
        }
    });
}

TEST_CASE("most cards of any twelve name at least two slips") {
    for_every_set([](const SkillInfo&, const std::vector<Card>& cards) {
        for (std::size_t start = 0; start < cards.size(); start += 12) {
            const auto telling =
                std::count_if(cards.begin() + static_cast<std::ptrdiff_t>(start),
                              cards.begin() + static_cast<std::ptrdiff_t>(start) + 12,
                              [](const Card& card) { return card.slips.size() >= 2; });
            CHECK(telling >= 8);  // 60 % of 12, rounded up
        }
    });
}

TEST_CASE("text is well-formed and the mathematics plain") {
    for_every_set([](const SkillInfo&, const std::vector<Card>& cards) {
        for (const Card& card : cards) {
            CAPTURE(card.prompt);
            CHECK(tallyround::base::is_utf8(card.prompt));
            CHECK(card.prompt.size() >= 8);
            CHECK(card.prompt.size() <= 320);
            CHECK(card.prompt.find("  ") == std::string::npos);
            CHECK(plain_ascii(card.prompt_math));
            CHECK(plain_ascii(card.answer_math));
            CHECK(balanced(card.prompt_math));
            CHECK(balanced(card.answer_math));
            CHECK_FALSE(card.steps.empty());
            for (const WrongAnswer& wrong : card.slips) {
                CHECK(plain_ascii(wrong.answer_math));
                CHECK(balanced(wrong.answer_math));
            }
        }
    });
}

TEST_CASE("where the prompt is arithmetic, working it out gives the answer") {
    int checked = 0;
    for_every_set([&](const SkillInfo&, const std::vector<Card>& cards) {
        for (const Card& card : cards) {
            const auto value = evaluate(card.prompt_math);
            const auto answer = evaluate(card.answer_math);
            if (!value || !answer) continue;
            CAPTURE(card.prompt_math);
            CHECK(*value == *answer);
            ++checked;
            for (const WrongAnswer& wrong : card.slips) {
                if (const auto other = evaluate(wrong.answer_math)) CHECK(*other != *value);
            }
        }
    });
    MESSAGE("cards worked out: " << checked);
    CHECK(checked > 15'000);
}
