#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo add_first{"addition-first", "Adds and subtracts before multiplying",
                             "Glidden 2008, order of operations", from_memory};
constexpr SlipInfo brackets_ignored{"brackets-ignored", "Works as if the brackets were not there",
                                    "Kieran 1979, order of operations", from_memory};
constexpr SlipInfo minus_inside{"minus-first-only",
                                "Lets a minus before a bracket reach its first number only",
                                "Vlassis 2004, Learning and Instruction 14:469", from_memory};
constexpr SlipInfo no_brackets{
    "brackets-left-out", "Writes the steps in order but leaves the brackets out", "", practice};
constexpr SlipInfo last_step_first{"last-step-first", "Does the last step on the first number", "",
                                   practice};
constexpr SlipInfo step_forgotten{"step-forgotten", "Leaves out the last step", "", practice};
constexpr SlipInfo additive{"additive-pattern", "Keeps the difference instead of the factor", hart,
                            from_memory};
constexpr SlipInfo one_term_off{"one-term-off", "Counts one term too few", "", practice};
constexpr SlipInfo adds_rule_once{"rule-added-once", "Adds the rule of one pattern once", "",
                                  practice};
constexpr SlipInfo not_greatest{"not-greatest", "Stops at a common factor that is not the greatest",
                                ashlock, from_memory};
constexpr SlipInfo multiple_for_factor{"multiple-for-factor",
                                       "Gives the least common multiple instead", "", practice};
constexpr SlipInfo factor_of_one{"factor-of-one-only", "Gives the smaller number itself", "",
                                 practice};
constexpr SlipInfo product{"product-as-multiple", "Multiplies the numbers: not the least multiple",
                           ashlock, from_memory};
constexpr SlipInfo factor_for_multiple{"factor-for-multiple",
                                       "Gives the greatest common factor instead", "", practice};
constexpr SlipInfo larger_number{"larger-number", "Gives the larger number as the multiple", "",
                                 practice};
constexpr SlipInfo halved{"root-as-half", "Halves for a square root, takes a third for a cube root",
                          "", practice};
constexpr SlipInfo one_root{"one-root-only", "Takes the root of the first number only", "",
                            practice};
constexpr SlipInfo cube_as_square{"root-as-divisor", "Divides by the exponent of the other root",
                                  "", practice};
constexpr SlipInfo upper_number{"upper-number", "Gives the number just above", "", practice};
constexpr SlipInfo divided_by_ten{"root-as-tenth", "Takes a tenth for the root", "", practice};
constexpr SlipInfo zeros_counted{"zeros-counted", "Counts the zeros instead of the places moved",
                                 "", practice};
constexpr SlipInfo exponent_sign{"exponent-sign", "Gives the exponent the wrong sign", "",
                                 practice};
constexpr SlipInfo exponent_off{"exponent-one-off", "Moves the point one place too far", "",
                                practice};
constexpr SlipInfo fronts_added{"fronts-added", "Adds the numbers in front", "", practice};
constexpr SlipInfo wrong_carry{
    "carry-wrong-way", "Moves the point but changes the exponent the wrong way", "", practice};

bool order_of_operations(Draw& draw, Draft& draft) {
    const std::int64_t a = draw.in(2, draw.by_tier<std::int64_t>(9, 12, 30));
    const std::int64_t b = draw.in(2, 9);
    const std::int64_t c = draw.in(2, 9);
    const std::int64_t d = draw.in(2, 9);
    const Exact A(a), B(b), C(c), D(d);
    if (draw.support()) {
        if (c <= d) return false;
        draft.ask(say("Work out: ", a, " + ", b, " × ", c, " − ", d),
                  calc(a, "+", b, "*", c, "-", d));
        draft.answer(A + B * C - D);
        draft.step("Multiply first: ", b, " × ", c, " = ", b * c);
        draft.step(a, " + ", b * c, " − ", d, " = ", A + B * C - D);
        draft.slip(left_to_right, (A + B) * C - D);
        draft.slip(add_first, (A + B) * (C - D));
    } else if (!draw.stretch()) {
        const std::int64_t e = draw.in(2, 6);
        const Exact E(e);
        if (a * (b + c) <= d) return false;
        draft.ask(say("Work out: ", a, " × (", b, " + ", c, ") − ", d * e, " ÷ ", e),
                  calc(a, "*(", b, "+", c, ")-", d * e, "/", e));
        draft.answer(A * (B + C) - D);
        draft.step("Brackets: ", b, " + ", c, " = ", b + c);
        draft.step(a, " × ", b + c, " = ", a * (b + c), " and ", d * e, " ÷ ", e, " = ", d);
        draft.step(a * (b + c), " − ", d, " = ", A * (B + C) - D);
        draft.slip(brackets_ignored, A * B + C - D);
        const Exact straight = (A * (B + C) - D * E) / E;
        if (!straight.whole() || straight < Exact(1)) return false;
        draft.slip(left_to_right, straight);
    } else {
        if (a <= b + c + 1) return false;
        const std::int64_t e = draw.in(2, 20);
        draft.ask(say("Work out: (", a, " − (", b, " + ", c, ")) × ", d, " + ", e),
                  calc("(", a, "-(", b, "+", c, "))*", d, "+", e));
        draft.answer((A - B - C) * D + Exact(e));
        draft.step("Inner brackets: ", b, " + ", c, " = ", b + c);
        draft.step("Outer brackets: ", a, " − ", b + c, " = ", a - b - c);
        draft.step(a - b - c, " × ", d, " = ", (a - b - c) * d);
        draft.step((a - b - c) * d, " + ", e, " = ", (a - b - c) * d + e);
        draft.slip(minus_inside, (A - B + C) * D + Exact(e));
        draft.slip(add_first, (A - B - C) * (D + Exact(e)));
        if (a - b + c * d + e > 0) draft.slip(brackets_ignored, A - B + C * D + Exact(e));
    }
    return true;
}

bool words_to_numbers(Draw& draw, Draft& draft) {
    const std::int64_t a = draw.in(2, draw.by_tier<std::int64_t>(9, 15, 20));
    const std::int64_t b = draw.in(a + 1, a + 12);
    const std::int64_t c = draw.in(2, 9);
    const Exact A(a), B(b), C(c);
    const bool plus = draw.support() || draw.coin();
    const Exact first = plus ? A + B : B - A;
    const std::string opening =
        plus ? say("Add ", a, " and ", b) : say("Subtract ", a, " from ", b);
    const std::string inner = plus ? say(a, " + ", b) : say(b, " − ", a);
    const std::string inner_math = plus ? calc(a, "+", b) : calc(b, "-", a);
    if (!draw.stretch()) {
        draft.ask(say(opening, ", then multiply by ", c, ". Write the calculation and its value."),
                  calc("(", inner_math, ")*", c));
        const Exact result = first * C;
        draft.answer(say("(", inner, ") × ", c, " = ", result), math(result));
        draft.step("Brackets first: ", inner, " = ", first);
        draft.step(first, " × ", c, " = ", result);
        draft.slip(no_brackets, plus ? A + B * C : B - A * C);
        draft.slip(last_step_first, plus ? A * C + B : B * C - A);
        draft.slip(step_forgotten, first);
        return plus || b > a * c;
    }
    const std::int64_t d = draw.in(2, 9);
    const Exact D(d);
    if (first * C <= D) return false;
    const Exact result = first * C - D;
    draft.ask(say(opening, ", multiply the result by ", c, ", then subtract ", d,
                  ". Write the calculation and its value."),
              calc("(", inner_math, ")*", c, "-", d));
    draft.answer(say("(", inner, ") × ", c, " − ", d, " = ", result), math(result));
    draft.step("Brackets first: ", inner, " = ", first);
    draft.step(first, " × ", c, " − ", d, " = ", result);
    draft.slip(no_brackets, plus ? A + B * C - D : abs(B - A * C - D));
    draft.slip(step_forgotten, first * C);
    draft.slip(last_step_first, abs(first - D) * C);
    return plus || b > a * c + d;
}

bool two_patterns(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.in(2, draw.by_tier<std::int64_t>(5, 9, 9));
    const std::int64_t factor = draw.in(2, draw.by_tier<std::int64_t>(4, 6, 6));
    const std::int64_t q = p * factor;
    const std::int64_t start_a = draw.stretch() ? draw.in(1, 9) : 0;
    const std::int64_t start_b = draw.stretch() ? draw.in(1, 9) : 0;
    const std::int64_t steps = draw.in(4, draw.by_tier<std::int64_t>(9, 15, 20));
    const std::int64_t shown = start_a + steps * p;
    const std::int64_t right = start_b + steps * q;
    draft.ask(
        say("Pattern A starts at ", start_a, " and adds ", p, " each time. Pattern B starts at ",
            start_b, " and adds ", q, " each time. What does B show when A shows ", shown, "?"),
        calc(start_b, "+(", shown, "-", start_a, ")/", p, "*", q));
    draft.answer(Exact(right));
    draft.step("A has added ", p, " this many times: (", shown, " − ", start_a, ") ÷ ", p, " = ",
               steps);
    draft.step("B has added ", q, " as often: ", start_b, " + ", steps, " × ", q, " = ", right);
    draft.slip(additive, shown + (q - p));
    draft.slip(one_term_off, right - q);
    draft.slip(adds_rule_once, shown + q);
    return true;
}

/// Two numbers with greatest common factor g.
bool pair_with_factor(Draw& draw, std::int64_t g, std::int64_t high, std::int64_t& a,
                      std::int64_t& b) {
    const std::int64_t m = draw.in(2, 9);
    const std::int64_t n = draw.in(2, 9);
    a = g * m;
    b = g * n;
    return m != n && gcd(m, n) == 1 && a <= high && b <= high;
}

bool common_factor(Draw& draw, Draft& draft) {
    const std::int64_t g = draw.in(4, draw.by_tier<std::int64_t>(10, 18, 30));
    std::int64_t a = 0;
    std::int64_t b = 0;
    if (!pair_with_factor(draw, g, draw.by_tier<std::int64_t>(60, 120, 250), a, b)) return false;
    std::int64_t prime = 2;
    while (g % prime != 0)
        ++prime;
    if (prime == g) return false;
    draft.ask(say("Find the greatest common factor of ", a, " and ", b, "."),
              calc("gcd(", a, ",", b, ")"));
    draft.answer(Exact(g));
    draft.step(a, " = ", g, " × ", a / g);
    draft.step(b, " = ", g, " × ", b / g);
    draft.step(a / g, " and ", b / g, " have no common factor but 1, so ", g, " is the greatest.");
    draft.slip(not_greatest, g / prime);
    draft.slip(multiple_for_factor, lcm(a, b));
    draft.slip(factor_of_one, std::min(a, b));
    return true;
}

bool common_multiple(Draw& draw, Draft& draft) {
    const std::int64_t g = draw.in(2, draw.by_tier<std::int64_t>(4, 8, 12));
    std::int64_t a = 0;
    std::int64_t b = 0;
    if (!pair_with_factor(draw, g, draw.by_tier<std::int64_t>(24, 48, 96), a, b)) return false;
    const std::int64_t least = lcm(a, b);
    draft.ask(say("Find the least common multiple of ", a, " and ", b, "."),
              calc("lcm(", a, ",", b, ")"));
    draft.answer(Exact(least));
    draft.step("Multiples of ", b, " until ", a, " divides one: ", b, " × ", least / b, " = ",
               least);
    draft.step("Check: ", a, " × ", least / a, " = ", least);
    draft.slip(product, a * b);
    draft.slip(factor_for_multiple, g);
    draft.slip(larger_number, std::max(a, b));
    return true;
}

bool roots(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.in(2, draw.by_tier<std::int64_t>(12, 15, 20));
    const std::int64_t q = draw.in(2, draw.by_tier<std::int64_t>(12, 6, 10));
    const Exact P(p), Q(q);
    if (draw.support()) {
        if (p == q) return false;
        draft.ask(say("Work out: √", p * p, " + √", q * q),
                  calc("sqrt(", p * p, ")+sqrt(", q * q, ")"));
        draft.answer(P + Q);
        draft.step("√", p * p, " = ", p, " and √", q * q, " = ", q);
        draft.step(p, " + ", q, " = ", p + q);
        draft.slip(halved, Exact(p * p + q * q, 2));
        draft.slip(one_root, P + Q * Q);
        return true;
    }
    const Exact cube = Q * Q * Q;
    const Exact square = draw.stretch() ? P * P / Exact(100) : P * P;
    const Exact root = draw.stretch() ? P / Exact(10) : P;
    if (draw.stretch() && p % 10 == 0) return false;
    const bool plus = draw.coin();
    if (!plus && root <= Q) return false;
    const Exact result = plus ? root + Q : root - Q;
    draft.ask(say("Work out: √", decimal_text(square), plus ? " + ∛" : " − ∛", cube),
              calc("sqrt(", math(square), plus ? ")+" : ")-", cube, "^(1/3)"));
    draft.show(decimal_text);
    draft.answer(result);
    draft.step("√", decimal_text(square), " = ", decimal_text(root), " and ∛", cube, " = ", q);
    draft.step(decimal_text(root), plus ? " + " : " − ", q, " = ", decimal_text(result));
    draft.slip(one_root, abs(plus ? root + cube : root - cube));
    const Exact half = square / Exact(2);
    const Exact third = cube / Exact(3);
    if (third.ends()) draft.slip(halved, abs(plus ? half + third : half - third));
    draft.slip(cube_as_square, abs(plus ? root + cube / Exact(2) : root - cube / Exact(2)));
    return true;
}

bool root_between(Draw& draw, Draft& draft) {
    const std::int64_t n = draw.in(draw.by_tier(5, 50, 200), draw.by_tier(143, 399, 899));
    std::int64_t root = 1;
    while ((root + 1) * (root + 1) <= n)
        ++root;
    if (root * root == n) return false;
    draft.ask(say("√", n,
                  " lies between two whole numbers that follow each other. Write the smaller one."),
              calc("floor(sqrt(", n, "))"));
    draft.answer(Exact(root));
    draft.step(root, " × ", root, " = ", root * root, " is below ", n, ".");
    draft.step(root + 1, " × ", root + 1, " = ", (root + 1) * (root + 1), " is above ", n, ".");
    draft.slip(halved, n / 2);
    draft.slip(upper_number, root + 1);
    draft.slip(divided_by_ten, n / 10);
    return n / 10 > 0;
}

std::string scientific_text(const Exact& front, int exponent) {
    return say(decimal_text(front), " × 10", power_text(exponent));
}

bool scientific_write(Draw& draw, Draft& draft) {
    const bool small = draw.support() ? false : draw.stretch() || draw.coin();
    const std::int64_t digits = draw.in(draw.support() ? 11 : 101, draw.support() ? 99 : 999);
    if (digits % 10 == 0) return false;
    const int size = draw.support() ? 1 : 2;
    const Exact front = Exact(digits) / power(Exact(10), size);
    const int exponent = small ? -static_cast<int>(draw.in(2, 6)) : static_cast<int>(draw.in(4, 8));
    const Exact x = front * power(Exact(10), exponent);
    draft.ask("Write in scientific notation: " + decimal_text(x), math(x));
    draft.answer(scientific_text(front, exponent), math(x));
    draft.step("The number in front has one digit before the point: ", decimal_text(front));
    draft.step("The point moves ", exponent < 0 ? -exponent : exponent,
               " places: ", scientific_text(front, exponent));
    const auto wrong = [&](const SlipInfo& slip, int power_of_ten) {
        draft.slip(slip, scientific_text(front, power_of_ten),
                   math(front * power(Exact(10), power_of_ten)));
    };
    wrong(zeros_counted, small ? exponent + 1 : exponent - size);
    wrong(exponent_sign, -exponent);
    wrong(exponent_off, small ? exponent - 1 : exponent + 1);
    return true;
}

bool scientific_multiply(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.in(12, 96);
    const std::int64_t q = draw.in(2, 9);
    const int m = static_cast<int>(draw.in(2, draw.by_tier<std::int64_t>(4, 7, 7)));
    const int n = static_cast<int>(
        draw.stretch() ? -draw.in(2, 6) : draw.in(2, draw.by_tier<std::int64_t>(4, 7, 7)));
    const Exact front(p, 10);
    const Exact back(q);
    const Exact both = front * back;
    const bool over = both >= Exact(10);
    if (over == draw.support() || p % 10 == 0 || m * n == m + n) return false;
    const int exponent = m + n + (over ? 1 : 0);
    const Exact lead = over ? both / Exact(10) : both;
    draft.ask(say("Multiply and write in scientific notation: (", scientific_text(front, m),
                  ") × (", scientific_text(back, n), ")"),
              calc("(", front, "*10^", m, ")*(", q, "*10^", Exact(n), ")"));
    const auto value = [](const Exact& f, int e) {
        return say(math_in(f), "*10^", math_in(Exact(e)));
    };
    draft.answer(scientific_text(lead, exponent), value(lead, exponent));
    draft.step(decimal_text(front), " × ", q, " = ", decimal_text(both));
    draft.step("10", power_text(m), " × 10", power_text(n), " = 10", power_text(m + n));
    if (over) draft.step(scientific_text(both, m + n), " = ", scientific_text(lead, exponent));
    const int times = m * n + (over ? 1 : 0);
    draft.slip(exponents_multiplied, scientific_text(lead, times), value(lead, times));
    const Exact sum = front + back;
    const bool sum_over = sum >= Exact(10);
    const Exact sum_lead = sum_over ? sum / Exact(10) : sum;
    const int sum_exponent = m + n + (sum_over ? 1 : 0);
    draft.slip(fronts_added, scientific_text(sum_lead, sum_exponent),
               value(sum_lead, sum_exponent));
    if (over)
        draft.slip(wrong_carry, scientific_text(lead, exponent - 2), value(lead, exponent - 2));
    else
        draft.slip(exponent_off, scientific_text(lead, exponent + 1), value(lead, exponent + 1));
    return lead != Exact(0);
}

}  // namespace

std::vector<Generator> number_cards() {
    return {
        {"order-of-operations",
         {"No brackets, three operations", "One pair of brackets and a division",
          "Brackets inside brackets"},
         {&left_to_right, &add_first, &brackets_ignored, &minus_inside},
         order_of_operations},
        {"words-to-numbers",
         {"Add, then multiply", "Add or subtract, then multiply", "Three steps"},
         {&no_brackets, &last_step_first, &step_forgotten},
         words_to_numbers},
        {"two-patterns",
         {"Both start at 0, factor up to 4", "Both start at 0, factor up to 6",
          "Starts other than 0, up to 20 steps"},
         {&additive, &one_term_off, &adds_rule_once},
         two_patterns},
        {"common-factor",
         {"Numbers up to 60, factor up to 10", "Numbers up to 120, factor up to 18",
          "Numbers up to 250, factor up to 30"},
         {&not_greatest, &multiple_for_factor, &factor_of_one},
         common_factor},
        {"common-multiple",
         {"Numbers up to 24", "Numbers up to 48", "Numbers up to 96"},
         {&product, &factor_for_multiple, &larger_number},
         common_multiple},
        {"square-cube-roots",
         {"Two square roots of numbers up to 144", "A square root and a cube root up to 216",
          "A square root of a decimal and a cube root up to 1,000"},
         {&halved, &one_root, &cube_as_square},
         roots},
        {"root-between",
         {"Numbers up to 143", "Numbers from 50 to 399", "Numbers from 200 to 899"},
         {&halved, &upper_number, &divided_by_ten},
         root_between},
        {"scientific-write",
         {"Large numbers with two figures", "Large and small numbers with three figures",
          "Small numbers with three figures"},
         {&zeros_counted, &exponent_sign, &exponent_off},
         scientific_write},
        {"scientific-multiply",
         {"Front product below 10, exponents up to 4", "Front product of 10 or more",
          "Front product of 10 or more, one negative exponent"},
         {&exponents_multiplied, &fronts_added, &wrong_carry, &exponent_off},
         scientific_multiply},
    };
}

}  // namespace tallyround::cards
