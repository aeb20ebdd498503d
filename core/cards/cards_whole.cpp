#include "cards/column_slips.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view burton = "Brown and Burton 1978, Cognitive Science 2:155";
constexpr std::string_view vanlehn = "Brown and VanLehn 1980, Cognitive Science 4:379";

constexpr SlipInfo quotient_place{"quotient-place-off", "Writes the quotient one place off", "",
                                  practice};
constexpr SlipInfo place_short{"one-place-short", "Counts one place too few", "", practice};
constexpr SlipInfo wrong_direction{"digits-wrong-way", "Moves the digits the other way", "",
                                   practice};
constexpr SlipInfo tens_added{"tens-added", "Adds a ten for each place instead of multiplying", "",
                              practice};
constexpr SlipInfo zeros_appended{"zeros-appended",
                                  "Writes zeros at the end, so a decimal does not change",
                                  "Stacey and Steinle, decimal studies", from_memory};
constexpr SlipInfo smaller_larger{"smaller-from-larger",
                                  "Takes the smaller digit from the larger in every column", burton,
                                  abstract_read};
constexpr SlipInfo no_decrement{"borrow-no-decrement",
                                "Adds ten to a column but takes nothing off the next", burton,
                                abstract_read};
constexpr SlipInfo zero_bottom{"zero-gives-bottom", "Works out 0 − N as N", vanlehn, abstract_read};
constexpr SlipInfo from_zero{"borrow-from-zero", "Turns a 0 into 9 and borrows no further", vanlehn,
                             abstract_read};
constexpr SlipInfo across_zero{"borrow-across-zero", "Skips a 0 and borrows from the next column",
                               vanlehn, abstract_read};
constexpr SlipInfo from_left{"borrow-from-left", "Always borrows from the leftmost column", vanlehn,
                             from_memory};
constexpr SlipInfo no_shift{"partial-not-shifted",
                            "Writes the tens' product without its zero and adds", ashlock,
                            from_memory};
constexpr SlipInfo carries_lost{"carries-lost", "Leaves out what should be carried", ashlock,
                                from_memory};
constexpr SlipInfo places_apart{"places-apart", "Multiplies ones by ones and tens by tens only",
                                ashlock, from_memory};
constexpr SlipInfo tens_only{"divides-by-tens-only", "Divides by the tens digit alone", "",
                             practice};
constexpr SlipInfo stops_early{"stops-one-short", "Stops one group too early", "", practice};
constexpr SlipInfo rest_dropped{"rest-dropped", "Leaves the remainder out", "", practice};
constexpr SlipInfo rest_inverted{"rest-inverted", "Writes the remainder's fraction upside down", "",
                                 practice};

/// A whole number of `digits` digits.
std::int64_t number_of(Draw& draw, int digits) {
    std::int64_t low = 1;
    for (int i = 1; i < digits; ++i)
        low *= 10;
    return draw.in(low == 1 ? 2 : low, low * 10 - 1);
}

Exact place_value(std::int64_t digit, int place) {
    return Exact(digit) * power(Exact(10), place);
}

/// A number with `digit` at `place` (0 = ones) and other digits around it, none equal to it.
Exact around(Draw& draw, std::int64_t digit, int place, int lowest, int highest) {
    Exact number;
    for (int at = lowest; at <= highest; ++at) {
        std::int64_t other = draw.in(1, 9);
        while (other == digit)
            other = draw.in(1, 9);
        number += place_value(at == place ? digit : other, at);
    }
    return number;
}

bool digit_value(Draw& draw, Draft& draft) {
    const std::int64_t digit = draw.in(2, 9);
    const int low_limit = static_cast<int>(draw.by_tier(0, -2, -3));
    const int high_place = static_cast<int>(draw.in(1, 4));
    const int low_place = static_cast<int>(draw.in(low_limit, high_place - 1));
    const int places = high_place - low_place;
    if (!draw.support() && low_place >= 0) return false;
    if (places > 5 || places < (draw.support() ? 1 : 2)) return false;
    const Exact large = around(draw, digit, high_place, draw.support() ? 0 : -1, 4);
    const Exact small = around(draw, digit, low_place, std::min(low_place, 0), 1);
    const Exact big = place_value(digit, high_place);
    const Exact little = place_value(digit, low_place);
    const Exact one_place = power(Exact(10), draw.stretch() ? 1 - places : places - 1);
    draft.show(decimal_text);
    if (draw.stretch()) {
        draft.ask(say("What number times the value of the ", digit, " in ", decimal_text(large),
                      " gives the value of the ", digit, " in ", decimal_text(small), "?"),
                  calc(little, "/", big));
        draft.answer(little / big);
    } else {
        draft.ask(say("How many times the value of the ", digit, " in ", decimal_text(small),
                      " is the value of the ", digit, " in ", decimal_text(large), "?"),
                  calc(big, "/", little));
        draft.answer(big / little);
    }
    draft.step("The ", digit, " is worth ", decimal_text(big), " in ", decimal_text(large), " and ",
               decimal_text(little), " in ", decimal_text(small), ".");
    const Exact first = draw.stretch() ? little : big;
    const Exact second = draw.stretch() ? big : little;
    draft.step(decimal_text(first), " ÷ ", decimal_text(second), " = ",
               decimal_text(first / second));
    draft.slip(place_short, one_place);
    draft.slip(wrong_direction, second / first);
    draft.slip(tens_added, draw.stretch() ? Exact(1, 10 * places) : Exact(10 * places));
    return true;
}

bool powers_of_ten(Draw& draw, Draft& draft) {
    const bool grow = draw.coin();
    const int zeros = static_cast<int>(draw.in(draw.support() ? 1 : 2, draw.support() ? 2 : 3));
    const int places = static_cast<int>(draw.in(draw.by_tier(0, 1, 2), draw.by_tier(1, 2, 3)));
    const std::int64_t digits = number_of(draw, static_cast<int>(draw.in(2, 3)));
    if (digits % 10 == 0) return false;
    const Exact x = Exact(digits) / power(Exact(10), places);
    const Exact ten = power(Exact(10), zeros);
    const Exact result = grow ? x * ten : x / ten;
    if (grow && places == 0) return false;
    draft.ask(say(grow ? "Multiply: " : "Divide: ", decimal_text(x), grow ? " × " : " ÷ ",
                  whole_text(ten.top())),
              calc(x, grow ? "*" : "/", ten));
    draft.show(decimal_text);
    draft.answer(result);
    draft.step("Each digit moves ", zeros, zeros == 1 ? " place to the " : " places to the ",
               grow ? "left." : "right.");
    draft.step(decimal_text(x), grow ? " × " : " ÷ ", whole_text(ten.top()), " = ",
               decimal_text(result));
    draft.slip(wrong_direction, grow ? x / ten : x * ten);
    if (zeros > 1) draft.slip(place_short, grow ? result / Exact(10) : result * Exact(10));
    if (grow)
        draft.slip_as(zeros_appended,
                      decimal_text(x) + std::string(static_cast<std::size_t>(zeros), '0'), x);
    else
        draft.slip(tens_added, x / Exact(10 * zeros));
    return true;
}

bool subtract_whole(Draw& draw, Draft& draft) {
    const int size = static_cast<int>(draw.in(draw.by_tier(3, 3, 4), draw.by_tier(3, 4, 5)));
    std::int64_t top = number_of(draw, size);
    const std::int64_t bottom = number_of(draw, static_cast<int>(draw.in(size - 1, size)));
    int zeros = 0;
    for (std::int64_t rest = top / 10; rest >= 10; rest /= 10)
        zeros += rest % 10 == 0 ? 1 : 0;
    if (zeros != draw.by_tier(0, 1, 2) || bottom % 10 == 0 || top - bottom < 20) return false;
    if (!draw.support() && top / 10 % 10 != 0) return false;
    if (top % 10 >= bottom % 10) return false;
    const std::int64_t right = top - bottom;
    draft.ask(say("Subtract: ", top, " − ", bottom), calc(top, "-", bottom));
    draft.answer(Exact(right));
    draft.step(
        "Subtract column by column from the right, regrouping where the top digit is "
        "smaller.");
    draft.step(top, " − ", bottom, " = ", right);
    draft.step("Check: ", right, " + ", bottom, " = ", top);
    draft.slip(smaller_larger, smaller_from_larger(top, bottom));
    draft.slip(no_decrement, borrow_no_decrement(top, bottom));
    if (draw.support()) {
        if (borrow_from_left(top, bottom) == right || borrow_from_left(top, bottom) > top)
            return false;
        draft.slip(from_left, borrow_from_left(top, bottom));
    } else {
        draft.slip(zero_bottom, zero_gives_bottom(top, bottom));
        draft.slip(from_zero, borrow_from_zero(top, bottom));
        draft.slip(across_zero, borrow_across_zero(top, bottom));
    }
    return true;
}

/// a × digit with every carry left out.
std::int64_t without_carries(std::int64_t a, std::int64_t digit) {
    std::int64_t out = 0;
    for (std::int64_t place = 1; a > 0; a /= 10, place *= 10)
        out += a % 10 * digit % 10 * place;
    return out;
}

bool multiply_whole(Draw& draw, Draft& draft) {
    const std::int64_t a = number_of(draw, draw.support() ? 2 : 3);
    const std::int64_t b = number_of(draw, 2);
    const std::int64_t tens = b / 10;
    const std::int64_t ones = b % 10;
    if (a % 10 < 2 || ones < 2 || tens < (draw.support() ? 1 : 2) || a == b) return false;
    const bool inner_zero = a / 10 % 10 == 0;
    if (draw.stretch() != inner_zero || b < (draw.support() ? 11 : 20) ||
        b > (draw.support() ? 39 : 99))
        return false;
    draft.ask(say("Multiply: ", a, " × ", b), calc(a, "*", b));
    draft.answer(Exact(a * b));
    draft.step(a, " × ", ones, " = ", a * ones);
    draft.step(a, " × ", tens * 10, " = ", a * tens * 10);
    draft.step(a * ones, " + ", a * tens * 10, " = ", a * b);
    draft.slip(no_shift, a * ones + a * tens);
    draft.slip(carries_lost, without_carries(a, ones) + without_carries(a, tens) * 10);
    draft.slip(places_apart, a % 10 * ones + a / 10 * 10 * tens * 10);
    return true;
}

/// The digits of n without its inner zeros.
std::int64_t without_zeros(std::int64_t n) {
    std::string digits;
    for (char c : std::to_string(n))
        if (c != '0') digits += c;
    return std::stoll(digits);
}

bool divide_whole(Draw& draw, Draft& draft) {
    const std::int64_t divisor = draw.in(12, draw.by_tier<std::int64_t>(25, 60, 95));
    const std::int64_t quotient = draw.support() ? draw.in(12, 60) : draw.in(101, 409);
    const bool zero_inside = !draw.support() && quotient / 10 % 10 == 0;
    if (divisor % 10 == 0 || quotient % 10 == 0 || draw.stretch() != zero_inside) return false;
    const std::int64_t dividend = divisor * quotient;
    if (dividend > draw.by_tier<std::int64_t>(999, 9999, 99999)) return false;
    draft.ask(say("Divide: ", dividend, " ÷ ", divisor), calc(dividend, "/", divisor));
    draft.answer(Exact(quotient));
    const std::int64_t head = quotient >= 100 ? quotient / 100 * 100 : quotient / 10 * 10;
    draft.step(divisor, " × ", head, " = ", divisor * head);
    draft.step(dividend, " − ", divisor * head, " = ", dividend - divisor * head);
    draft.step(dividend - divisor * head, " ÷ ", divisor, " = ", quotient - head, ", so ", head,
               " + ", quotient - head, " = ", quotient);
    draft.slip(tens_only, Exact(dividend / (divisor / 10 * 10)));
    draft.slip(stops_early, quotient - 1);
    if (zero_inside)
        draft.slip(quotient_zero_omitted, without_zeros(quotient));
    else
        draft.slip(quotient_place, quotient * 10);
    return true;
}

bool long_division(Draw& draw, Draft& draft) {
    const std::int64_t divisor = draw.in(draw.by_tier(3, 12, 21), draw.by_tier(9, 25, 64));
    const std::int64_t quotient = draw.in(draw.by_tier(21, 24, 101), draw.by_tier(160, 150, 309));
    const std::int64_t rest = draw.in(1, divisor - 1);
    const std::int64_t dividend = divisor * quotient + rest;
    const Exact result(dividend, divisor);
    if (draw.stretch() ? quotient / 10 % 10 != 0 : quotient % 10 == 0) return false;
    if (draw.stretch() && gcd(rest, divisor) == 1) return false;
    draft.ask(say("Divide and write the rest as a fraction: ", dividend, " ÷ ", divisor),
              calc(dividend, "/", divisor));
    draft.answer(result);
    draft.step(divisor, " × ", quotient, " = ", divisor * quotient);
    draft.step("Rest: ", dividend, " − ", divisor * quotient, " = ", rest);
    draft.step(dividend, " ÷ ", divisor, " = ", quotient, " ", say(rest, "/", divisor),
               gcd(rest, divisor) > 1 ? " = " + mixed_text(result) : std::string());
    const Exact tail(rest, rest >= 10 ? 100 : 10);
    draft.slip_as(rest_as_decimal, decimal_text(Exact(quotient) + tail), Exact(quotient) + tail);
    draft.slip(rest_dropped, quotient);
    draft.slip_as(rest_inverted, say(quotient, " ", divisor, "/", rest),
                  Exact(quotient) + Exact(divisor, rest));
    if (draw.stretch())
        draft.slip_as(quotient_zero_omitted, say(without_zeros(quotient), " ", rest, "/", divisor),
                      Exact(without_zeros(quotient)) + Exact(rest, divisor));
    return true;
}

}  // namespace

std::vector<Generator> whole_number_cards() {
    return {
        {"digit-value",
         {"Whole numbers", "Decimals to hundredths, at least two places apart",
          "Decimals to thousandths, asked as a part"},
         {&place_short, &wrong_direction, &tens_added},
         digit_value},
        {"powers-of-ten",
         {"By 10 or 100, at most one decimal place", "By 100 or 1,000, up to two decimal places",
          "By 100 or 1,000, up to three decimal places"},
         {&wrong_direction, &place_short, &zeros_appended, &tens_added},
         powers_of_ten},
        {"whole-subtract",
         {"Three digits, regrouping, no zeros inside", "One zero on top to regroup from",
          "Two zeros on top to regroup from"},
         {&smaller_larger, &no_decrement, &zero_bottom, &from_zero, &across_zero, &from_left},
         subtract_whole},
        {"whole-multiply",
         {"Two digits by a number up to 39", "Three digits by two digits",
          "Three digits with a zero inside by two digits"},
         {&no_shift, &carries_lost, &places_apart},
         multiply_whole},
        {"whole-divide",
         {"Two-digit quotient, dividend below 1,000", "Three-digit quotient, no zero inside",
          "Three-digit quotient with a zero inside"},
         {&quotient_place, &tens_only, &stops_early, &quotient_zero_omitted},
         divide_whole},
        {"long-division",
         {"One-digit divisor", "Two-digit divisor up to 25",
          "Two-digit divisor, a zero inside the quotient, the rest reduces"},
         {&rest_as_decimal, &rest_dropped, &rest_inverted, &quotient_zero_omitted},
         long_division},
    };
}

}  // namespace tallyround::cards
