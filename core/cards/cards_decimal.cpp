#include <algorithm>

#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view steinle = "Stacey and Steinle, decimal comparison studies";
constexpr std::string_view bell = "Bell, Swan and Taylor 1981, Educ. Studies in Math. 12:399";

constexpr SlipInfo right_aligned{"right-aligned", "Lines up the last digits instead of the points",
                                 ashlock, from_memory};
constexpr SlipInfo tails_apart{
    "tails-apart", "Works on the digits after the points as whole numbers", steinle, from_memory};
constexpr SlipInfo digits_brought{
    "digits-brought-down", "Brings down a digit that has nothing above it", ashlock, from_memory};
constexpr SlipInfo point_as_sum{"point-as-in-adding", "Places the point as when adding", ashlock,
                                from_memory};
constexpr SlipInfo point_ignored{"point-ignored", "Leaves the point out", bell, from_memory};
constexpr SlipInfo divisor_only{"divisor-shifted-only",
                                "Makes the divisor whole but leaves the dividend", ashlock,
                                from_memory};
constexpr SlipInfo made_smaller{
    "multiplies-for-divides", "Multiplies, as if dividing always made smaller", bell, from_memory};

/// digits / 10^places, last digit not 0.
Exact decimal(Draw& draw, std::int64_t low, std::int64_t high, int places) {
    std::int64_t n = draw.in(low, high);
    while (n % 10 == 0)
        n = draw.in(low, high);
    return Exact(n) / power(Exact(10), places);
}

/// Two decimals of different lengths; `long_first` says which has more places.
bool two_lengths(Draw& draw, Exact& a, Exact& b, int& pa, int& pb) {
    pa = static_cast<int>(draw.in(draw.stretch() ? 0 : 1, 2));
    pb = static_cast<int>(draw.in(1, draw.support() ? 2 : 3));
    a = decimal(draw, pa == 0 ? 3 : 12, draw.support() ? 99 : 999, pa);
    b = decimal(draw, 12, draw.support() ? 199 : 1999, pb);
    return pa != pb && a > Exact(1) && b > Exact(1, 5);
}

/// The digits as whole numbers, lined up at the right.
Exact flat(const Exact& x, int places) {
    return x * power(Exact(10), places);
}

Exact tail_digits(const Exact& x, int places) {
    return flat(x - Exact(floor_of(x)), places);
}

bool add_decimals(Draw& draw, Draft& draft) {
    Exact a;
    Exact b;
    int pa = 0;
    int pb = 0;
    if (!two_lengths(draw, a, b, pa, pb)) return false;
    if (draw.coin()) {
        std::swap(a, b);
        std::swap(pa, pb);
    }
    const int most = std::max(pa, pb);
    draft.ask(say("Add: ", decimal_text(a), " + ", decimal_text(b)), calc(a, "+", b));
    draft.show(decimal_text);
    draft.answer(a + b);
    draft.step("Line up the points: ", fixed_text(a, most), " + ", fixed_text(b, most), " = ",
               fixed_text(a + b, most));
    draft.slip(right_aligned, (flat(a, pa) + flat(b, pb)) / power(Exact(10), most));
    const Exact tails = tail_digits(a, pa) + tail_digits(b, pb);
    if (tails.whole() && pa > 0 && pb > 0) {
        const std::string shown = say(floor_of(a) + floor_of(b), ".", tails);
        const int width = static_cast<int>(math(tails).size());
        draft.slip_as(tails_apart, shown,
                      Exact(floor_of(a) + floor_of(b)) + tails / power(Exact(10), width));
    }
    draft.slip(point_one_off, (a + b) * Exact(10));
    return true;
}

bool subtract_decimals(Draw& draw, Draft& draft) {
    Exact a;
    Exact b;
    int pa = 0;
    int pb = 0;
    if (!two_lengths(draw, a, b, pa, pb)) return false;
    if (pa > pb || a - b < Exact(1, 10)) return false;
    const Exact scale = power(Exact(10), pa);
    const Exact head = Exact(floor_of(b * scale)) / scale;
    const Exact digits = b - head;
    draft.ask(say("Subtract: ", decimal_text(a), " − ", decimal_text(b)), calc(a, "-", b));
    draft.show(decimal_text);
    draft.answer(a - b);
    draft.step("Write zeros so that both have ", pb, " decimal places.");
    draft.step(fixed_text(a, pb), " − ", fixed_text(b, pb), " = ", fixed_text(a - b, pb));
    draft.slip(digits_brought, a - head + digits);
    draft.slip(right_aligned, abs(flat(a, pa) - flat(b, pb)) / power(Exact(10), pb));
    draft.slip(point_one_off, (a - b) * Exact(10));
    return true;
}

bool multiply_decimals(Draw& draw, Draft& draft) {
    const int pa = 1;
    const int pb = static_cast<int>(draw.by_tier(1, draw.in(1, 2) == 1 ? 1 : 2, 2));
    const Exact a =
        decimal(draw, draw.support() ? 2 : 12, draw.by_tier<std::int64_t>(9, 99, 99), pa);
    const Exact b =
        decimal(draw, draw.support() ? 2 : 3, draw.by_tier<std::int64_t>(99, 19, 99), pb);
    const Exact right = a * b;
    if (draw.stretch() && b >= Exact(1, 10)) return false;
    if (a == b) return false;
    const Exact digits = flat(a, pa) * flat(b, pb);
    draft.ask(say("Multiply: ", decimal_text(a), " × ", decimal_text(b)), calc(a, "*", b));
    draft.show(decimal_text);
    draft.answer(right);
    draft.step("Without the points: ", flat(a, pa), " × ", flat(b, pb), " = ", digits);
    draft.step("The factors have ", pa + pb, " decimal places together: ", decimal_text(a), " × ",
               decimal_text(b), " = ", decimal_text(right));
    draft.slip(point_as_sum, digits / power(Exact(10), std::max(pa, pb)));
    draft.slip(point_ignored, digits);
    draft.slip(point_one_off, right / Exact(10));
    return true;
}

bool divide_decimal(Draw& draw, Draft& draft) {
    const std::int64_t divisor = draw.in(3, draw.by_tier<std::int64_t>(9, 12, 24));
    const int places = draw.support() ? 1 : 2;
    const Exact quotient =
        decimal(draw, draw.support() ? 11 : 101, draw.by_tier<std::int64_t>(99, 999, 909), places);
    const Exact dividend = quotient * Exact(divisor);
    const std::int64_t tenth = floor_of(quotient * Exact(10)) % 10;
    if (draw.stretch() ? tenth != 0 : tenth == 0) return false;
    if (dividend.whole()) return false;
    draft.ask(say("Divide: ", decimal_text(dividend), " ÷ ", divisor),
              calc(dividend, "/", divisor));
    draft.show(decimal_text);
    draft.answer(quotient);
    draft.step("Divide as with whole numbers and keep the point in line: ", decimal_text(dividend),
               " ÷ ", divisor, " = ", decimal_text(quotient));
    draft.step("Check: ", divisor, " × ", decimal_text(quotient), " = ", decimal_text(dividend));
    draft.slip(point_ignored, flat(quotient, places));
    draft.slip(point_one_off, quotient / Exact(10));
    if (draw.stretch()) {
        const std::int64_t ones = floor_of(quotient);
        draft.slip(quotient_zero_omitted, Exact(ones) + (quotient - Exact(ones)) * Exact(10));
    }
    return true;
}

bool decimal_by_decimal(Draw& draw, Draft& draft) {
    const int places = static_cast<int>(draw.by_tier(1, 2, 2));
    const Exact divisor = decimal(draw, draw.by_tier(2, 2, 12), draw.by_tier(9, 9, 48), places);
    const Exact quotient =
        draw.stretch() ? decimal(draw, 11, 299, 1) : Exact(draw.in(6, draw.support() ? 30 : 90));
    const Exact dividend = divisor * quotient;
    if (dividend.whole() || quotient == Exact(10)) return false;
    const Exact scale = power(Exact(10), places);
    draft.ask(say("Divide: ", decimal_text(dividend), " ÷ ", decimal_text(divisor)),
              calc(dividend, "/", divisor));
    draft.show(decimal_text);
    draft.answer(quotient);
    draft.step("Multiply both by ", scale, ": ", decimal_text(dividend), " ÷ ",
               decimal_text(divisor), " = ", decimal_text(dividend * scale), " ÷ ",
               decimal_text(divisor * scale));
    draft.step(decimal_text(dividend * scale), " ÷ ", decimal_text(divisor * scale), " = ",
               decimal_text(quotient));
    draft.slip(divisor_only, dividend / (divisor * scale));
    draft.slip(point_one_off, draw.support() ? quotient * Exact(10) : quotient / Exact(10));
    draft.slip(made_smaller, dividend * divisor);
    return true;
}

}  // namespace

std::vector<Generator> decimal_cards() {
    return {
        {"decimal-add",
         {"One and two places", "Up to three places",
          "Up to three places, whole numbers among them"},
         {&right_aligned, &tails_apart, &point_one_off},
         add_decimals},
        {"decimal-subtract",
         {"One and two places, one digit without a partner", "Up to three places",
          "Up to three places, whole numbers among them"},
         {&digits_brought, &right_aligned, &point_one_off},
         subtract_decimals},
        {"decimal-multiply",
         {"Tenths times tenths, one factor below 1", "Two digits times tenths or hundredths",
          "A factor below one tenth"},
         {&point_as_sum, &point_ignored, &point_one_off},
         multiply_decimals},
        {"decimal-divide",
         {"Quotient with one decimal place", "Quotient with two decimal places",
          "A 0 inside the quotient"},
         {&point_ignored, &point_one_off, &quotient_zero_omitted},
         divide_decimal},
        {"decimal-by-decimal",
         {"Divide by tenths, whole quotient", "Divide by hundredths, whole quotient",
          "Divide by two-digit hundredths, quotient with tenths"},
         {&divisor_only, &point_one_off, &made_smaller},
         decimal_by_decimal},
    };
}

}  // namespace tallyround::cards
