#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view tirosh = "Tirosh 2000, J. Research in Math. Education 31:5";

constexpr SlipInfo inverted{"share-inverted",
                            "Divides the number of shares by the amount: the fraction upside down",
                            hart, from_memory};
constexpr SlipInfo subtracts{"subtracts", "Subtracts the two numbers instead of dividing", "",
                             practice};
constexpr SlipInfo one_part{"stops-at-one-part", "Finds one part and forgets to take the others",
                            "", practice};
constexpr SlipInfo swaps_parts{
    "top-bottom-swapped", "Divides by the top and multiplies by the bottom", hart, from_memory};
constexpr SlipInfo top_only{"multiplies-top-only", "Multiplies by the top and forgets to divide",
                            "", practice};
constexpr SlipInfo cross_multiplies{
    "cross-multiplies", "Multiplies crosswise, as for comparing or dividing", ashlock, from_memory};
constexpr SlipInfo keeps_common{"keeps-common-denominator",
                                "Finds a common denominator, multiplies tops, keeps the bottom",
                                ashlock, from_memory};
constexpr SlipInfo adds_instead{"adds-instead", "Adds the fractions instead of multiplying", "",
                                practice};
constexpr SlipInfo parts_apart{"parts-apart",
                               "Works on the wholes and on the fraction parts separately", ashlock,
                               from_memory};
constexpr SlipInfo one_fraction_dropped{
    "fraction-part-dropped", "Leaves out the fraction part of the second number", "", practice};
constexpr SlipInfo product_smaller{"divide-makes-smaller",
                                   "Takes a share, because dividing should make smaller",
                                   "Fischbein et al. 1985, JRME 16:3", from_memory};
constexpr SlipInfo other_way{"divides-other-way", "Divides the second number by the first", tirosh,
                             from_memory};
constexpr SlipInfo fraction_over_product{
    "turns-product-over", "Turns both numbers over before multiplying", tirosh, from_memory};
constexpr SlipInfo invert_first{"invert-first", "Turns the first fraction over, not the second",
                                ashlock, from_memory};
constexpr SlipInfo no_invert{"no-invert", "Multiplies without turning the second fraction over",
                             tirosh, from_memory};
constexpr SlipInfo invert_both{"invert-both", "Turns both fractions over", tirosh, from_memory};

Exact proper(Draw& draw, std::int64_t low, std::int64_t high) {
    while (true) {
        const std::int64_t bottom = draw.in(low, high);
        const std::int64_t top = draw.in(1, bottom - 1);
        if (gcd(top, bottom) == 1) return {top, bottom};
    }
}

std::string raw(std::int64_t top, std::int64_t bottom) {
    return say(top, "/", bottom);
}

bool equal_shares(Draw& draw, Draft& draft) {
    const std::int64_t shares = draw.in(3, draw.by_tier<std::int64_t>(9, 12, 24));
    const std::int64_t amount =
        draw.support() ? draw.in(1, shares - 1)
                       : draw.in(shares + 1, shares * draw.by_tier<std::int64_t>(3, 5, 9));
    if (amount % shares == 0 || amount < 2) return false;
    const Exact each(amount, shares);
    const std::string_view who = draw.name();
    std::string story;
    std::string unit;
    switch (draw.in(0, 3)) {
        case 0:
            unit = " L";
            story = say(who, " pours ", amount, " liters of water equally into ", shares,
                        " jugs. How much water is in each jug?");
            break;
        case 1:
            unit = " m";
            story = say(who, " cuts ", amount, " meters of wire into ", shares,
                        " equal pieces. How long is each piece?");
            break;
        case 2:
            unit = " kg";
            story = say(who, " divides ", amount, " kilograms of clay equally among ", shares,
                        " students. How much clay does each student get?");
            break;
        default:
            unit = " km";
            story = say("A road of ", amount, " kilometers is repaired in ", shares,
                        " equal stretches. How long is each stretch?");
    }
    draft.ask(story, raw(amount, shares));
    draft.show(mixed_text, unit);
    draft.answer(each);
    draft.step(amount, " ÷ ", shares, " = ", raw(amount, shares));
    if (mixed_text(each) != raw(amount, shares))
        draft.step(raw(amount, shares), " = ", mixed_text(each));
    draft.slip(inverted, Exact(shares, amount));
    draft.slip(subtracts, abs(Exact(amount - shares)));
    if (amount > shares) {
        const Exact tail(amount % shares, amount % shares >= 10 ? 100 : 10);
        draft.slip_as(rest_as_decimal, decimal_text(Exact(amount / shares) + tail),
                      Exact(amount / shares) + tail);
    }
    return true;
}

bool fraction_of_number(Draw& draw, Draft& draft) {
    const Exact f = proper(draw, 3, draw.by_tier<std::int64_t>(6, 10, 12));
    if (f.top() == 1) return false;
    const std::int64_t n = draw.stretch()
                               ? draw.in(5, 60)
                               : f.bottom() * draw.in(2, draw.by_tier<std::int64_t>(6, 12, 12));
    if (draw.stretch() && n % f.bottom() == 0) return false;
    const Exact result = f * Exact(n);
    draft.ask(say("Find ", f, " of ", n, "."), calc(f, "*", n));
    draft.answer(result);
    draft.step("One part: ", n, " ÷ ", f.bottom(), " = ", mixed_text(Exact(n, f.bottom())));
    draft.step(f.top(), " parts: ", f.top(), " × ", mixed_text(Exact(n, f.bottom())), " = ",
               mixed_text(result));
    draft.slip(one_part, Exact(n, f.bottom()));
    draft.slip(swaps_parts, Exact(n * f.bottom(), f.top()));
    draft.slip(top_only, Exact(n * f.top()));
    return true;
}

bool multiply_fractions(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(6, 10, 15);
    const Exact f = proper(draw, 2, high);
    const Exact g = proper(draw, 2, high);
    const std::int64_t top = f.top() * g.top();
    const std::int64_t bottom = f.bottom() * g.bottom();
    const bool cancels = gcd(top, bottom) > 1;
    if (cancels == draw.support() || f == g) return false;
    if (draw.stretch() && (gcd(f.top(), g.bottom()) == 1 || gcd(g.top(), f.bottom()) == 1))
        return false;
    draft.ask(say("Multiply: ", f, " × ", g), calc(f, "*", g));
    draft.answer(f * g);
    draft.step(f, " × ", g, " = ", raw(top, bottom));
    if (cancels) draft.step(raw(top, bottom), " = ", f * g);
    const std::int64_t common = lcm(f.bottom(), g.bottom());
    draft.slip(cross_multiplies, Exact(f.top() * g.bottom(), f.bottom() * g.top()));
    const std::int64_t scaled = f.top() * (common / f.bottom()) * g.top() * (common / g.bottom());
    draft.slip_as(keeps_common, raw(scaled, common), Exact(scaled, common));
    draft.slip(adds_instead, f + g);
    return true;
}

/// Whole and fraction part as one number, whole between 1 and `high`.
Exact mixed(Draw& draw, std::int64_t high, std::int64_t bottoms) {
    const Exact whole(draw.in(1, high));
    return whole + proper(draw, 2, bottoms);
}

bool multiply_mixed(Draw& draw, Draft& draft) {
    const Exact a = draw.support() ? Exact(draw.in(2, 9)) : mixed(draw, 5, draw.stretch() ? 8 : 5);
    const Exact b = mixed(draw, draw.by_tier<std::int64_t>(5, 4, 6), draw.stretch() ? 8 : 5);
    const Exact result = a * b;
    if (result.bottom() > 40 || a == b) return false;
    const Exact whole_a(floor_of(a));
    const Exact whole_b(floor_of(b));
    draft.ask(say("Multiply: ", mixed_text(a), " × ", mixed_text(b)), calc(a, "*", b));
    draft.answer(result);
    draft.step(mixed_text(b), " = ", b,
               a.whole() ? std::string() : say(" and ", mixed_text(a), " = ", a));
    draft.step(a, " × ", b, " = ", raw(a.top() * b.top(), a.bottom() * b.bottom()), " = ",
               mixed_text(result));
    if (a.whole())
        draft.slip(parts_apart, whole_a * whole_b + (b - whole_b));
    else
        draft.slip(parts_apart, whole_a * whole_b + (a - whole_a) * (b - whole_b));
    draft.slip(one_fraction_dropped, a * whole_b);
    draft.slip(adds_instead, a + b);
    return true;
}

bool divide_unit_fraction(Draw& draw, Draft& draft) {
    const std::int64_t b = draw.in(2, draw.by_tier<std::int64_t>(6, 10, 16));
    const std::int64_t n = draw.in(2, draw.by_tier<std::int64_t>(9, 15, 25));
    const bool whole_first = draw.support() || (draw.stretch() ? false : draw.coin());
    if (b == n) return false;
    const Exact unit(1, b);
    if (draw.stretch() && draw.coin()) {
        draft.ask(say("A strip of land of ", unit, " square mile is split into ", n,
                      " equal plots. How many square miles is each plot?"),
                  calc(unit, "/", n));
    } else if (whole_first) {
        draft.ask(say("Divide: ", n, " ÷ ", unit), calc(n, "/", unit));
    } else {
        draft.ask(say("Divide: ", unit, " ÷ ", n), calc(unit, "/", n));
    }
    draft.show(fraction_text);
    const Exact result = whole_first ? Exact(n * b) : Exact(1, n * b);
    draft.answer(result);
    if (whole_first) {
        draft.step("Each whole holds ", b, " pieces of ", unit, ".");
        draft.step(n, " × ", b, " = ", n * b);
        draft.slip(product_smaller, Exact(n, b));
        draft.slip(other_way, Exact(1, n * b));
        draft.slip(fraction_over_product, Exact(b, n));
    } else {
        draft.step("Splitting ", unit, " into ", n, " makes each piece ", unit, " × 1/", n, ".");
        draft.step(unit, " × ", Exact(1, n), " = ", result);
        draft.slip(no_invert, Exact(n, b));
        draft.slip(other_way, Exact(n * b));
        draft.slip(invert_first, Exact(b, n));
    }
    return true;
}

/// Key of a division of two fractions given as they will be multiplied.
void division_key(Draft& draft, const Exact& f, const Exact& g) {
    const Exact turned = Exact(1) / g;
    draft.answer(f / g);
    draft.step(f, " ÷ ", g, " = ", f, " × ", raw(g.bottom(), g.top()));
    draft.step(f, " × ", raw(g.bottom(), g.top()), " = ",
               raw(f.top() * turned.top(), f.bottom() * turned.bottom()), " = ", mixed_text(f / g));
    draft.slip(invert_first, g / f);
    draft.slip(no_invert, f * g);
    draft.slip(invert_both, Exact(1) / (f * g));
}

bool divide_fractions(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(6, 9, 14);
    const Exact f = proper(draw, 2, high);
    const Exact g = proper(draw, 2, high);
    if (f == g || f.bottom() == g.bottom()) return false;
    if (draw.support() ? f < g : draw.stretch() && (f / g).bottom() < 6) return false;
    if (draw.stretch() && f.top() * g.bottom() == (f / g).top()) return false;
    draft.ask(say("Divide: ", f, " ÷ ", g), calc(f, "/", g));
    division_key(draft, f, g);
    return true;
}

bool divide_mixed(Draw& draw, Draft& draft) {
    const Exact f = mixed(draw, draw.by_tier<std::int64_t>(4, 6, 9), draw.stretch() ? 8 : 5);
    const Exact g = draw.support() ? proper(draw, 2, 5) : mixed(draw, 4, draw.stretch() ? 8 : 5);
    if (f == g || (f / g).bottom() > draw.by_tier(12, 20, 40) || (f / g).whole()) return false;
    draft.ask(say("Divide: ", mixed_text(f), " ÷ ", mixed_text(g)), calc(f, "/", g));
    draft.step(mixed_text(f), " = ", f,
               g < Exact(1) ? std::string() : say(" and ", mixed_text(g), " = ", g));
    division_key(draft, f, g);
    const Exact wf(floor_of(f));
    const Exact wg(floor_of(g));
    if (!draw.support()) draft.slip(parts_apart, wf / wg + (f - wf) / (g - wg));
    return true;
}

}  // namespace

std::vector<Generator> fraction_product_cards() {
    return {
        {"fraction-as-division",
         {"Fewer units than shares, up to 9 shares", "More units than shares, up to 12 shares",
          "More units than shares, up to 24 shares"},
         {&inverted, &subtracts, &rest_as_decimal},
         equal_shares},
        {"frac-of-number",
         {"Denominator up to 6 divides the number; whole answers",
          "Denominator up to 10 divides the number; whole answers",
          "Denominator up to 12 does not divide the number"},
         {&one_part, &swaps_parts, &top_only},
         fraction_of_number},
        {"frac-multiply",
         {"Denominators up to 6, nothing cancels", "Denominators up to 10, the product reduces",
          "Denominators up to 15, both diagonals cancel"},
         {&cross_multiplies, &keeps_common, &adds_instead},
         multiply_fractions},
        {"mixed-multiply",
         {"A whole number times a mixed number", "Two mixed numbers, denominators up to 5",
          "Two mixed numbers, denominators up to 8"},
         {&parts_apart, &one_fraction_dropped, &adds_instead},
         multiply_mixed},
        {"unit-frac-divide",
         {"A whole number divided by a unit fraction, small numbers",
          "Either one divided by the other", "A unit fraction divided by a number up to 25"},
         {&product_smaller, &other_way, &fraction_over_product, &no_invert, &invert_first},
         divide_unit_fraction},
        {"frac-divide",
         {"Denominators up to 6, quotient above 1", "Denominators up to 9",
          "Denominators up to 14, the product reduces"},
         {&invert_first, &no_invert, &invert_both},
         divide_fractions},
        {"mixed-divide",
         {"A mixed number divided by a proper fraction", "Two mixed numbers, denominators up to 5",
          "Two mixed numbers, denominators up to 8"},
         {&invert_first, &no_invert, &invert_both, &parts_apart},
         divide_mixed},
    };
}

}  // namespace tallyround::cards
