#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <map>
#include <string>

#include "cards/column_slips.h"
#include "cards/exact.h"
#include "cards/generate.h"

// Each rule below is written once more, straight from its published description, proved on the
// worked values that go with it, and then held against the keys of many generated cards.

using namespace tallyround::cards;

namespace {

using Numbers = std::array<long long, 4>;

constexpr std::array<Tier, 3> tiers{Tier::support, Tier::core, Tier::stretch};

Exact key_value(const std::string& text) {
    long long top = 0;
    long long bottom = 1;
    const int read = std::sscanf(text.c_str(), "%lld/%lld", &top, &bottom);
    return read == 2 ? Exact(top, bottom) : Exact(top);
}

const WrongAnswer* find(const Card& card, std::string_view slip) {
    for (const WrongAnswer& wrong : card.slips)
        if (wrong.slip == slip) return &wrong;
    return nullptr;
}

/// Runs `rule(card, numbers of its prompt)` -> expected answers by slip, over all tiers.
template <class Rule>
int compare(std::string_view skill, const char* shape, int numbers, Rule rule) {
    int seen = 0;
    for (Tier tier : tiers) {
        for (const Card& card : make_cards(skill, tier, 24, 11).value()) {
            Numbers n{};
            if (std::sscanf(card.prompt_math.c_str(), shape, &n[0], &n[1], &n[2], &n[3]) != numbers)
                continue;
            for (const auto& [slip, expected] : rule(n)) {
                const WrongAnswer* wrong = find(card, slip);
                if (wrong == nullptr) continue;
                CAPTURE(card.prompt_math);
                CAPTURE(slip);
                CHECK(key_value(wrong->answer_math) == expected);
                ++seen;
            }
        }
    }
    return seen;
}

using Expected = std::map<std::string, Exact>;

// Fractions: Ashlock, Error Patterns in Computation (from memory).
Exact tops_and_bottoms(const Numbers& n) {
    return {n[0] + n[2], n[1] + n[3]};
}

Exact tops_unscaled(const Numbers& n) {
    return {n[0] + n[2], lcm(n[1], n[3])};
}

Exact invert_first(const Numbers& n) {
    return Exact(n[1] * n[2], n[0] * n[3]);
}

}  // namespace

TEST_CASE("adding fractions: 2/7 + 3/14") {
    CHECK(tops_and_bottoms({2, 7, 3, 14}) == Exact(5, 21));
    CHECK(tops_unscaled({2, 7, 3, 14}) == Exact(5, 14));
    const int seen = compare("frac-add-unlike", "%lld/%lld+%lld/%lld", 4, [](const Numbers& n) {
        return Expected{{"tops-and-bottoms", tops_and_bottoms(n)},
                        {"tops-unscaled", tops_unscaled(n)}};
    });
    CHECK(seen > 70);
}

TEST_CASE("dividing fractions: 9/7 : 2/3 with the first one turned over is 14/27") {
    CHECK(invert_first({9, 7, 2, 3}) == Exact(14, 27));
    const int seen = compare("frac-divide", "(%lld/%lld)/(%lld/%lld)", 4, [](const Numbers& n) {
        return Expected{{"invert-first", invert_first(n)}};
    });
    CHECK(seen > 50);
}

TEST_CASE("whole subtraction: the key follows the column slips") {
    const int seen = compare("whole-subtract", "%lld-%lld", 2, [](const Numbers& n) {
        return Expected{{"smaller-from-larger", smaller_from_larger(n[0], n[1])},
                        {"borrow-no-decrement", borrow_no_decrement(n[0], n[1])},
                        {"zero-gives-bottom", zero_gives_bottom(n[0], n[1])},
                        {"borrow-from-zero", borrow_from_zero(n[0], n[1])},
                        {"borrow-across-zero", borrow_across_zero(n[0], n[1])}};
    });
    CHECK(seen > 120);
}
