#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view kieran = "Kieran 1992, in Handbook of Research on Math. Teaching";

constexpr SlipInfo divisor_added{"divisor-added", "Adds the divisor instead of multiplying", "",
                                 practice};
constexpr SlipInfo same_operation{"same-operation", "Repeats the operation instead of undoing it",
                                  kieran, from_memory};
constexpr SlipInfo sides_swapped{"numbers-swapped", "Works the two numbers the other way round",
                                 kieran, from_memory};
constexpr SlipInfo side_copied{"side-copied", "Takes the number on the other side for the answer",
                               kieran, from_memory};
constexpr SlipInfo subtracts_factor{"factor-subtracted", "Subtracts the factor instead of dividing",
                                    payne, from_memory};
constexpr SlipInfo strict_mixed{"strict-mixed-up", "Mixes up 'at least' with 'more than'", "",
                                practice};
constexpr SlipInfo reversed{"inequality-reversed", "Turns the inequality sign around", "",
                            practice};
constexpr SlipInfo equation_only{"only-the-limit", "Writes an equation for the limit itself", "",
                                 practice};
constexpr SlipInfo divided_first{"divides-one-side-only",
                                 "Divides the other side but not the number next to the letter",
                                 payne, from_memory};
constexpr SlipInfo bracket_sign{"bracket-number-wrong-way",
                                "Moves the number inside the bracket with its sign", payne,
                                from_memory};
constexpr SlipInfo not_flipped{"sign-not-turned",
                               "Keeps the sign when dividing by a negative number", "", practice};
constexpr SlipInfo letters_added{"letter-terms-added", "Adds the letter terms of the two sides",
                                 payne, from_memory};
constexpr SlipInfo none_for_all{
    "none-for-endless", "Takes a true statement for no solution, or a false one for endless", "",
    practice};
constexpr SlipInfo zero_for_none{"one-for-special",
                                 "Takes the constant left over for the one solution", "", practice};
constexpr SlipInfo letters_vanish{"special-for-zero", "Takes x = 0 for no solution", "", practice};
constexpr SlipInfo endless_for_zero{"endless-for-zero", "Takes x = 0 for endless solutions", "",
                                    practice};
constexpr SlipInfo none_for_one{"none-for-one", "Sees different terms and says that nothing fits",
                                "", practice};
constexpr SlipInfo endless_for_one{
    "endless-for-one", "Says endless because a letter can be any number", kuchemann, from_memory};
constexpr SlipInfo one_root{"positive-root-only", "Gives the positive root only", "", practice};
constexpr SlipInfo halved{"exponent-divided", "Divides by the exponent instead of taking the root",
                          "", practice};
constexpr SlipInfo unwanted_root{"negative-cube-root", "Gives a negative root of a cube as well",
                                 "", practice};

const std::vector<std::string_view> letters{"x", "n", "y", "k", "t", "m"};

bool one_step_add(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const std::int64_t scale = draw.stretch() ? draw.of<std::int64_t>({4, 6, 8, 10}) : 1;
    const Exact a(draw.in(2, draw.by_tier<std::int64_t>(20, 90, 25)), scale);
    const Exact right(draw.in(draw.support() ? 1 : 3, draw.by_tier<std::int64_t>(30, 150, 40)),
                      scale);
    const bool plus = draw.coin();
    if (draw.stretch() && (a.whole() || right.whole())) return false;
    if (!plus && right <= a) return false;
    const Exact b = plus ? right + a : right - a;
    draft.ask(say("Solve: ", x, plus ? " + " : " − ", a, " = ", b),
              say(x, plus ? "+" : "-", math_in(a), "=", math(b)));
    draft.show_letter(x);
    draft.answer(right);
    draft.step(plus ? "Subtract " : "Add ", a, " on both sides.");
    draft.step(x, " = ", b, plus ? " − " : " + ", a, " = ", right);
    draft.slip(same_operation, plus ? b + a : b - a);
    if (plus) draft.slip(sides_swapped, a - b);
    draft.slip(side_copied, b);
    return true;
}

bool one_step_multiply(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const Exact a(draw.in(2, draw.by_tier<std::int64_t>(9, 15, 12)));
    const bool times = draw.coin();
    Exact right(draw.in(2, draw.by_tier<std::int64_t>(12, 25, 40)));
    if (draw.stretch()) {
        if (times) {
            right = right / Exact(draw.in(3, 9));
            if (right.whole() || (a * right).bottom() != 1) return false;
        } else {
            right = right / Exact(draw.in(2, 5));
            if (right.whole()) return false;
        }
    }
    if (!draw.stretch() && !times) right = right * a;
    const Exact b = times ? a * right : right / a;
    if (b == a || right == a) return false;
    draft.ask(times ? say("Solve: ", a, x, " = ", b) : say("Solve: ", x, "/", a, " = ", b),
              times ? say(math(a), "*", x, "=", math(b)) : say(x, "/", math(a), "=", math(b)));
    draft.show_letter(x);
    draft.answer(right);
    draft.step(times ? "Divide" : "Multiply", " both sides by ", a, ".");
    draft.step(x, " = ", b, times ? " ÷ " : " × ", a, " = ", right);
    draft.slip(same_operation, times ? b * a : b / a);
    draft.slip(times ? subtracts_factor : divisor_added, times ? b - a : b + a);
    if (times)
        draft.slip(sides_swapped, a / b);
    else
        draft.slip(side_copied, b);
    return true;
}

std::string relation(std::string_view x, int sign, bool strict, const Exact& n, bool for_people) {
    const std::string mark = sign > 0     ? (strict       ? ">"
                                             : for_people ? "≥"
                                                          : ">=")
                             : strict     ? "<"
                             : for_people ? "≤"
                                          : "<=";
    return for_people ? say(x, " ", mark, " ", mixed_text(n)) : say(x, mark, math(n));
}

bool inequality_write(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const int sign = draw.coin() ? 1 : -1;
    const bool strict = draw.support() || (draw.stretch() ? false : draw.coin());
    const Exact n = draw.stretch() ? Exact(draw.in(3, 40), 2) : Exact(draw.in(2, 90));
    const std::string_view word = sign > 0 ? (strict ? "more than" : "at least")
                                  : strict ? "less than"
                                           : "at most";
    const std::string thing =
        draw.of<std::string>({"The number of riders", "The length in meters", "The time in minutes",
                              "The price in dollars", "The mass in kilograms"});
    if (draw.stretch() && (n.whole() || thing == "The number of riders")) return false;
    draft.ask(say(thing, " is ", x, ". It must be ", word, " ", decimal_text(n),
                  ". Write an inequality for ", x, "."),
              relation(x, sign, strict, n, false));
    const auto person = [&](int s, bool k) {
        const std::string mark = s > 0 ? (k ? " > " : " ≥ ") : k ? " < " : " ≤ ";
        return say(x, mark, decimal_text(n));
    };
    draft.answer(person(sign, strict), relation(x, sign, strict, n, false));
    draft.step("“", word, "” ",
               strict ? "leaves the limit out: " : " include the limit: ", person(sign, strict));
    draft.slip(strict_mixed, person(sign, !strict), relation(x, sign, !strict, n, false));
    draft.slip(reversed, person(-sign, strict), relation(x, -sign, strict, n, false));
    draft.slip(equation_only, say(x, " = ", decimal_text(n)), say(x, "=", math(n)));
    return true;
}

bool two_step(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const Exact a(draw.in(2, 9) * (draw.stretch() ? -1 : 1));
    const Exact right = draw.stretch()
                            ? Exact{draw.nonzero(-15, 15), draw.of<std::int64_t>({1, 2, 3})}
                            : Exact(draw.in(draw.support() ? 1 : -9, 12));
    const Exact b(draw.either_sign(1, 20, !draw.support()));
    const Exact c = a * right + b;
    if (!c.whole() || right == Exact(0) || (draw.stretch() && abs(right) < Exact(1, 2)) ||
        c == Exact(0))
        return false;
    draft.ask(say("Solve: ", linear_text(a, x, b), " = ", c),
              say(linear_math(a, x, b), "=", math(c)));
    draft.show_letter(x);
    draft.answer(right);
    draft.step(b > Exact(0) ? "Subtract " : "Add ", abs(b),
               " on both sides: ", linear_text(a, x, 0), " = ", c - b);
    draft.step("Divide both sides by ", a, ": ", x, " = ", mixed_text(right));
    draft.slip(constant_wrong_way, (c + b) / a);
    draft.slip(not_divided, c - b);
    draft.slip(divided_first, c / a - b);
    draft.slip(subtracts_factor, c - b - a);
    return true;
}

bool bracket_equation(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const Exact a(draw.either_sign(2, draw.support() ? 6 : 9, draw.stretch()));
    const Exact b(draw.either_sign(1, 12, !draw.support()));
    const Exact right(draw.in(draw.support() ? 1 : -8, 12));
    const Exact d = draw.stretch() ? Exact(draw.in(2, 12)) : Exact(0);
    const Exact c = a * (right + b) + d;
    if (right == Exact(0) || right + b == Exact(0)) return false;
    const std::string tail = draw.stretch() ? say(" + ", d) : std::string();
    draft.ask(say("Solve: ", a, "(", linear_text(1, x, b), ")", tail, " = ", c),
              say(math(a), "*(", linear_math(1, x, b), ")",
                  draw.stretch() ? "+" + math(d) : std::string(), "=", math(c)));
    draft.show_letter(x);
    draft.answer(right);
    if (draw.stretch())
        draft.step("Subtract ", d, " on both sides: ", a, "(", linear_text(1, x, b), ") = ", c - d);
    draft.step("Divide both sides by ", a, ": ", linear_text(1, x, b), " = ", (c - d) / a);
    draft.step(b > Exact(0) ? "Subtract " : "Add ", abs(b), ": ", x, " = ", right);
    draft.slip(partial_distribution, (c - d - b) / a);
    draft.slip(bracket_sign, (c - d) / a + b);
    draft.slip(not_divided, c - d - a * b);
    return true;
}

bool inequality_solve(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const bool negative = !draw.support();
    const Exact a(draw.in(2, 9) * (negative ? -1 : 1));
    const Exact b(draw.either_sign(1, 20));
    const Exact limit =
        draw.stretch() ? Exact(draw.nonzero(-15, 15), 2) : Exact(draw.nonzero(-10, 12));
    const int sign = draw.coin() ? 1 : -1;
    const bool strict = draw.coin();
    const Exact c = a * limit + b;
    if (!c.whole() || (draw.stretch() && limit.whole())) return false;
    const std::string mark = sign > 0 ? (strict ? " > " : " ≥ ") : strict ? " < " : " ≤ ";
    const std::string mark_math = sign > 0 ? (strict ? ">" : ">=") : strict ? "<" : "<=";
    draft.ask(say("Solve: ", linear_text(a, x, b), mark, c),
              say(linear_math(a, x, b), mark_math, math(c)));
    const int turned = negative ? -sign : sign;
    const auto text = [&](int s, const Exact& n) { return relation(x, s, strict, n, true); };
    const auto text_math = [&](int s, const Exact& n) { return relation(x, s, strict, n, false); };
    draft.answer(text(turned, limit), text_math(turned, limit));
    draft.step(b > Exact(0) ? "Subtract " : "Add ", abs(b),
               " on both sides: ", linear_text(a, x, 0), mark, c - b);
    draft.step("Divide both sides by ", a, negative ? " and turn the sign: " : ": ",
               text(turned, limit));
    draft.slip(negative ? not_flipped : reversed, text(-turned, limit), text_math(-turned, limit));
    draft.slip(constant_wrong_way, text(turned, (c + b) / a), text_math(turned, (c + b) / a));
    draft.slip(equation_only, say(x, " = ", mixed_text(limit)), say(x, "=", math(limit)));
    return true;
}

bool both_sides(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const Exact c(draw.either_sign(2, 8, !draw.support()));
    const Exact a = draw.support() ? c + Exact(draw.in(1, 7)) : Exact(draw.in(2, 12));
    const Exact b(draw.either_sign(1, 15, !draw.support()));
    const Exact right = draw.stretch()
                            ? Exact{draw.nonzero(-19, 19), draw.of<std::int64_t>({2, 3, 4})}
                            : Exact(draw.nonzero(draw.support() ? 1 : -9, 10));
    const Exact d = (a - c) * right + b;
    if (a == c || a + c == Exact(0) || !d.whole() || d == Exact(0) || d == b ||
        (draw.stretch() && right.whole()))
        return false;
    draft.ask(say("Solve: ", linear_text(a, x, b), " = ", linear_text(c, x, d)),
              say(linear_math(a, x, b), "=", linear_math(c, x, d)));
    draft.show_letter(x);
    draft.answer(right);
    draft.step(c > Exact(0) ? "Subtract " : "Add ", linear_text(abs(c), x, 0),
               " on both sides: ", linear_text(a - c, x, b), " = ", d);
    draft.step(b > Exact(0) ? "Subtract " : "Add ", abs(b),
               " on both sides: ", linear_text(a - c, x, 0), " = ", d - b);
    if (a - c != Exact(1))
        draft.step("Divide both sides by ", a - c, ": ", x, " = ", mixed_text(right));
    draft.slip(letters_added, (d - b) / (a + c));
    draft.slip(constant_wrong_way, (d + b) / (a - c));
    if (abs(a - c) != Exact(1)) draft.slip(not_divided, d - b);
    return true;
}

bool solution_count(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const Exact k(draw.in(2, 6));
    const Exact a(draw.in(draw.support() ? 1 : 2, 9));
    const Exact b(draw.either_sign(1, 12, draw.stretch()));
    const int kind = static_cast<int>(draw.in(0, 2));  // none, one, endless
    const std::string none = "No solution";
    const std::string endless = "Every number is a solution";
    std::string left =
        draw.support() ? linear_text(a, x, b) : say(k, "(", linear_text(a, x, b), ")");
    std::string left_math =
        draw.support() ? linear_math(a, x, b) : say(math(k), "*(", linear_math(a, x, b), ")");
    const Exact p = draw.support() ? a : k * a;
    const Exact q = draw.support() ? b : k * b;
    const Exact shift(draw.nonzero(-9, 9));
    const Exact c = kind == 1 ? p + Exact(draw.nonzero(-5, 5)) : p;
    const Exact root = kind == 1 && draw.coin() ? Exact(0) : shift;
    const Exact d = kind == 0 ? q + shift : kind == 1 ? (p - c) * root + q : q;
    if (c == Exact(0) || (draw.support() && kind == 2) || d == Exact(0)) return false;
    draft.ask(say("How many solutions: none, one or endless? ", left, " = ", linear_text(c, x, d)),
              say(left_math, "=", linear_math(c, x, d)));
    if (!draw.support())
        draft.step("Multiply out: ", linear_text(p, x, q), " = ", linear_text(c, x, d));
    if (kind == 0) {
        draft.answer(none, "0");
        draft.step("The letter terms agree, the numbers do not: no number fits.");
        draft.slip(none_for_all, endless, "oo");
        draft.slip(zero_for_none, "One solution", "1");
    } else if (kind == 1) {
        draft.answer(say("One solution: ", x, " = ", root), "1");
        draft.step("The letter terms differ, so one number fits: ", x, " = ", root);
        draft.slip(root == Exact(0) ? letters_vanish : none_for_one, none, "0");
        draft.slip(root == Exact(0) ? endless_for_zero : endless_for_one, endless, "oo");
    } else {
        draft.answer(endless, "oo");
        draft.step("Both sides are the same expression: every number fits.");
        draft.slip(none_for_all, none, "0");
        draft.slip(zero_for_none, "One solution", "1");
    }
    return true;
}

bool square_equation(Draw& draw, Draft& draft) {
    const std::string_view x = draw.of(letters);
    const bool cube = draw.stretch() && draw.coin();
    const Exact a = draw.stretch() ? Exact(draw.in(2, 6)) : Exact(1);
    const Exact b = draw.support() ? Exact(0) : Exact(draw.either_sign(1, 30));
    const Exact root = cube ? Exact(draw.in(2, 6))
                            : Exact{draw.in(2, draw.by_tier<std::int64_t>(20, 15, 12)),
                                    draw.support() && draw.coin() ? draw.in(2, 9) : 1};
    const int n = cube ? 3 : 2;
    const Exact value = power(root, n);
    const Exact c = a * value + b;
    if (root == Exact(2) || root == Exact(1) || c <= Exact(0)) return false;
    const std::string letter = say(x, power_text(n));
    draft.ask(say("Solve: ", linear_text(a, letter, b), " = ", c),
              say(linear_math(a, say(x, "^", math(n)), b), "=", math(c)));
    const auto pair = [&](const Exact& r) { return say(x, " = ", r, " or ", x, " = ", -r); };
    const auto pair_math = [&](const Exact& r) {
        return say(x, "=", math(r), ",", x, "=", math(-r));
    };
    const auto single = [&](const Exact& r) { return say(x, " = ", r); };
    const auto single_math = [&](const Exact& r) { return say(x, "=", math(r)); };
    if (b != Exact(0))
        draft.step(b > Exact(0) ? "Subtract " : "Add ", abs(b),
                   " on both sides: ", linear_text(a, letter, 0), " = ", c - b);
    if (a != Exact(1)) draft.step("Divide both sides by ", a, ": ", letter, " = ", value);
    if (cube) {
        draft.answer(single(root), single_math(root));
        draft.step(root, " × ", root, " × ", root, " = ", value);
        draft.slip(unwanted_root, pair(root), pair_math(root));
        draft.slip(halved, single(value / Exact(3)), single_math(value / Exact(3)));
        draft.slip(side_copied, single(value), single_math(value));
        return true;
    }
    draft.answer(pair(root), pair_math(root));
    draft.step(root, " × ", root, " = ", value, " and (", -root, ") × (", -root, ") = ", value);
    draft.slip(one_root, single(root), single_math(root));
    draft.slip(halved, single(value / Exact(2)), single_math(value / Exact(2)));
    draft.slip(side_copied, single(value), single_math(value));
    return true;
}

}  // namespace

std::vector<Generator> equation_cards() {
    return {
        {"one-step-add",
         {"Whole numbers up to 50", "Whole numbers up to 240", "Fractions with one denominator"},
         {&same_operation, &sides_swapped, &side_copied},
         one_step_add},
        {"one-step-multiply",
         {"Factors up to 9, whole answers", "Factors up to 15, whole answers", "Fraction answers"},
         {&divisor_added, &same_operation, &subtracts_factor, &sides_swapped, &side_copied},
         one_step_multiply},
        {"inequality-write",
         {"More than or less than", "All four kinds of limits", "At least or at most a decimal"},
         {&strict_mixed, &reversed, &equation_only},
         inequality_write},
        {"two-step-equation",
         {"Positive numbers", "A minus sign in the equation, negative answers",
          "Negative coefficient, fraction answers"},
         {&constant_wrong_way, &not_divided, &divided_first, &subtracts_factor},
         two_step},
        {"bracket-equation",
         {"Positive numbers", "Negative numbers inside", "A number behind the bracket"},
         {&partial_distribution, &bracket_sign, &not_divided},
         bracket_equation},
        {"inequality-solve",
         {"Positive coefficient", "Negative coefficient",
          "Negative coefficient, limits with a half"},
         {&not_flipped, &reversed, &constant_wrong_way, &equation_only},
         inequality_solve},
        {"both-sides-equation",
         {"Positive coefficients, positive answers", "Negative coefficients and answers",
          "Fraction answers"},
         {&letters_added, &constant_wrong_way, &not_divided},
         both_sides},
        {"solution-count",
         {"No brackets; none or one", "A bracket on one side", "A bracket with a difference"},
         {&none_for_all, &zero_for_none, &letters_vanish, &endless_for_zero, &none_for_one,
          &endless_for_one},
         solution_count},
        {"square-equation",
         {"A square equals a number or fraction", "A square plus or minus a number",
          "A multiple of a square or cube and a number"},
         {&one_root, &halved, &side_copied, &unwanted_root},
         square_equation},
    };
}

}  // namespace tallyround::cards
