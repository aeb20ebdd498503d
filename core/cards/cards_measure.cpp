#include <algorithm>

#include "cards/drawings.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo one_letter_term{"one-letter-term-only", "Leaves one of the letter terms out", "",
                                   practice};
constexpr SlipInfo converts_back{"converts-wrong-way",
                                 "Divides where it should multiply, or the other way", ashlock,
                                 from_memory};
constexpr SlipInfo ten_short{"factor-ten-short", "Uses a factor ten times too small", "", practice};
constexpr SlipInfo factor_added{"conversion-added", "Adds the conversion number", "", practice};
constexpr SlipInfo tens_for_units{
    "tens-for-units", "Converts as if ten small units made a large one", ashlock, from_memory};
constexpr SlipInfo rest_forgotten{"smaller-unit-forgotten", "Leaves out the smaller unit", "",
                                  practice};
constexpr SlipInfo values_once{
    "each-value-once", "Counts each value once, whatever stands above it", hart, from_memory};
constexpr SlipInfo marks_counted{"marks-counted", "Counts the marks instead of adding the values",
                                 hart, from_memory};
constexpr SlipInfo right_for_straight{
    "right-for-straight", "Uses 180° for a right angle, or 90° for a straight one", "", practice};
constexpr SlipInfo angles_equal{"angles-equal", "Takes the two angles for equal", "", practice};
constexpr SlipInfo full_turn{"full-turn-sum", "Uses 360° as the sum", "", practice};
constexpr SlipInfo sum_given{"sum-of-given", "Gives the sum of the known angles", "", practice};
constexpr SlipInfo one_subtracted{"one-angle-subtracted", "Subtracts one of the angles only", "",
                                  practice};
constexpr SlipInfo interior{"inner-angle", "Gives the angle inside the triangle", "", practice};

struct Unit {
    const char* large;
    const char* small;
    std::int64_t factor;
};

/// A conversion in one direction, exact decimals.
bool metric(Draw& draw, Draft& draft) {
    const Unit unit =
        draw.support()
            ? draw.of<Unit>(
                  {{"m", "cm", 100}, {"km", "m", 1000}, {"kg", "g", 1000}, {"L", "mL", 1000}})
            : draw.of<Unit>({{"m", "cm", 100},
                             {"km", "m", 1000},
                             {"kg", "g", 1000},
                             {"L", "mL", 1000},
                             {"cm", "mm", 10},
                             {"m", "mm", 1000}});
    const bool to_small = draw.support() || (draw.stretch() ? false : draw.coin());
    const Exact large =
        draw.support() ? Exact{draw.in(2, 99), draw.of<std::int64_t>({1, 10})}
                       : Exact(draw.in(2, draw.stretch() ? 99 : 999), draw.stretch() ? 1000 : 100);
    const Exact small = large * Exact(unit.factor);
    if (!draw.support() && (large.whole() || !small.whole())) return false;
    const Exact from = to_small ? large : small;
    const Exact to = to_small ? small : large;
    const std::string question = say(decimal_text(from), " ", to_small ? unit.large : unit.small,
                                     " = ? ", to_small ? unit.small : unit.large);
    draft.ask("Change the unit: " + question, calc(from, to_small ? "*" : "/", unit.factor));
    draft.show(decimal_text, std::string(" ") + (to_small ? unit.small : unit.large));
    draft.answer(to);
    draft.step("1 ", unit.large, " is ", unit.factor, " ", unit.small, ", so ",
               to_small ? "multiply by " : "divide by ", unit.factor, ".");
    draft.step(decimal_text(from), to_small ? " × " : " ÷ ", unit.factor, " = ", decimal_text(to));
    draft.slip(converts_back, to_small ? from / Exact(unit.factor) : from * Exact(unit.factor));
    draft.slip(ten_short, to_small ? to / Exact(10) : to * Exact(10));
    draft.slip(factor_added, from + Exact(unit.factor));
    return true;
}

bool customary(Draw& draw, Draft& draft) {
    const Unit unit = draw.of<Unit>({{"ft", "in", 12},
                                     {"yd", "ft", 3},
                                     {"lb", "oz", 16},
                                     {"gal", "qt", 4},
                                     {"qt", "cups", 4},
                                     {"pt", "cups", 2},
                                     {"h", "min", 60},
                                     {"min", "s", 60},
                                     {"weeks", "days", 7}});
    const std::int64_t whole = draw.in(2, draw.by_tier<std::int64_t>(25, 15, 20));
    const std::int64_t rest = draw.support() ? 0 : draw.in(1, unit.factor - 1);
    const std::int64_t small = whole * unit.factor + rest;
    if (draw.stretch()) {
        const Exact large(small, unit.factor);
        draft.ask(say("Change the unit: ", small, " ", unit.small, " = ? ", unit.large),
                  calc(small, "/", unit.factor));
        draft.show(mixed_text, std::string(" ") + unit.large);
        draft.answer(large);
        draft.step(small, " ÷ ", unit.factor, " = ", mixed_text(large));
        draft.slip(converts_back, small * unit.factor);
        draft.slip(tens_for_units, Exact(small, 10));
        draft.slip(rest_forgotten, whole);
        return true;
    }
    const std::string given =
        say(whole, " ", unit.large, rest == 0 ? std::string() : say(" ", rest, " ", unit.small));
    draft.ask("Change the unit: " + given + " = ? " + unit.small,
              rest == 0 ? calc(whole, "*", unit.factor) : calc(whole, "*", unit.factor, "+", rest));
    draft.show(mixed_text, std::string(" ") + unit.small);
    draft.answer(Exact(small));
    draft.step(whole, " × ", unit.factor, " = ", whole * unit.factor);
    if (rest != 0) draft.step(whole * unit.factor, " + ", rest, " = ", small);
    draft.slip(tens_for_units, whole * 10 + rest);
    if (rest == 0)
        draft.slip(converts_back, Exact(whole, unit.factor));
    else
        draft.slip(rest_forgotten, whole * unit.factor);
    draft.slip(factor_added, whole + unit.factor + rest);
    return true;
}

bool line_plot(Draw& draw, Draft& draft) {
    const std::int64_t bottom = draw.by_tier<std::int64_t>(4, 8, 8);
    const int kinds = static_cast<int>(draw.by_tier(2, 3, 4));
    const std::string thing =
        draw.of<std::string>({"ribbons", "pencils", "nails", "leaves", "cords"});
    std::vector<std::int64_t> tops;
    for (std::int64_t top = 1; top < bottom; ++top)
        tops.push_back(top);
    draw.shuffle(tops);
    tops.resize(static_cast<std::size_t>(std::min<std::int64_t>(kinds, bottom - 1)));
    std::sort(tops.begin(), tops.end());
    std::string list;
    std::string list_math;
    std::string products;
    Exact total;
    Exact once;
    std::int64_t marks = 0;
    std::vector<Exact> plotted;
    std::int64_t loose_top = 0;
    std::int64_t loose_bottom = 0;
    for (const std::int64_t top : tops) {
        const std::int64_t count = draw.in(2, 6);
        const Exact value(top, bottom);
        list += (list.empty() ? "" : "; ") + say(value, " in: ", count, " marks");
        list_math += (list_math.empty() ? "" : "+") + calc(count, "*", value);
        products += (products.empty() ? "" : " + ") + say(count, " × ", value);
        total += Exact(count) * value;
        once += value;
        marks += count;
        plotted.insert(plotted.end(), std::size_t(count), value);
        loose_top += count * value.top();
        loose_bottom += count * value.bottom();
    }
    draft.ask(say("A line plot shows the lengths of ", thing, ". ", list, ". How long are all the ",
                  thing, " together?"),
              list_math);
    draft.picture(DotPlot{plotted});
    draft.show(mixed_text, " in");
    draft.answer(total);
    draft.step(products, " = ", mixed_text(total));
    draft.slip(values_once, once);
    draft.slip(marks_counted, marks);
    draft.slip(tops_and_bottoms, Exact(loose_top, loose_bottom));
    return true;
}

bool convert_by_ratio(Draw& draw, Draft& draft) {
    struct Rate {
        const char* one;
        const char* other;
        Exact factor;
    };
    // Exact by definition: inch 2.54 cm, foot 30.48 cm, yard 0.9144 m (international yard and
    // pound agreement, 1959, from memory); mile and pound rounded as they are on the card.
    const Rate rate = draw.of<Rate>({{"in", "cm", Exact(254, 100)},
                                     {"mi", "km", Exact(16, 10)},
                                     {"kg", "lb", Exact(22, 10)},
                                     {"ft", "cm", Exact(305, 10)},
                                     {"gal", "L", Exact(38, 10)},
                                     {"oz", "g", Exact(28)}});
    const Exact amount =
        draw.support() ? Exact(draw.in(2, 40)) : Exact(draw.in(3, 199), draw.stretch() ? 4 : 2);
    const bool forward = draw.support() || draw.coin();
    const Exact other = amount * rate.factor;
    if (!draw.support() && amount.whole()) return false;
    const Exact from = forward ? amount : other;
    const Exact to = forward ? other : amount;
    const std::string_view from_unit = forward ? rate.one : rate.other;
    const std::string_view to_unit = forward ? rate.other : rate.one;
    draft.ask(say("Use 1 ", rate.one, " ≈ ", decimal_text(rate.factor), " ", rate.other,
                  ". Change the unit: ", decimal_text(from), " ", from_unit, " = ? ", to_unit),
              calc(from, forward ? "*" : "/", rate.factor));
    draft.show(decimal_text, " " + std::string(to_unit));
    draft.answer(to);
    draft.step(decimal_text(from), forward ? " × " : " ÷ ", decimal_text(rate.factor), " = ",
               decimal_text(to));
    const Exact back = forward ? from / rate.factor : from * rate.factor;
    if (back.ends()) draft.slip(converts_back, back);
    draft.slip(factor_added, from + rate.factor);
    draft.slip(ten_short, forward ? to / Exact(10) : to * Exact(10));
    return true;
}

bool angle_pairs(Draw& draw, Draft& draft) {
    const bool right_angle = draw.coin();
    const Exact whole(right_angle ? 90 : 180);
    const std::string kind = right_angle ? "a right angle" : "a straight angle";
    if (draw.support()) {
        const Exact a(draw.in(11, right_angle ? 79 : 169));
        if (a == whole / Exact(2) || a == Exact(90)) return false;
        draft.ask(say("Two angles together make ", kind, ". One measures ", a,
                      "°. How large is the other?"),
                  calc(whole, "-", a));
        draft.show(mixed_text, "°");
        draft.answer(whole - a);
        draft.step(whole, " − ", a, " = ", whole - a);
        const Exact other_sum = Exact(270) - whole - a;
        draft.slip(right_for_straight, abs(other_sum));
        draft.slip(angles_equal, a);
        draft.slip(full_turn, Exact(360) - a);
        return true;
    }
    const Exact p(draw.in(1, draw.stretch() ? 6 : 3)), q(draw.in(1, 5));
    const Exact x(draw.in(8, 40));
    const Exact b(draw.in(2, 30));
    const Exact c = whole - (p + q) * x - b;
    if (p == q || abs(c) > Exact(40) || c == Exact(0) || b + c == Exact(0) ||
        (!draw.stretch() && c < Exact(0)))
        return false;
    if (q * x + c <= Exact(4) || b + c < (draw.stretch() ? Exact(-60) : Exact(1))) return false;
    draft.ask(say("Two angles together make ", kind, ". They measure (", linear_text(p, "x", b),
                  ")° and (", linear_text(q, "x", c), ")°. Find x."),
              say(linear_math(p, "x", b), "+", linear_math(q, "x", c), "=", math(whole)));
    draft.show_letter("x");
    draft.answer(x);
    draft.step("Together: ", linear_text(p + q, "x", b + c), " = ", whole);
    draft.step(linear_text(p + q, "x", 0), " = ", whole - b - c, ", so x = ", x);
    draft.slip(right_for_straight, (Exact(270) - whole - b - c) / (p + q));
    draft.slip(angles_equal, (c - b) / (p - q));
    draft.slip(constant_wrong_way, (whole + b + c) / (p + q));
    return true;
}

bool triangle_angles(Draw& draw, Draft& draft) {
    const Exact a(draw.in(20, 110)), b(draw.in(20, 100));
    const Exact c = Exact(180) - a - b;
    if (c < Exact(15) || a == b || a == Exact(90) || b == Exact(90)) return false;
    if (draw.support()) {
        draft.ask(say("Two angles of a triangle measure ", a, "° and ", b, "°. Find the third."),
                  calc("180-", a, "-", b));
        draft.show(mixed_text, "°");
        draft.answer(c);
        draft.step("180 − ", a, " − ", b, " = ", c);
        draft.slip(sum_given, a + b);
        draft.slip(full_turn, Exact(360) - a - b);
        draft.slip(one_subtracted, Exact(180) - a);
        return true;
    }
    if (!draw.stretch()) {
        draft.ask(say("Two angles of a triangle measure ", a, "° and ", b,
                      "°. One side is made longer at the third corner. How large is the outside "
                      "angle there?"),
                  calc("180-(180-", a, "-", b, ")"));
        draft.show(mixed_text, "°");
        draft.answer(a + b);
        draft.step("Inside: 180 − ", a, " − ", b, " = ", c);
        draft.step("Outside: 180 − ", c, " = ", a + b);
        draft.slip(interior, c);
        draft.slip(full_turn, Exact(360) - c);
        draft.slip(one_subtracted, Exact(180) - a);
        return true;
    }
    const Exact x(draw.in(10, 30)), p(draw.in(2, 4)), q(draw.in(1, 3));
    const Exact third = Exact(180) - (p + q) * x;
    if (third < Exact(20) || p == q) return false;
    draft.ask(say("The angles of a triangle measure ", linear_text(p, "x", 0), "°, ",
                  linear_text(q, "x", 0), "° and ", third, "°. Find x."),
              say(linear_math(p, "x", 0), "+", linear_math(q, "x", 0), "+", math(third), "=180"));
    draft.show_letter("x");
    draft.answer(x);
    draft.step(linear_text(p + q, "x", 0), " = 180 − ", third, ", so ", linear_text(p + q, "x", 0),
               " = ", Exact(180) - third);
    draft.step("x = ", Exact(180) - third, " ÷ ", p + q, " = ", x);
    draft.slip(constant_wrong_way, (Exact(180) + third) / (p + q));
    draft.slip(full_turn, (Exact(360) - third) / (p + q));
    draft.slip(one_letter_term, (Exact(180) - third) / p);
    return true;
}

}  // namespace

std::vector<Generator> measure_cards() {
    return {
        {"metric-convert",
         {"Large to small unit, at most tenths", "Either way, hundredths",
          "Small to large unit, thousandths"},
         {&converts_back, &ten_short, &factor_added},
         metric},
        {"customary-convert",
         {"Whole large units to small units", "Large and small units to small units",
          "Small units to large units with a fraction"},
         {&converts_back, &tens_for_units, &rest_forgotten, &factor_added},
         customary},
        {"line-plot",
         {"Two values in quarters", "Three values in eighths", "Four values in eighths"},
         {&values_once, &marks_counted, &tops_and_bottoms},
         line_plot},
        {"convert-by-ratio",
         {"Whole amounts, in the direction of the rate", "Halves, either way",
          "Quarters, either way"},
         {&converts_back, &factor_added, &ten_short},
         convert_by_ratio},
        {"angle-pairs",
         {"A missing angle", "Two angles with a letter, sums only",
          "Two angles with a letter, also differences"},
         {&right_for_straight, &angles_equal, &full_turn, &constant_wrong_way},
         angle_pairs},
        {"triangle-angles",
         {"The third angle", "An outside angle", "Angles with a letter"},
         {&one_letter_term, &sum_given, &full_turn, &one_subtracted, &interior,
          &constant_wrong_way},
         triangle_angles},
    };
}

}  // namespace tallyround::cards
