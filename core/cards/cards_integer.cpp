#include <algorithm>

#include "cards/drawings.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view vlassis = "Vlassis 2004, Learning and Instruction 14:469";

constexpr SlipInfo last_number{"last-number-left", "Stops before the last number", "", practice};
constexpr SlipInfo sign_ignored{
    "sign-ignored-in-order", "Takes the number nearest to zero for the least", hart, from_memory};
constexpr SlipInfo near_negative{"nearest-negative",
                                 "Takes the negative number nearest to zero for the least", vlassis,
                                 from_memory};
constexpr SlipInfo greatest{"greatest-instead", "Gives the greatest number", "", practice};
constexpr SlipInfo bars_ignored{"bars-ignored", "Works as if the bars were not there", "",
                                practice};
constexpr SlipInfo bars_flip{"bars-change-sign", "Changes the sign of everything between bars", "",
                             practice};
constexpr SlipInfo bars_apart{"bars-on-each", "Takes the absolute value of each number first", "",
                              practice};
constexpr SlipInfo signs_dropped{"signs-dropped", "Leaves all minus signs out", vlassis,
                                 from_memory};
constexpr SlipInfo wrong_sign{"wrong-sign", "Right size, wrong sign", ashlock, from_memory};
constexpr SlipInfo sizes_added{"sizes-added", "Adds the sizes and keeps the minus sign", vlassis,
                               from_memory};
constexpr SlipInfo difference_for_sum{
    "sizes-subtracted", "Subtracts the sizes although the signs agree", vlassis, from_memory};
constexpr SlipInfo second_sign_lost{"second-sign-lost", "Reads − (−b) as − b, or − b as + b",
                                    vlassis, from_memory};
constexpr SlipInfo turned_around{"turned-around", "Subtracts the first number from the second",
                                 hart, from_memory};
constexpr SlipInfo adds_factors{"adds-factors", "Adds instead of multiplying or dividing", "",
                                practice};
constexpr SlipInfo one_sign_used{"each-minus-counts-once",
                                 "Gives a minus sign whenever one is seen", ashlock, from_memory};
constexpr SlipInfo last_ignored{"last-factor-left", "Stops before the last factor", "", practice};
constexpr SlipInfo multiplies{"multiplies-to-divide", "Multiplies instead of dividing", "",
                              practice};
constexpr SlipInfo square_sign{"minus-squared-kept",
                               "Keeps the minus when a negative number is squared", vlassis,
                               from_memory};

/// A number as it stands after an operation sign: "(−3)" when negative.
std::string inner(const Exact& x) {
    return x < Exact(0) ? "(" + fraction_text(x) + ")" : fraction_text(x);
}

bool least(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(12, 40, 40);
    const std::int64_t scale = draw.stretch() ? 10 : 1;
    std::vector<Exact> all;
    for (int i = 0; i < 4; ++i)
        all.emplace_back(draw.in(-high, high), scale);
    std::vector<Exact> sorted = all;
    std::sort(sorted.begin(), sorted.end(), [](const Exact& a, const Exact& b) { return a < b; });
    if (std::adjacent_find(sorted.begin(), sorted.end()) != sorted.end()) return false;
    const auto negatives =
        std::count_if(all.begin(), all.end(), [](const Exact& x) { return x < Exact(0); });
    if (negatives != 2) return false;
    const Exact nearest = *std::min_element(
        all.begin(), all.end(), [](const Exact& a, const Exact& b) { return abs(a) < abs(b); });
    if (nearest == sorted[0] || nearest == sorted[1] || nearest == sorted[3]) return false;
    std::string list;
    std::string list_math;
    for (const Exact& x : all) {
        list += (list.empty() ? "" : ", ") + decimal_text(x);
        list_math += (list_math.empty() ? "" : ",") + math(x);
    }
    draft.ask("Which number is the least: " + list + "?", "min(" + list_math + ")");
    draft.show(decimal_text);
    draft.answer(sorted[0]);
    std::string order;
    for (const Exact& x : sorted)
        order += (order.empty() ? "" : " < ") + decimal_text(x);
    draft.step("On the number line from left to right: ", order);
    draft.slip(sign_ignored, nearest);
    draft.slip(near_negative, sorted[1]);
    draft.slip(greatest, sorted[3]);
    return true;
}

bool absolute(Draw& draw, Draft& draft) {
    const std::int64_t a = draw.in(2, draw.support() ? 12 : 25);
    const std::int64_t b = draw.in(2, draw.support() ? 12 : 25);
    const std::int64_t c = draw.in(2, 12);
    if (a == b || a == c || b == c) return false;
    if (draw.support()) {
        if (b > a) return false;
        draft.ask(say("Work out: |−", a, "| + |", b, "|"), calc("abs(-", a, ")+abs(", b, ")"));
        draft.answer(Exact(a + b));
        draft.step("Distances from zero: ", a, " and ", b, ".");
        draft.step(a, " + ", b, " = ", a + b);
        draft.slip(bars_ignored, b - a);
        draft.slip(bars_flip, a - b);
        draft.slip(sizes_added, -(a + b));
        return true;
    }
    if (!draw.stretch()) {
        draft.ask(say("Work out: |−", a, "| − |−", b, "|"), calc("abs(-", a, ")-abs(-", b, ")"));
        draft.answer(Exact(a - b));
        draft.step("Distances from zero: ", a, " and ", b, ".");
        draft.step(a, " − ", b, " = ", a - b);
        draft.slip(bars_ignored, b - a);
        draft.slip(second_sign_lost, a + b);
        draft.slip(sizes_added, -(a + b));
        return true;
    }
    draft.ask(say("Work out: |", a, " − ", b, "| − |−", c, "|"),
              calc("abs(", a, "-", b, ")-abs(-", c, ")"));
    if (a >= b) return false;
    draft.answer(Exact(b - a - c));
    draft.step("|", a, " − ", b, "| = |", Exact(a - b), "|, which is ", b - a, ".");
    draft.step(b - a, " − ", c, " = ", b - a - c);
    draft.slip(bars_ignored, a - b + c);
    draft.slip(bars_apart, a + b - c);
    draft.slip(second_sign_lost, b - a + c);
    return true;
}

bool add(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(12, 30, 60);
    const Exact a(draw.nonzero(-high, high));
    const Exact b(draw.nonzero(-high, high));
    if ((a > Exact(0) && b > Exact(0)) || abs(a) == abs(b) || abs(b) < Exact(2)) return false;
    if (draw.stretch()) {
        const Exact c(draw.nonzero(-high, high));
        if ((a < Exact(0)) == (b < Exact(0)) && (b < Exact(0)) == (c < Exact(0))) return false;
        const Exact right = a + b + c;
        if (right == Exact(0)) return false;
        draft.ask(say("Add: ", a, " + ", inner(b), " + ", inner(c)), calc(a, "+", b, "+", c));
        draft.answer(right);
        draft.step(a, " + ", inner(b), " = ", a + b);
        draft.step(a + b, " + ", inner(c), " = ", right);
        draft.slip(wrong_sign, -right);
        draft.slip(signs_dropped, abs(a) + abs(b) + abs(c));
        draft.slip(last_number, a + b);
        return true;
    }
    const bool same = a < Exact(0) && b < Exact(0);
    draft.ask(say("Add: ", a, " + ", inner(b)), calc(a, "+", b));
    if (draw.support()) draft.picture(line_picture({a, a + b}, false));
    draft.answer(a + b);
    draft.step(same ? "The signs agree: add the sizes and keep the sign."
                    : "The signs differ: subtract the sizes and take the sign of the larger one.");
    draft.step(a, " + ", inner(b), " = ", a + b);
    draft.slip(wrong_sign, -(a + b));
    if (same) {
        draft.slip(difference_for_sum, -abs(abs(a) - abs(b)));

    } else {
        draft.slip(sizes_added, -(abs(a) + abs(b)));
        draft.slip(signs_dropped, abs(a) + abs(b));
    }
    return true;
}

bool subtract(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(12, 30, 60);
    const Exact a(draw.nonzero(-high, high));
    const Exact b(draw.nonzero(-high, high));
    if ((a > Exact(0) && b > Exact(0) && a > b) || abs(a) == abs(b)) return false;
    if (draw.support() && b < Exact(0) && a < Exact(0)) return false;
    if (draw.stretch()) {
        const Exact c(-draw.in(2, high));
        const Exact right = a - b - c;
        if (right == Exact(0) || b > Exact(0)) return false;
        draft.ask(say("Work out: ", a, " − ", inner(b), " − ", inner(c)), calc(a, "-", b, "-", c));
        draft.answer(right);
        draft.step(a, " + ", -b, " + ", -c, " = ", right);
        draft.slip(second_sign_lost, a + b + c);
        draft.slip(wrong_sign, -right);
        draft.slip(last_number, a - b);
        return true;
    }
    draft.ask(say("Subtract: ", a, " − ", inner(b)), calc(a, "-", b));
    draft.answer(a - b);
    draft.step("Add the opposite: ", a, " + ", inner(-b), " = ", a - b);
    draft.slip(second_sign_lost, a + b);
    draft.slip(turned_around, b - a);
    draft.slip(signs_dropped,
               abs(abs(a) - abs(b)) == abs(a - b) ? abs(a) + abs(b) : abs(abs(a) - abs(b)));
    return true;
}

bool multiply(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(9, 12, 8);
    const Exact a(draw.either_sign(2, high));
    const Exact b(draw.either_sign(2, high));
    if (a > Exact(0) && b > Exact(0)) return false;
    if (draw.stretch()) {
        const Exact c(draw.either_sign(2, 6));
        const Exact right = a * b * c;
        draft.ask(say("Multiply: ", a, " × ", inner(b), " × ", inner(c)), calc(a, "*", b, "*", c));
        draft.answer(right);
        draft.step(a, " × ", inner(b), " = ", a * b);
        draft.step(a * b, " × ", inner(c), " = ", right);
        draft.slip(wrong_sign, -right);
        draft.slip(last_ignored, a * b);
        draft.slip(adds_factors, a + b + c);
        return true;
    }
    const bool both = a < Exact(0) && b < Exact(0);
    draft.ask(say("Multiply: ", a, " × ", inner(b)), calc(a, "*", b));
    draft.answer(a * b);
    draft.step("Sizes: ", abs(a), " × ", abs(b), " = ", abs(a * b));
    draft.step(both ? "Two minus signs give a positive product: "
                    : "One minus sign gives a negative product: ",
               a, " × ", inner(b), " = ", a * b);
    draft.slip(both ? one_sign_used : wrong_sign, -(a * b));
    draft.slip(adds_factors, a + b);
    if (!both) draft.slip(sizes_added, -(abs(a) + abs(b)));
    return true;
}

bool divide(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(9, 12, 15);
    const Exact q(draw.either_sign(2, high));
    const Exact b(draw.either_sign(2, high));
    Exact a = q * b;
    if (draw.stretch()) a = a + Exact(draw.in(1, 14));
    const Exact right = a / b;
    if ((a > Exact(0) && b > Exact(0)) || a == Exact(0)) return false;
    if (draw.stretch() && (right.whole() || abs(right) < Exact(1))) return false;
    const bool both = a < Exact(0) && b < Exact(0);
    draft.ask(say("Divide: ", a, " ÷ ", inner(b)), calc(a, "/", b));
    draft.answer(right);
    draft.step("Sizes: ", abs(a), " ÷ ", abs(b), " = ", mixed_text(abs(right)));
    draft.step(both ? "Two minus signs give a positive quotient: "
                    : "One minus sign gives a negative quotient: ",
               a, " ÷ ", inner(b), " = ", mixed_text(right));
    draft.slip(both ? one_sign_used : wrong_sign, -right);
    draft.slip(multiplies, a * b);
    draft.slip(adds_factors, a + b);
    return true;
}

bool signed_fractions(Draw& draw, Draft& draft) {
    const auto fraction = [&] {
        const std::int64_t bottom = draw.in(2, draw.by_tier<std::int64_t>(6, 8, 12));
        return Exact(draw.either_sign(1, bottom - 1), bottom);
    };
    const Exact a = fraction();
    const Exact b = fraction();
    const bool plus = draw.support() || draw.coin();
    const std::int64_t common = lcm(a.bottom(), b.bottom());
    const std::int64_t large = std::max(a.bottom(), b.bottom());
    if (a.bottom() == b.bottom() || (a > Exact(0) && b > Exact(0)) ||
        (common == large) != draw.support())
        return false;
    const Exact right = plus ? a + b : a - b;
    if (right == Exact(0) || (draw.stretch() && common < 18)) return false;
    draft.ask(say(plus ? "Add: " : "Subtract: ", a, plus ? " + " : " − ", inner(b)),
              calc(a, plus ? "+" : "-", b));
    draft.answer(right);
    const auto over = [&](const Exact& x) { return say((x * Exact(common)).top(), "/", common); };
    draft.step("Common denominator ", common, ": ", over(a), plus ? " + " : " − ",
               b < Exact(0) ? "(" + over(b) + ")" : over(b), " = ", over(right));
    if (gcd((right * Exact(common)).top(), common) > 1)
        draft.step(over(right), " = ", mixed_text(right));
    draft.slip(wrong_sign, -right);
    draft.slip(second_sign_lost, plus ? a - b : a + b);
    const std::int64_t bottoms = a.bottom() + b.bottom();
    const std::int64_t tops = plus ? a.top() + b.top() : a.top() - b.top();
    if (tops != 0) draft.slip(tops_and_bottoms, Exact(tops, bottoms));
    return true;
}

bool integer_order(Draw& draw, Draft& draft) {
    const Exact a(draw.nonzero(-12, 12));
    const Exact b(draw.either_sign(2, 9));
    const Exact c(draw.either_sign(2, 9));
    if (draw.support()) {
        if (b > Exact(0) && c > Exact(0)) return false;
        draft.ask(say("Work out: ", a, " + ", inner(b), " × ", inner(c)), calc(a, "+", b, "*", c));
        draft.answer(a + b * c);
        draft.step("Multiply first: ", b, " × ", inner(c), " = ", b * c);
        draft.step(a, " + ", inner(b * c), " = ", a + b * c);
        draft.slip(left_to_right, (a + b) * c);
        if (b < Exact(0) && c < Exact(0)) draft.slip(one_sign_used, a - b * c);
        draft.slip(signs_dropped, abs(a) + abs(b) * abs(c));
        return true;
    }
    if (!draw.stretch()) {
        const Exact d(draw.in(2, 9));
        if (b > Exact(0) || c + d == Exact(0) || c > Exact(0)) return false;
        const Exact sum = c + d;
        draft.ask(say("Work out: ", a, " − ", inner(b), " × (", c, " + ", d, ")"),
                  calc(a, "-", b, "*(", c, "+", d, ")"));
        draft.answer(a - b * sum);
        draft.step("Brackets: ", c, " + ", d, " = ", sum);
        draft.step(b, " × ", inner(sum), " = ", b * sum);
        draft.step(a, " − ", inner(b * sum), " = ", a - b * sum);
        draft.slip(left_to_right, (a - b) * sum);
        draft.slip(second_sign_lost, a + b * sum);
        draft.slip(signs_dropped, abs(a) - abs(b) * abs(sum));
        return true;
    }
    if (b > Exact(0) || b < Exact(-8)) return false;
    const Exact square = b * b;
    draft.ask(say("Work out: ", a, " − ", inner(b), "² × ", inner(c)), calc(a, "-", b, "^2*", c));
    draft.answer(a - square * c);
    draft.step("Power: ", inner(b), " × ", inner(b), " = ", square);
    draft.step(square, " × ", inner(c), " = ", square * c);
    draft.step(a, " − ", inner(square * c), " = ", a - square * c);
    draft.slip(square_sign, a + square * c);
    draft.slip(left_to_right, (a - square) * c);
    draft.slip(square_as_double, a - Exact(2) * b * c);
    return true;
}

}  // namespace

std::vector<Generator> integer_cards() {
    return {
        {"integer-order",
         {"Four integers from −12 to 12", "Four integers from −40 to 40",
          "Four decimals from −4 to 4"},
         {&sign_ignored, &near_negative, &greatest},
         least},
        {"absolute-value",
         {"A sum of two absolute values", "A difference of two absolute values",
          "A difference between the bars"},
         {&bars_ignored, &bars_flip, &sizes_added, &second_sign_lost, &bars_apart},
         absolute},
        {"integer-add",
         {"Two numbers from −12 to 12", "Two numbers from −30 to 30",
          "Three numbers from −60 to 60"},
         {&last_number, &wrong_sign, &difference_for_sum, &sizes_added, &signs_dropped},
         add},
        {"integer-subtract",
         {"At most one negative number, up to 12", "Numbers from −30 to 30",
          "Two subtractions of negative numbers"},
         {&last_number, &second_sign_lost, &turned_around, &signs_dropped, &wrong_sign},
         subtract},
        {"integer-multiply",
         {"Two factors up to 9", "Two factors up to 12", "Three factors"},
         {&wrong_sign, &one_sign_used, &adds_factors, &sizes_added, &last_ignored},
         multiply},
        {"integer-divide",
         {"Quotients up to 9", "Quotients up to 12", "Quotients that are not whole"},
         {&wrong_sign, &one_sign_used, &multiplies, &adds_factors},
         divide},
        {"signed-fractions",
         {"Sums; one denominator is a multiple of the other",
          "Sums and differences, denominators up to 8",
          "Sums and differences, common denominator of 18 or more"},
         {&wrong_sign, &second_sign_lost, &tops_and_bottoms},
         signed_fractions},
        {"integer-order-of-ops",
         {"A sum and a product", "A bracket, a product and a difference",
          "A square of a negative number"},
         {&square_as_double, &left_to_right, &one_sign_used, &signs_dropped, &second_sign_lost,
          &square_sign},
         integer_order},
    };
}

}  // namespace tallyround::cards
