#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo reversed{"ratio-reversed", "Writes the two parts in the wrong order", hart,
                            from_memory};
constexpr SlipInfo part_of_all{"part-of-all", "Compares the part with the whole", hart,
                               from_memory};
constexpr SlipInfo one_side{"one-side-reduced", "Divides only one side", "", practice};
constexpr SlipInfo units_ignored{"units-ignored", "Compares the numbers without matching the units",
                                 "", practice};
constexpr SlipInfo additive{"additive-ratio", "Adds the same amount instead of multiplying", hart,
                            from_memory};
constexpr SlipInfo factor_given{"factor-given", "Gives the factor instead of the missing number",
                                "", practice};
constexpr SlipInfo own_parts_only{"own-parts-only", "Divides by the own number of parts", hart,
                                  from_memory};
constexpr SlipInfo other_share{"other-share", "Gives the share of the other person", "", practice};
constexpr SlipInfo one_part{"one-part-only", "Stops after finding one part", "", practice};
constexpr SlipInfo rate_inverted{"rate-inverted", "Divides the other way round", hart, from_memory};
constexpr SlipInfo multiplies{"multiplies-instead", "Multiplies instead of dividing",
                              "Bell, Swan and Taylor 1981, Educ. Studies in Math. 12:399",
                              from_memory};
constexpr SlipInfo subtracts{"subtracts-instead", "Subtracts instead of dividing", hart,
                             from_memory};
constexpr SlipInfo total_as_unit{"total-as-unit", "Takes the whole amount for the price of one", "",
                                 practice};
constexpr SlipInfo constant_inverted{"constant-inverted", "Divides x by y", "", practice};
constexpr SlipInfo first_value{"first-value", "Gives the first y in the table", "", practice};
constexpr SlipInfo cross_wrong{"cross-wrong", "Multiplies straight across instead of crosswise", "",
                               practice};

struct Pair {
    const char* one;
    const char* other;
};

bool write_ratio(Draw& draw, Draft& draft) {
    if (draw.stretch()) {
        const std::int64_t meters = draw.in(1, 9);
        const std::int64_t cm = draw.in(2, 95) * 5;
        const std::string_view who = draw.name();
        const Exact ratio(cm, meters * 100);
        if (cm >= meters * 100 || ratio.bottom() > 40 || ratio.top() == 1) return false;
        draft.ask(say(who, " has a rope of ", cm, " centimeters and one of ", meters,
                      meters == 1 ? " meter" : " meters",
                      ". Write the ratio of the short rope to the long rope in simplest form."),
                  calc(cm, "/", meters * 100));
        const auto text = [](const Exact& r) { return say(r.top(), " : ", r.bottom()); };
        draft.answer(text(ratio), math(ratio));
        draft.step("Same unit: ", meters, meters == 1 ? " meter is " : " meters are ", meters * 100,
                   " centimeters.");
        draft.step("Divide both by ", gcd(cm, meters * 100), ": ", text(ratio));
        const auto wrong = [&](const SlipInfo& slip, const Exact& r) {
            draft.slip(slip, text(r), math(r));
        };
        wrong(reversed, Exact(1) / ratio);
        wrong(units_ignored, Exact(cm, meters));
        wrong(part_of_all, Exact(cm, cm + meters * 100));
        return true;
    }
    const std::int64_t g = draw.in(2, draw.support() ? 6 : 12);
    const std::int64_t m = draw.in(2, 9);
    const std::int64_t n = draw.in(2, 9);
    if (gcd(m, n) != 1) return false;
    const Pair things = draw.of<Pair>({{"red tiles", "blue tiles"},
                                       {"pencils", "pens"},
                                       {"maples", "oaks"},
                                       {"bicycles", "cars"},
                                       {"novels", "atlases"}});
    draft.ask(say("There are ", g * m, " ", things.one, " and ", g * n, " ", things.other,
                  ". Write the ratio of ", things.one, " to ", things.other, " in simplest form."),
              calc(g * m, "/", g * n));
    const auto text = [](std::int64_t a, std::int64_t b) { return say(a, " : ", b); };
    draft.answer(text(m, n), math(Exact(m, n)));
    draft.step("Greatest common factor of ", g * m, " and ", g * n, ": ", g);
    draft.step(g * m, " ÷ ", g, " = ", m, " and ", g * n, " ÷ ", g, " = ", n);
    draft.slip(reversed, text(n, m), math(Exact(n, m)));
    draft.slip(part_of_all, text(m, m + n), math(Exact(m, m + n)));
    draft.slip(one_side, text(m, g * n), math(Exact(m, g * n)));
    return true;
}

bool equal_ratio(Draw& draw, Draft& draft) {
    const std::int64_t a = draw.in(2, draw.by_tier<std::int64_t>(6, 9, 12));
    const std::int64_t b = draw.in(2, draw.by_tier<std::int64_t>(9, 12, 20));
    const Exact factor =
        draw.stretch() ? Exact(draw.in(3, 9), 2) : Exact(draw.in(2, draw.support() ? 6 : 12));
    const Exact c = Exact(a) * factor;
    const Exact right = Exact(b) * factor;
    if (a == b || !c.whole() || !right.whole() || (draw.stretch() && factor.whole())) return false;
    draft.ask(say("Find the missing number: ", a, " : ", b, " = ", c, " : ?"),
              calc(c, "*", b, "/", a));
    draft.answer(right);
    draft.step("From ", a, " to ", c, ": ", c, " ÷ ", a, " = ", mixed_text(factor));
    draft.step(b, " × ", mixed_text(factor), " = ", right);
    draft.slip(additive, Exact(b) + c - Exact(a));
    draft.slip(factor_given, factor);
    draft.slip(reversed, c * Exact(a) / Exact(b));
    return true;
}

bool share_ratio(Draw& draw, Draft& draft) {
    const std::int64_t m = draw.in(1, draw.by_tier<std::int64_t>(4, 7, 9));
    const std::int64_t n = draw.in(2, draw.by_tier<std::int64_t>(5, 9, 12));
    const std::int64_t part = draw.in(3, draw.by_tier<std::int64_t>(10, 20, 35));
    const std::int64_t total = (m + n) * part;
    if (m == n || gcd(m, n) != 1 || total % n != 0) return false;
    const std::string_view who = draw.name();
    const std::string_view other = draw.name();
    const char* things = draw.of({"stickers", "beads", "cards", "marbles", "stamps"});
    draft.ask(say(who, " and ", other, " share ", total, " ", things, " in the ratio ", m, " : ", n,
                  ". How many ", things, " does ", other, " get?"),
              calc(total, "/(", m, "+", n, ")*", n));
    draft.answer(Exact(n * part));
    draft.step("Parts: ", m, " + ", n, " = ", m + n);
    draft.step("One part: ", total, " ÷ ", m + n, " = ", part);
    draft.step(n, " × ", part, " = ", n * part);
    draft.slip(own_parts_only, Exact(total, n));
    draft.slip(other_share, m * part);
    if (m > 1) draft.slip(one_part, part);
    return true;
}

struct Rate {
    const char* before;  // "Rosa types"
    const char* amount;  // " words in "
    const char* time;    // " minutes. How many words is that per minute?"
    const char* unit;
};

bool unit_rate(Draw& draw, Draft& draft) {
    const Rate rate = draw.of<Rate>(
        {{" types ", " words in ", " minutes. How many words is that per minute?", ""},
         {" cycles ", " kilometers in ", " hours. How many kilometers is that per hour?", " km/h"},
         {" pumps ", " liters in ", " minutes. How many liters is that per minute?", " L/min"},
         {" plants ", " bulbs in ", " rows of equal length. How many bulbs is that per row?", ""}});
    const bool decimals = rate.unit[0] != '\0' && !draw.support();
    const Exact each = decimals
                           ? Exact(draw.in(draw.stretch() ? 101 : 11, draw.stretch() ? 899 : 189),
                                   draw.stretch() ? 20 : 10)
                           : Exact(draw.in(4, draw.by_tier<std::int64_t>(15, 40, 85)));
    const std::int64_t time = draw.in(3, draw.by_tier<std::int64_t>(9, 12, 25));
    const Exact amount = each * Exact(time);
    if ((decimals && each.whole()) || amount < Exact(time)) return false;
    if (!decimals && !amount.whole()) return false;
    draft.ask(say(draw.name(), rate.before, decimal_text(amount), rate.amount, time, rate.time),
              calc(amount, "/", time));
    draft.show(decimal_text, rate.unit);
    draft.answer(each);
    draft.step(decimal_text(amount), " ÷ ", time, " = ", decimal_text(each));
    const Exact inverse = Exact(time) / amount;
    if (inverse.ends()) draft.slip(rate_inverted, inverse);
    draft.slip(multiplies, amount * Exact(time));
    draft.slip(subtracts, abs(amount - Exact(time)));
    return true;
}

bool rate_problem(Draw& draw, Draft& draft) {
    const Exact each(draw.in(draw.support() ? 4 : 5, draw.support() ? 16 : 90),
                     draw.by_tier(2, 4, 20));
    const std::int64_t had = draw.in(2, draw.support() ? 6 : 9);
    const std::int64_t wanted = draw.in(had + 1, had + draw.by_tier<std::int64_t>(6, 12, 20));
    const Exact price = each * Exact(had);
    const Exact right = each * Exact(wanted);
    if (each < Exact(1, 2) || !(each * Exact(20)).whole() || wanted % had == 0) return false;
    if (draw.support() && !price.whole()) return false;
    const char* things =
        draw.of({"notebooks", "markers", "tickets", "batteries", "meters of ribbon"});
    draft.ask(say(had, " ", things, " cost ", money_text(price), ". At the same rate, what do ",
                  wanted, " ", things, " cost?"),
              calc(price, "/", had, "*", wanted));
    draft.show(money_text);
    draft.answer(right);
    draft.step("One costs ", money_text(price), " ÷ ", had, " = ", money_text(each));
    draft.step(wanted, " × ", money_text(each), " = ", money_text(right));
    draft.slip(additive, price + Exact(wanted - had));
    draft.slip(total_as_unit, price * Exact(wanted));
    draft.slip(one_part, each);
    return true;
}

bool rate_of_fractions(Draw& draw, Draft& draft) {
    const auto proper = [&](std::int64_t high) {
        const std::int64_t bottom = draw.in(2, high);
        return Exact(draw.in(1, bottom - 1), bottom);
    };
    const Exact time = proper(draw.by_tier<std::int64_t>(4, 6, 8));
    const Exact whole(draw.stretch() ? draw.in(1, 4) : 0);
    const Exact amount = whole + proper(draw.by_tier<std::int64_t>(6, 10, 8));
    const Exact rate = amount / time;
    if (amount == time || rate.bottom() > draw.by_tier(6, 12, 24) ||
        (draw.support() && time.top() != 1))
        return false;
    struct Deed {
        std::string_view verb;
        std::string_view one;
        std::string_view many;
    };
    const Deed deed = draw.of<Deed>(
        {{"cycles", "mile", "miles"}, {"fills", "tank", "tanks"}, {"paints", "wall", "walls"}});
    const std::string done = amount < Exact(1) ? say(amount, " of a ", deed.one)
                                               : say(mixed_text(amount), " ", deed.many);
    draft.ask(say(draw.name(), " ", deed.verb, " ", done, " in ", time, " hour. How many ",
                  deed.many, " per hour is that?"),
              calc(amount, "/", time));
    draft.answer(rate);
    draft.step(amount, " ÷ ", time, " = ", amount, " × ", Exact(1) / time, " = ", mixed_text(rate));
    draft.slip(multiplies, amount * time);
    draft.slip(rate_inverted, time / amount);
    draft.slip(subtracts, abs(amount - time));
    return true;
}

bool solve_proportion(Draw& draw, Draft& draft) {
    const std::int64_t a = draw.in(2, draw.by_tier<std::int64_t>(6, 9, 15));
    const std::int64_t b = draw.in(2, draw.by_tier<std::int64_t>(9, 12, 20));
    const std::int64_t c = draw.in(3, draw.by_tier<std::int64_t>(30, 40, 60));
    const Exact x = Exact(a) * Exact(c) / Exact(b);
    if (a == b || b == c || a == c || gcd(a, b) != 1) return false;
    if (draw.support()   ? c % b != 0
        : draw.stretch() ? x.bottom() < 3
                         : !x.whole() && x.bottom() != 2)
        return false;
    if (!draw.support() && c % b == 0) return false;
    const bool below = draw.coin();
    if (below)
        draft.ask(say("Solve: ", b, "/", a, " = ", c, "/x"), calc(b, "/", a, "=", c, "/x"));
    else
        draft.ask(say("Solve: x/", c, " = ", a, "/", b), calc("x/", c, "=", a, "/", b));
    draft.show_letter("x");
    draft.answer(x);
    draft.step("Cross products: ", b, "x = ", a, " × ", c, " = ", a * c);
    draft.step("x = ", a * c, " ÷ ", b, " = ", mixed_text(x));
    draft.slip(additive, Exact(a + c - b));
    draft.slip(cross_wrong, Exact(b) * Exact(c) / Exact(a));
    draft.slip(not_divided, Exact(a * c));
    return true;
}

bool constant_of_table(Draw& draw, Draft& draft) {
    const Exact k = draw.support()
                        ? Exact(draw.in(2, 12))
                        : Exact{draw.in(3, draw.stretch() ? 39 : 25),
                                draw.stretch() ? draw.of<std::int64_t>({3, 4, 5, 8}) : 2};
    if (!draw.support() && k.whole()) return false;
    const std::int64_t first = draw.in(2, 5) * k.bottom();
    const std::int64_t gap = draw.in(1, 3) * k.bottom();
    std::string rows;
    for (int i = 0; i < 3; ++i) {
        const Exact x(first + i * gap);
        rows += (rows.empty() ? "" : "; ") + say("x = ", x, ", y = ", x * k);
    }
    const Exact y = Exact(first) * k;
    draft.ask("y is proportional to x: " + rows + ". Find k in y = kx.", calc(y, "/", first));
    draft.show(mixed_text, "", "k = ");
    draft.answer(k);
    draft.step("k = y ÷ x = ", y, " ÷ ", first, " = ", mixed_text(k));
    draft.slip(constant_inverted, Exact(1) / k);
    draft.slip(subtracts, abs(y - Exact(first)));
    draft.slip(first_value, y);
    return true;
}

}  // namespace

std::vector<Generator> ratio_cards() {
    return {
        {"ratio-write",
         {"Common factor up to 6", "Common factor up to 12", "Two lengths in different units"},
         {&reversed, &part_of_all, &one_side, &units_ignored},
         write_ratio},
        {"ratio-equivalent",
         {"Whole factor up to 6", "Whole factor up to 12", "The factor is a number and a half"},
         {&additive, &factor_given, &reversed},
         equal_ratio},
        {"ratio-share",
         {"Up to 9 parts", "Up to 16 parts", "Up to 21 parts, larger amounts"},
         {&own_parts_only, &other_share, &one_part},
         share_ratio},
        {"unit-rate",
         {"Whole rates", "Rates with tenths where they make sense",
          "Rates with hundredths where they make sense"},
         {&rate_inverted, &multiplies, &subtracts},
         unit_rate},
        {"rate-problem",
         {"Whole or half dollars", "Prices in quarters of a dollar",
          "Prices in steps of five cents"},
         {&additive, &total_as_unit, &one_part},
         rate_problem},
        {"rate-of-fractions",
         {"Time is a unit fraction", "Denominators up to 10", "A mixed number over a fraction"},
         {&multiplies, &rate_inverted, &subtracts},
         rate_of_fractions},
        {"proportion-solve",
         {"A whole factor between the ratios", "No whole factor, whole or half answers",
          "No whole factor, other fractions as answers"},
         {&not_divided, &additive, &cross_wrong},
         solve_proportion},
        {"proportion-constant",
         {"Whole constant", "Constant in halves",
          "Constant in thirds, quarters, fifths or eighths"},
         {&constant_inverted, &subtracts, &first_value},
         constant_of_table},
    };
}

}  // namespace tallyround::cards
