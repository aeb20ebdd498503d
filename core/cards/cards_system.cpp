#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view leinhardt =
    "Leinhardt, Zaslavsky and Stein 1990, Rev. of Educ. Research 60:1";

constexpr SlipInfo swapped{"letters-swapped", "Swaps the two letters", "", practice};
constexpr SlipInfo back_wrong{"back-sign-wrong", "Loses a sign when putting the value back", payne,
                              from_memory};
constexpr SlipInfo added_wrong{
    "added-not-subtracted", "Adds the right sides where it subtracts the left", payne, from_memory};
constexpr SlipInfo sign_lost{"minus-lost", "Loses the minus sign of the input",
                             "Vlassis 2004, Learning and Instruction 14:469", from_memory};
constexpr SlipInfo output_for_input{"output-as-input", "Puts the output into the rule", leinhardt,
                                    from_memory};
constexpr SlipInfo run_over_rise{"run-over-rise", "Divides the change in x by the change in y",
                                 leinhardt, from_memory};
constexpr SlipInfo order_mixed{"order-mixed", "Subtracts in different orders above and below",
                               leinhardt, from_memory};
constexpr SlipInfo point_ratio{"y-over-x", "Divides y by x of one point", leinhardt, from_memory};
constexpr SlipInfo rise_only{"rise-only", "Gives the change in y only", leinhardt, from_memory};
constexpr SlipInfo slope_intercept_swapped{"slope-and-start-swapped", "Swaps slope and intercept",
                                           leinhardt, from_memory};
constexpr SlipInfo first_y{"first-y-as-intercept", "Takes the y of a point for the intercept",
                           leinhardt, from_memory};
constexpr SlipInfo slope_sign{"slope-sign", "Gives the slope the wrong sign", "", practice};
constexpr SlipInfo first_row{"first-row-only", "Makes the rule fit the first row only", "",
                             practice};
constexpr SlipInfo step_as_rule{"step-as-rule", "Writes how y grows from row to row", hart,
                                from_memory};
constexpr SlipInfo letters_turned{"letters-turned", "Writes the rule for the other letter",
                                  "Clement 1982, J. Research in Math. Education 13:16",
                                  from_memory};
constexpr SlipInfo start_for_rate{
    "start-for-rate", "Compares the starting values instead of the rates", leinhardt, from_memory};
constexpr SlipInfo sum_of_rates{"rates-added", "Adds the two rates", "", practice};

std::string pair_text(const Exact& x, const Exact& y) {
    return say("x = ", mixed_text(x), ", y = ", mixed_text(y));
}

std::string pair_math(const Exact& x, const Exact& y) {
    return say("x=", math(x), ",y=", math(y));
}

std::string line_side(const Exact& a, const Exact& b, bool for_people) {
    std::string right = for_people ? linear_text(b, "y", 0) : linear_math(b, "y", 0);
    const std::string left = for_people ? linear_text(a, "x", 0) : linear_math(a, "x", 0);
    if (b > Exact(0)) return left + (for_people ? " + " : "+") + right;
    const std::string size = for_people ? linear_text(-b, "y", 0) : linear_math(-b, "y", 0);
    return left + (for_people ? " − " : "-") + size;
}

bool substitute(Draw& draw, Draft& draft) {
    const Exact x(draw.nonzero(draw.support() ? 1 : -6, 8));
    const Exact m(draw.either_sign(2, draw.support() ? 4 : 5, draw.stretch()));
    const Exact b(draw.either_sign(1, 9, !draw.support()));
    const Exact y = m * x + b;
    const Exact p = draw.support() ? Exact(1) : Exact(draw.in(2, 6));
    const Exact q =
        Exact(draw.either_sign(draw.support() ? 1 : 2, draw.support() ? 3 : 5, draw.stretch()));
    const Exact c = p * x + q * y;
    if (x == y || p + q * m == Exact(0)) return false;
    const std::string rule = say("y = ", linear_text(m, "x", b));
    draft.ask(say("Solve the two equations: ", rule, " and ", line_side(p, q, true), " = ", c),
              say("y=", linear_math(m, "x", b), ",", line_side(p, q, false), "=", math(c)));
    draft.answer(pair_text(x, y), pair_math(x, y));
    draft.step("Put ", linear_text(m, "x", b),
               " in place of y: ", linear_text(p + q * m, "x", q * b), " = ", c);
    draft.step("x = ", x, ", then y = ", m, " × ", x < Exact(0) ? say("(", x, ")") : say(x),
               b < Exact(0) ? " − " : " + ", abs(b), " = ", y);
    draft.slip(swapped, pair_text(y, x), pair_math(y, x));
    if (q != Exact(1)) {
        const Exact wrong_x = (c - b) / (p + q * m);
        draft.slip(partial_distribution, pair_text(wrong_x, m * wrong_x + b),
                   pair_math(wrong_x, m * wrong_x + b));
        if (wrong_x.bottom() > 12) return false;
    }
    draft.slip(back_wrong, pair_text(x, m * x - b), pair_math(x, m * x - b));
    return true;
}

bool eliminate(Draw& draw, Draft& draft) {
    const Exact x(draw.nonzero(draw.support() ? 1 : -7, 9));
    const Exact y(draw.nonzero(draw.support() ? 1 : -7, 9));
    const Exact a(draw.in(1, 6));
    const Exact d(draw.in(1, 6));
    const Exact b(draw.in(1, 5));
    const Exact factor = draw.stretch() ? Exact(draw.in(2, 4)) : Exact(1);
    const bool add = draw.support() || draw.coin();
    const Exact second_b = b * factor * Exact(add ? -1 : 1);
    const Exact c = a * x + b * y;
    const Exact f = d * x + second_b * y;
    const Exact left = a * factor + (add ? d : -d);
    if (x == y || left == Exact(0) || (draw.stretch() && d == a * factor)) return false;
    draft.ask(say("Solve the two equations: ", line_side(a, b, true), " = ", c, " and ",
                  line_side(d, second_b, true), " = ", f),
              say(line_side(a, b, false), "=", math(c), ",", line_side(d, second_b, false), "=",
                  math(f)));
    draft.answer(pair_text(x, y), pair_math(x, y));
    if (draw.stretch())
        draft.step("Multiply the first equation by ", factor, ": ",
                   line_side(a * factor, b * factor, true), " = ", c * factor);
    draft.step(add ? "Add the equations: " : "Subtract the second equation: ",
               linear_text(left, "x", 0), " = ", add ? c * factor + f : c * factor - f);
    draft.step("x = ", x, "; put it back: y = ", y);
    draft.slip(swapped, pair_text(y, x), pair_math(y, x));
    const Exact wrong_x = (add ? c * factor - f : c * factor + f) / left;
    const Exact wrong_y = (c - a * wrong_x) / b;
    if (wrong_x.bottom() > 12 || wrong_y.bottom() > 12) return false;
    draft.slip(added_wrong, pair_text(wrong_x, wrong_y), pair_math(wrong_x, wrong_y));
    draft.slip(back_wrong, pair_text(x, (c + a * x) / b), pair_math(x, (c + a * x) / b));
    return true;
}

bool function_value(Draw& draw, Draft& draft) {
    const Exact a(draw.either_sign(2, 9, draw.stretch()));
    const Exact b(draw.either_sign(1, 15));
    const Exact x = draw.support()   ? Exact(draw.in(2, 9))
                    : draw.stretch() ? Exact(draw.nonzero(-9, 9), 2)
                                     : Exact(-draw.in(2, 9));
    if (draw.stretch() && x.whole()) return false;
    const std::string at = x < Exact(0) ? say("(", x, ")") : say(x);
    draft.ask(say("A rule gives y = ", linear_text(a, "x", b), ". Find y for x = ", x, "."),
              calc(a, "*", x, "+", b));
    draft.show(mixed_text, "", "y = ");
    draft.answer(a * x + b);
    draft.step(a, " × ", at, " = ", a * x);
    draft.step(a * x, b < Exact(0) ? " − " : " + ", abs(b), " = ", a * x + b);
    draft.slip(rule_order, a * (x + b));
    if (x < Exact(0)) draft.slip(sign_lost, a * -x + b);
    if (draw.support()) draft.slip(digits_joined, a * Exact(10) + x + b);
    draft.slip(constant_wrong_way, a * x - b);
    return true;
}

bool function_input(Draw& draw, Draft& draft) {
    const Exact a(draw.in(2, 9) * (draw.stretch() ? -1 : 1));
    const Exact b(draw.either_sign(1, 20, !draw.support()));
    const Exact x{draw.nonzero(draw.support() ? 1 : -9, 12),
                  draw.stretch() ? draw.of<std::int64_t>({1, 2}) : 1};
    const Exact y = a * x + b;
    if (!y.whole() || y == Exact(0)) return false;
    draft.ask(say("A rule gives y = ", linear_text(a, "x", b), ". Which x gives y = ", y, "?"),
              say(linear_math(a, "x", b), "=", math(y)));
    draft.show_letter("x");
    draft.answer(x);
    draft.step(linear_text(a, "x", b), " = ", y);
    draft.step(linear_text(a, "x", 0), " = ", y - b);
    draft.step("x = ", mixed_text(x));
    draft.slip(output_for_input, a * y + b);
    draft.slip(constant_wrong_way, (y + b) / a);
    draft.slip(not_divided, y - b);
    return true;
}

bool slope_points(Draw& draw, Draft& draft) {
    const std::int64_t low = draw.support() ? 0 : -9;
    const Exact x1(draw.in(low, 9)), y1(draw.in(low, 9)), x2(draw.in(low, 12)),
        y2(draw.in(low, 12));
    if (x1 == x2 || y1 == y2 || (draw.support() && (x2 < x1 || y2 < y1))) return false;
    const Exact slope = (y2 - y1) / (x2 - x1);
    if (draw.support() ? !slope.whole() && slope.bottom() > 3
                       : draw.stretch() && (slope.whole() || slope > Exact(0)))
        return false;
    draft.ask(say("Find the slope of the line through ", point_text(x1, y1), " and ",
                  point_text(x2, y2), "."),
              calc("(", y2, "-", y1, ")/(", x2, "-", x1, ")"));
    draft.show(fraction_text);
    draft.answer(slope);
    const auto in = [](const Exact& n) { return n < Exact(0) ? say("(", n, ")") : say(n); };
    draft.step("Change in y: ", y2, " − ", in(y1), " = ", y2 - y1);
    draft.step("Change in x: ", x2, " − ", in(x1), " = ", x2 - x1);
    draft.step(y2 - y1, " ÷ ", in(x2 - x1), " = ", slope);
    draft.slip(run_over_rise, Exact(1) / slope);
    draft.slip(order_mixed, -slope);
    if (x2 != Exact(0) && y2 / x2 != Exact(0))
        draft.slip(point_ratio, y2 / x2);
    else
        draft.slip(rise_only, y2 - y1);
    return true;
}

bool slope_intercept(Draw& draw, Draft& draft) {
    const Exact m = draw.support() ? Exact(draw.in(2, 12))
                                   : Exact{draw.nonzero(-9, 9), draw.stretch() ? draw.in(2, 5) : 1};
    const Exact b(draw.nonzero(draw.support() ? 1 : -12, 12));
    const Exact k = draw.stretch() ? Exact(draw.in(2, 4)) * Exact(m.bottom()) : Exact(1);
    if (m == b || abs(m) == Exact(1) || (draw.stretch() && m.whole())) return false;
    const auto text = [](const Exact& slope, const Exact& start) {
        return say("slope ", slope, ", y-intercept ", start);
    };
    const auto text_math = [](const Exact& slope, const Exact& start) {
        return say("(", math(slope), ",", math(start), ")");
    };
    const std::string question = "What are the slope and the y-intercept of the line ";
    if (draw.stretch())
        draft.ask(say(question, linear_text(k, "y", 0), " = ", linear_text(k * m, "x", k * b), "?"),
                  calc("((", k * m, ")/", k, ",(", k * b, ")/", k, ")"));
    else
        draft.ask(
            say(question, "y = ",
                draw.coin() ? linear_text(m, "x", b)
                            : say(b, m < Exact(0) ? " − " : " + ", linear_text(abs(m), "x", 0)),
                "?"),
            text_math(m, b));
    draft.answer(text(m, b), text_math(m, b));
    if (draw.stretch()) draft.step("Divide both sides by ", k, ": y = ", linear_text(m, "x", b));
    draft.step("The number with x is the slope, the other number the y-intercept.");
    draft.slip(slope_intercept_swapped, text(b, m), text_math(b, m));
    draft.slip(slope_sign, text(-m, b), text_math(-m, b));
    if (draw.stretch())
        draft.slip(not_divided, text(k * m, k * b), text_math(k * m, k * b));
    else
        draft.slip(run_over_rise, text(Exact(1) / m, b), text_math(Exact(1) / m, b));
    return true;
}

bool line_equation(Draw& draw, Draft& draft) {
    const Exact m = draw.support() ? Exact(draw.in(2, 6))
                                   : Exact{draw.nonzero(-6, 6),
                                           draw.stretch() ? draw.of<std::int64_t>({2, 3, 4}) : 1};
    const Exact b(draw.nonzero(draw.support() ? 1 : -9, 9));
    const std::int64_t step = m.bottom();
    const Exact x1(draw.support() ? 0 : step * draw.in(1, 3));
    const Exact x2 = x1 + Exact(step * draw.in(1, 4));
    const Exact y1 = m * x1 + b;
    const Exact y2 = m * x2 + b;
    if ((draw.stretch() && m.whole()) || m == b || abs(m) == Exact(1)) return false;
    draft.ask(say("Write the equation of the line through ", point_text(x1, y1), " and ",
                  point_text(x2, y2), "."),
              say("y=", math_in(m), "*x+", math_in(b)));
    const auto text = [](const Exact& slope, const Exact& start) {
        return say("y = ", linear_text(slope, "x", start));
    };
    const auto text_math = [](const Exact& slope, const Exact& start) {
        return say("y=", math_in(slope), "*x+", math_in(start));
    };
    draft.answer(text(m, b), text_math(m, b));
    const auto in = [](const Exact& n) { return n < Exact(0) ? say("(", n, ")") : say(n); };
    draft.step("Slope: (", y2, " − ", in(y1), ") ÷ (", x2, " − ", x1, ") = ", m);
    draft.step("y-intercept: ", y1, " − ", in(m), " × ", x1, " = ", b);
    draft.slip(slope_intercept_swapped, text(b, m), text_math(b, m));
    draft.slip(run_over_rise, text(Exact(1) / m, y1 - x1 / m),
               text_math(Exact(1) / m, y1 - x1 / m));
    if (x1 == Exact(0))
        draft.slip(slope_sign, text(-m, b), text_math(-m, b));
    else
        draft.slip(first_y, text(m, y1), text_math(m, y1));
    return true;
}

bool table_rule(Draw& draw, Draft& draft) {
    const Exact a(draw.in(2, draw.by_tier<std::int64_t>(9, 9, 12)));
    const Exact b = draw.support() ? Exact(draw.coin() ? 0 : draw.in(1, 12))
                                   : Exact(draw.either_sign(1, 15, draw.stretch()));
    const bool sum = draw.support() && b != Exact(0);
    const Exact m = sum ? Exact(1) : a;
    const std::int64_t first = draw.in(2, 5);
    const std::int64_t gap = draw.stretch() ? draw.in(2, 3) : 1;
    if (m * Exact(first) + b <= Exact(0)) return false;
    std::string rows;
    for (int i = 0; i < 3; ++i) {
        const Exact x(first + i * gap);
        rows += (rows.empty() ? "" : "; ") + say("x = ", x, ", y = ", m * x + b);
    }
    draft.ask("Write a rule for y: " + rows, say("y=", linear_math(m, "x", b)));
    const auto rule = [](const Exact& p, const Exact& q) {
        return say("y = ", linear_text(p, "x", q));
    };
    const auto rule_math = [](const Exact& p, const Exact& q) {
        return say("y=", linear_math(p, "x", q));
    };
    draft.answer(rule(m, b), rule_math(m, b));
    draft.step("When x grows by ", gap, ", y grows by ", m * Exact(gap), ": ", m, " for each 1.");
    draft.step("At x = ", first, ": ", m, " × ", first, b < Exact(0) ? " − " : " + ", abs(b), " = ",
               m * Exact(first) + b);
    const Exact y(m * Exact(first) + b);
    draft.slip(step_as_rule, rule(1, m * Exact(gap)), rule_math(1, m * Exact(gap)));
    draft.slip(letters_turned, say("x = ", linear_text(m, "y", b)),
               say("x=", linear_math(m, "y", b)));
    if (sum) {
        if (!(y / Exact(first)).whole()) return false;
        draft.slip(first_row, rule(y / Exact(first), 0), rule_math(y / Exact(first), 0));
    } else {
        draft.slip(first_row, rule(1, y - Exact(first)), rule_math(1, y - Exact(first)));
    }
    return true;
}

bool compare_rates(Draw& draw, Draft& draft) {
    const Exact a(draw.in(3, 25), draw.stretch() ? 2 : 1);
    const Exact c(draw.in(3, 25), draw.stretch() ? 2 : 1);
    const Exact b(draw.in(1, 30));
    const Exact d = draw.support() ? Exact(0) : Exact(draw.in(1, 30));
    const std::int64_t t = draw.in(2, 4) * 2;
    if (a <= c || b == d || (draw.stretch() && (a.whole() || c.whole()))) return false;
    const std::int64_t later = t + draw.in(1, 3) * 2;
    draft.ask(
        say("Tank A holds y = ", decimal_text(a), "x + ", b,
            " liters after x minutes. Tank B holds ", decimal_text(c * Exact(t) + d),
            " liters after ", t, " minutes and ", decimal_text(c * Exact(later) + d),
            " liters after ", later,
            " minutes, growing steadily. How many liters a minute does A gain more than B?"),
        calc(a, "-(", c * Exact(later) + d, "-", c * Exact(t) + d, ")/(", later, "-", t, ")"));
    draft.show(decimal_text);
    draft.answer(a - c);
    draft.step("A gains ", decimal_text(a), " liters a minute.");
    draft.step("B gains (", decimal_text(c * Exact(later) + d), " − ",
               decimal_text(c * Exact(t) + d), ") ÷ (", later, " − ", t, ") = ", decimal_text(c));
    draft.step(decimal_text(a), " − ", decimal_text(c), " = ", decimal_text(a - c));
    draft.slip(start_for_rate, abs(b - d));
    draft.slip(sum_of_rates, a + c);
    draft.slip(rise_only, abs(a - c * Exact(later - t)));
    return true;
}

}  // namespace

std::vector<Generator> function_cards() {
    return {
        {"system-substitute",
         {"Positive whole numbers", "Coefficients in both equations", "Negative coefficients"},
         {&swapped, &partial_distribution, &back_wrong},
         substitute},
        {"system-eliminate",
         {"Adding removes y", "Adding or subtracting removes y",
          "One equation is multiplied first"},
         {&swapped, &added_wrong, &back_wrong},
         eliminate},
        {"function-value",
         {"Positive whole inputs", "Negative inputs", "Inputs in halves, any sign"},
         {&rule_order, &sign_lost, &digits_joined, &constant_wrong_way},
         function_value},
        {"function-input",
         {"Positive numbers", "Negative inputs", "Negative coefficient, inputs in halves"},
         {&output_for_input, &constant_wrong_way, &not_divided},
         function_input},
        {"slope-points",
         {"First quadrant, rising lines", "All quadrants", "Falling lines, fraction slopes"},
         {&run_over_rise, &order_mixed, &point_ratio, &rise_only},
         slope_points},
        {"slope-intercept",
         {"Positive whole numbers, either order", "Negative numbers, either order",
          "The equation must be divided first"},
         {&slope_intercept_swapped, &slope_sign, &not_divided, &run_over_rise},
         slope_intercept},
        {"line-equation",
         {"One point on the y-axis", "Whole slope, no point on the y-axis", "Fraction slope"},
         {&slope_intercept_swapped, &run_over_rise, &slope_sign, &first_y},
         line_equation},
        {"table-rule",
         {"One operation", "A factor and a sum",
          "A factor and a sum or difference, x skips numbers"},
         {&step_as_rule, &letters_turned, &first_row},
         table_rule},
        {"compare-rates",
         {"The table starts at 0", "Both start above 0", "Rates with a half"},
         {&start_for_rate, &sum_of_rates, &rise_only},
         compare_rates},
    };
}

}  // namespace tallyround::cards
