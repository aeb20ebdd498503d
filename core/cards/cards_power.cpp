#include <algorithm>

#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo zero_is_base{"zero-power-as-base", "Takes a power with exponent 0 for its base",
                                "Cangelosi et al. 2013, J. Math. Behavior 32:69", from_memory};
constexpr SlipInfo zero_is_zero{"zero-power-as-zero", "Takes a power with exponent 0 for 0",
                                "Cangelosi et al. 2013, J. Math. Behavior 32:69", from_memory};
constexpr SlipInfo top_only{"power-of-top-only", "Raises only the top of the fraction", "",
                            practice};
constexpr SlipInfo times_exponent{"power-as-product", "Multiplies base and exponent", matz,
                                  from_memory};
constexpr SlipInfo base_exponent{"power-swapped", "Swaps base and exponent", "", practice};
constexpr SlipInfo exponent_short{"power-one-short", "Multiplies one time too few", "", practice};
constexpr SlipInfo bases_combined{"bases-combined", "Multiplies or divides the bases too", ashlock,
                                  from_memory};
constexpr SlipInfo exponents_wrong_way{
    "exponents-wrong-way", "Subtracts where it should add, or the other way round", "", practice};
constexpr SlipInfo exponent_left{"power-of-power-added", "Adds the exponents of a power of a power",
                                 ashlock, from_memory};
constexpr SlipInfo negative_value{"negative-exponent-negative",
                                  "Takes a negative exponent for a negative value",
                                  "Cangelosi et al. 2013, J. Math. Behavior 32:69", from_memory};
constexpr SlipInfo exponent_minus{"negative-exponent-product",
                                  "Multiplies base and exponent with its sign", matz, from_memory};
constexpr SlipInfo sign_of_exponent{"exponent-sign-ignored",
                                    "Leaves out the minus sign of the exponent",
                                    "Cangelosi et al. 2013, J. Math. Behavior 32:69", from_memory};

bool powers(Draw& draw, Draft& draft) {
    const std::int64_t base = draw.in(2, draw.by_tier<std::int64_t>(12, 6, 6));
    const int exponent =
        static_cast<int>(draw.in(draw.support() ? 2 : 3, draw.by_tier<std::int64_t>(3, 4, 4)));
    const Exact b = draw.stretch() ? Exact(base, draw.in(base + 1, 12)) : Exact(base);
    if (draw.stretch() && b.top() != base) return false;  // already in lowest terms
    const Exact value = power(b, exponent);
    const Exact c(draw.in(1, 30));
    if (value > Exact(1500) || Exact(exponent) == b) return false;
    const bool plus = draw.coin();
    if (!plus && value < c) return false;
    const std::string shown =
        draw.stretch() ? say("(", b, ")", power_text(exponent)) : say(b, power_text(exponent));
    if (draw.stretch()) {
        draft.ask("Work out: " + shown, calc(b, "^", exponent));
        draft.show(fraction_text);
        draft.answer(value);
        draft.step("Top: ", b.top(), power_text(exponent), " = ", power(Exact(b.top()), exponent));
        draft.step("Bottom: ", b.bottom(), power_text(exponent), " = ",
                   power(Exact(b.bottom()), exponent));
        draft.slip(times_exponent, b * Exact(exponent));
        draft.slip(exponent_short, power(b, exponent - 1));
        draft.slip(top_only, Exact(power(Exact(b.top()), exponent).top(), b.bottom()));
        return true;
    }
    const auto all = [&](const Exact& part) { return plus ? part + c : part - c; };
    draft.ask(say("Work out: ", shown, plus ? " + " : " − ", c),
              calc(b, "^", exponent, plus ? "+" : "-", c));
    draft.answer(all(value));
    draft.step(shown, " = ", value);
    draft.step(value, plus ? " + " : " − ", c, " = ", all(value));
    draft.slip(times_exponent, all(b * Exact(exponent)));
    draft.slip(base_exponent, all(power(Exact(exponent), static_cast<int>(base))));
    draft.slip(exponent_short, all(power(b, exponent - 1)));
    return true;
}

bool exponent_rules(Draw& draw, Draft& draft) {
    const std::int64_t base = draw.in(2, 9);
    const int m = static_cast<int>(draw.in(2, draw.support() ? 8 : 12));
    const int n = static_cast<int>(draw.in(2, draw.support() ? 8 : 12));
    const int kind = static_cast<int>(draw.support()   ? 0
                                      : draw.stretch() ? draw.in(2, 3)
                                                       : draw.in(0, 1));
    const auto raised = [&](std::int64_t b, int e) { return say(b, power_text(e)); };
    const auto raised_math = [&](std::int64_t b, int e) { return calc(b, "^", Exact(e)); };
    const auto wrong = [&](const SlipInfo& slip, std::int64_t b, int e) {
        draft.slip(slip, raised(b, e), raised_math(b, e));
    };
    const auto right = [&](int e) { draft.answer(raised(base, e), raised_math(base, e)); };
    if (m == n || m * n > 40 || m * n == 2 * (m + n)) return false;
    const std::string one = raised(base, m);
    const std::string two = raised(base, n);
    if (kind == 0) {
        draft.ask(say("Write as one power: ", one, " × ", two),
                  calc(base, "^", m, "*", base, "^", n));
        right(m + n);
        draft.step("Add the exponents: ", m, " + ", n, " = ", m + n);
        wrong(exponents_multiplied, base, m * n);
        wrong(bases_combined, base * base, m + n);
        wrong(exponents_wrong_way, base, m > n ? m - n : n - m);
    } else if (kind == 1) {
        if (m <= n + 1 || m % n != 0) return false;
        draft.ask(say("Write as one power: ", one, " ÷ ", two),
                  calc(base, "^", m, "/", base, "^", n));
        right(m - n);
        draft.step("Subtract the exponents: ", m, " − ", n, " = ", m - n);
        wrong(exponents_multiplied, base, m / n);
        wrong(bases_combined, 1, m - n);
        wrong(exponents_wrong_way, base, m + n);
    } else if (kind == 2) {
        const int k = static_cast<int>(draw.in(2, 9));
        if (m * n - k < 2 || m + n == k) return false;
        draft.ask(say("Write as one power: (", one, ")", power_text(n), " ÷ ", raised(base, k)),
                  calc("(", base, "^", m, ")^", n, "/", base, "^", k));
        right(m * n - k);
        draft.step("A power of a power: ", m, " × ", n, " = ", m * n);
        draft.step("Subtract: ", m * n, " − ", k, " = ", m * n - k);
        wrong(exponent_left, base, m + n - k);
        wrong(exponents_wrong_way, base, m * n + k);
        wrong(bases_combined, 1, m * n - k);
    } else {
        const int k = static_cast<int>(draw.in(2, 9));
        draft.ask(say("Write as one power: ", one, " × ", raised(base, -n), " × ", raised(base, k)),
                  calc(base, "^", m, "*", base, "^", Exact(-n), "*", base, "^", k));
        const int wide = 3 * (m - n + k);  // as a power of the base itself
        if (m - n + k == 0 || m - n + k == 1 || wide == m + n + k || wide == -m * n) return false;
        right(m - n + k);
        draft.step("Add the exponents: ", m, " + (−", n, ") + ", k, " = ", Exact(m - n + k));
        wrong(exponents_wrong_way, base, m + n + k);
        wrong(bases_combined, base * base * base, m - n + k);
        wrong(exponents_multiplied, base, -m * n);
    }
    return true;
}

bool negative_exponents(Draw& draw, Draft& draft) {
    const std::int64_t base = draw.in(2, draw.by_tier<std::int64_t>(15, 9, 7));
    const int n =
        static_cast<int>(draw.in(draw.support() ? 1 : 2, draw.by_tier<std::int64_t>(2, 3, 3)));
    const Exact b = draw.stretch() ? Exact(base, draw.in(2, 7)) : Exact(base);
    const Exact value = power(b, -n);
    if (b == Exact(1) || (draw.stretch() && b.whole())) return false;
    const Exact zero = draw.support() ? Exact(0) : power(Exact(draw.in(2, 99)), 0);
    draft.show(fraction_text);
    const std::string shown =
        draw.stretch() ? say("(", b, ")", power_text(-n)) : say(b, power_text(-n));
    if (draw.support() || draw.stretch()) {
        draft.ask("Write without an exponent: " + shown, calc(b, "^", Exact(-n)));
        draft.answer(value);
        draft.step(shown, " = 1 ÷ ", power(b, n));
        draft.step("1 ÷ ", power(b, n), " = ", value);
        draft.slip(negative_value, -power(b, n));
        if (n > 1) draft.slip(exponent_minus, b * Exact(-n));
        draft.slip(sign_of_exponent, power(b, n));
        return true;
    }
    const std::int64_t other = draw.in(2, 20);
    draft.ask(say("Write as one number: ", other, power_text(0), " + ", shown),
              calc(other, "^0+", b, "^", Exact(-n)));
    draft.answer(zero + value);
    draft.step(other, power_text(0), " = 1 and ", shown, " = ", value);
    draft.step("1 + ", value, " = ", zero + value);
    draft.slip(zero_is_zero, value);
    draft.slip(sign_of_exponent, zero + power(b, n));
    draft.slip(zero_is_base, Exact(other) + value);
    return true;
}

}  // namespace

std::vector<Generator> power_cards() {
    return {
        {"powers-value",
         {"Squares and cubes", "Third and fourth powers", "Powers of fractions"},
         {&top_only, &times_exponent, &base_exponent, &exponent_short},
         powers},
        {"exponent-rules",
         {"Products of two powers", "Products and quotients",
          "Powers of powers and negative exponents"},
         {&exponents_multiplied, &bases_combined, &exponents_wrong_way, &exponent_left},
         exponent_rules},
        {"negative-exponents",
         {"Exponents −1 and −2", "A zero exponent and exponents −2 and −3", "A fraction as base"},
         {&zero_is_zero, &zero_is_base, &negative_value, &exponent_minus, &sign_of_exponent},
         negative_exponents},
    };
}

}  // namespace tallyround::cards
