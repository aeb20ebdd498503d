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
int compare(std::string_view skill, const char* shape, int numbers, Rule rule,
            std::int64_t count = 100) {
    int seen = 0;
    for (Tier tier : tiers) {
        const auto cards = make_cards(skill, tier, count, 11);
        REQUIRE(cards.has_value());
        for (const Card& card : *cards) {
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
    CHECK(seen > 400);
}

TEST_CASE("dividing fractions: 9/7 : 2/3 with the first one turned over is 14/27") {
    CHECK(invert_first({9, 7, 2, 3}) == Exact(14, 27));
    const int seen = compare(
        "frac-divide", "(%lld/%lld)/(%lld/%lld)", 4,
        [](const Numbers& n) {
            return Expected{{"invert-first", invert_first(n)}};
        },
        24);
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
    CHECK(seen > 1000);
}

TEST_CASE("left to right: 2 + 3 × 4 would be 20; the key takes it on to − d") {
    const auto rule = [](const Numbers& n) { return Exact((n[0] + n[1]) * n[2] - n[3]); };
    CHECK(rule({2, 3, 4, 0}) == Exact(20));
    const int seen =
        compare("order-of-operations", "%lld+%lld*%lld-%lld", 4, [&](const Numbers& n) {
            return Expected{{"left-to-right", rule(n)}};
        });
    CHECK(seen > 80);
}

TEST_CASE("a power as a product: 2^3 would be 6") {
    const auto rule = [](const Numbers& n) { return Exact(n[0] * n[1] + n[2]); };
    CHECK(rule({2, 3, 0, 0}) == Exact(6));
    const int seen = compare(
        "powers-value", "%lld^%lld+%lld", 3,
        [&](const Numbers& n) {
            return Expected{{"power-as-product", rule(n)}};
        },
        24);
    CHECK(seen > 15);
}

TEST_CASE("additive ratio: 2 : 3 = 4 : 5") {
    const auto rule = [](const Numbers& n) { return Exact(n[1] + n[0] - n[2]); };
    CHECK(rule({4, 3, 2, 0}) == Exact(5));  // 2 : 3 = 4 : ? as 4*3/2
    const int seen = compare("ratio-equivalent", "%lld*%lld/%lld", 3, [&](const Numbers& n) {
        return Expected{{"additive-ratio", rule(n)}};
    });
    CHECK(seen > 200);
}

TEST_CASE("percent by ten: 5% = .5") {
    const auto rule = [](const Numbers& n) { return Exact(n[0], 10); };
    CHECK(rule({5, 100, 0, 0}) == Exact(1, 2));
    int seen = 0;
    const auto cards = make_cards("percent-convert", Tier::support, 40, 5);
    REQUIRE(cards.has_value());
    for (const Card& card : *cards) {
        const WrongAnswer* wrong = find(card, "percent-by-ten");
        long long top = 0;
        if (wrong == nullptr ||
            std::sscanf(card.prompt.c_str(), "Write as a decimal: %lld%%", &top) != 1)
            continue;
        CHECK(key_value(wrong->answer_math) == rule({top, 100, 0, 0}));
        ++seen;
    }
    CHECK(seen > 10);
}

TEST_CASE("mixed numbers: 4 4/12 − 2 7/12 as larger minus smaller and with ten borrowed") {
    struct Mixed {
        long long m, a, b, n, c;
    };
    const auto larger = [](const Mixed& x) { return Exact(x.m - x.n) + Exact(x.c - x.a, x.b); };
    const auto ten = [](const Mixed& x) {
        return Exact(x.m - 1 - x.n) + Exact(x.a + 10 - x.c, x.b);
    };
    CHECK(larger({4, 4, 12, 2, 7}) == Exact(2) + Exact(3, 12));
    CHECK(ten({4, 4, 12, 2, 7}) == Exact(1) + Exact(7, 12));
    int seen = 0;
    const auto cards = make_cards("mixed-subtract", Tier::support, 100, 3);
    REQUIRE(cards.has_value());
    for (const Card& card : *cards) {
        Mixed x{};
        long long d = 0;
        REQUIRE(std::sscanf(card.prompt_math.c_str(), "%lld+%lld/%lld-(%lld+%lld/%lld)", &x.m, &x.a,
                            &x.b, &x.n, &x.c, &d) == 6);
        REQUIRE(d == x.b);
        const WrongAnswer* first = find(card, "mixed-larger-minus-smaller");
        const WrongAnswer* second = find(card, "mixed-borrow-ten");
        CAPTURE(card.prompt);
        if (first != nullptr) CHECK(key_value(first->answer_math) == larger(x));
        if (second != nullptr) CHECK(key_value(second->answer_math) == ten(x));
        seen += first != nullptr && second != nullptr ? 1 : 0;
    }
    CHECK(seen > 60);
}

TEST_CASE("decimals: longer is larger and shorter is larger (Stacey and Steinle)") {
    // 4.63 and 4.8: longer-is-larger takes 4.63; 0.3 and 0.45: shorter-is-larger takes 0.3.
    const auto places = [](const std::string& number) {
        return number.size() - number.find('.') - 1;
    };
    CHECK(places("4.63") > places("4.8"));
    CHECK(places("0.3") < places("0.45"));
    int seen = 0;
    const auto cards = make_cards("decimal-compare", Tier::core, 100, 3);
    REQUIRE(cards.has_value());
    for (const Card& card : *cards) {
        std::string longest;
        std::string shortest = "0.000000";
        std::string list = card.prompt.substr(card.prompt.find(": ") + 2);
        list.back() = ',';
        while (!list.empty()) {
            const std::string number = list.substr(0, list.find(','));
            if (longest.empty() || places(number) > places(longest)) longest = number;
            if (places(number) < places(shortest)) shortest = number;
            list.erase(0, std::min(list.size(), list.find(',') + 2));
        }
        const WrongAnswer* long_one = find(card, "longer-is-larger");
        const WrongAnswer* short_one = find(card, "shorter-is-larger");
        if (long_one != nullptr) CHECK(long_one->answer == longest);
        if (short_one != nullptr) CHECK(short_one->answer == shortest);
        seen += long_one != nullptr && short_one != nullptr ? 1 : 0;
    }
    CHECK(seen > 90);
}
