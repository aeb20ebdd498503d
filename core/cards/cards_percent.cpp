#include "cards/families.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view parker = "Parker and Leinhardt 1995, Rev. of Educ. Research 65:421";

constexpr SlipInfo ten_not_hundred{"percent-by-ten", "Divides or multiplies by 10 instead of 100",
                                   parker, from_memory};
constexpr SlipInfo sign_dropped{
    "percent-sign-ignored", "Drops or adds the percent sign, nothing else", parker, from_memory};
constexpr SlipInfo thousand{"percent-by-thousand", "Divides or multiplies by 1,000", "", practice};
constexpr SlipInfo subtracts_percent{"percent-as-amount",
                                     "Adds or subtracts the percent as if it were the amount",
                                     parker, from_memory};
constexpr SlipInfo divides_by_percent{"divides-by-percent", "Divides by the number of percent",
                                      ashlock, from_memory};
constexpr SlipInfo part_is_percent{"part-as-percent", "Gives the part itself as the percent",
                                   parker, from_memory};
constexpr SlipInfo rest_percent{"rest-percent", "Gives the percent of the rest", "", practice};
constexpr SlipInfo difference_percent{"difference-as-percent",
                                      "Gives the difference as the percent", parker, from_memory};
constexpr SlipInfo percent_of_part{
    "percent-of-part", "Takes the percent of the part instead of the whole", parker, from_memory};
constexpr SlipInfo adds_rest{
    "adds-rest-of-part", "Adds the missing percent of the part to the part", parker, from_memory};
constexpr SlipInfo over_new{"change-over-new", "Compares the change with the new amount", parker,
                            from_memory};
constexpr SlipInfo new_over_old{"new-over-old", "Gives the new amount as a percent of the old", "",
                                practice};
constexpr SlipInfo change_only{"change-only", "Gives the discount or tax, not the price", "",
                               practice};
constexpr SlipInfo opposite{"opposite-change", "Adds what should come off, or the other way round",
                            "", practice};
constexpr SlipInfo percents_joined{"percents-joined", "Adds the two percents into one change",
                                   parker, from_memory};
constexpr SlipInfo one_year{"one-year-only", "Works out one year only", "", practice};
constexpr SlipInfo with_principal{"adds-the-deposit", "Adds the amount saved to the interest", "",
                                  practice};

Exact hundredth(const Exact& p) {
    return p / Exact(100);
}

std::string percent_text(const Exact& p) {
    return decimal_text(p) + "%";
}

bool convert(Draw& draw, Draft& draft) {
    const Exact p = draw.support()   ? Exact(draw.in(11, 99))
                    : draw.stretch() ? Exact{draw.in(1, 199), draw.of<std::int64_t>({2, 4, 5, 10})}
                                     : Exact(draw.coin() ? draw.in(1, 9) : draw.in(101, 299));
    if (draw.stretch() && p.whole()) return false;
    const Exact x = hundredth(p);
    if (draw.coin()) {
        draft.ask("Write as a decimal: " + percent_text(p), calc(p, "/100"));
        draft.show(decimal_text);
        draft.answer(x);
        draft.step("Percent means out of 100: ", decimal_text(p), " ÷ 100 = ", decimal_text(x));
        draft.slip(ten_not_hundred, p / Exact(10));
        draft.slip(sign_dropped, p);
        draft.slip(thousand, p / Exact(1000));
        return true;
    }
    draft.ask("Write as a percent: " + decimal_text(x), math(x));
    draft.answer(percent_text(p), math(x));
    draft.step("Percent means out of 100: ", decimal_text(x), " × 100 = ", decimal_text(p));
    const auto wrong = [&](const SlipInfo& slip, const Exact& percent) {
        draft.slip(slip, percent_text(percent), math(hundredth(percent)));
    };
    wrong(ten_not_hundred, p / Exact(10));
    wrong(sign_dropped, x);
    wrong(thousand, p * Exact(10));
    return true;
}

bool percent_of(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.support()   ? draw.of<std::int64_t>({10, 20, 25, 50, 75, 30, 40})
                           : draw.stretch() ? draw.in(11, 180)
                                            : draw.in(1, 19) * 5;
    const std::int64_t whole =
        draw.support() ? draw.in(2, 40) * 4 : draw.in(4, 90) * (draw.stretch() ? 5 : 4);
    const Exact right = hundredth(Exact(p)) * Exact(whole);
    if (p == 100 || (draw.support() && !right.whole()) || (draw.stretch() && p % 5 == 0))
        return false;
    const bool story = !draw.support() && draw.coin();
    if (story)
        draft.ask(say(draw.name(), " wants to save $", whole, " and has saved ", p,
                      "% of it so far. How many dollars is that?"),
                  calc(p, "/100*", whole));
    else
        draft.ask(say("Find ", p, "% of ", whole, "."), calc(p, "/100*", whole));
    draft.show(story ? money_text : decimal_text);
    draft.answer(right);
    draft.step(p, "% = ", decimal_text(hundredth(Exact(p))));
    draft.step(decimal_text(hundredth(Exact(p))), " × ", whole, " = ", decimal_text(right));
    draft.slip(ten_not_hundred, right * Exact(10));
    draft.slip(subtracts_percent, abs(Exact(whole - p)));
    const Exact divided(whole, p);
    if (divided.ends() && p != 10) draft.slip(divides_by_percent, divided);
    return true;
}

bool what_percent(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.support()   ? draw.in(1, 9) * 10
                           : draw.stretch() ? draw.in(1, 399)
                                            : draw.in(1, 19) * 5;
    const Exact percent = draw.stretch() ? Exact(p, 2) : Exact(p);
    const std::int64_t whole =
        draw.in(2, draw.by_tier<std::int64_t>(12, 20, 40)) * (draw.stretch()   ? 8
                                                              : draw.support() ? 10
                                                                               : 4);
    const Exact part = hundredth(percent) * Exact(whole);
    if (!part.whole() || part == Exact(whole) || whole == 100) return false;
    if (draw.stretch() && p % 10 == 0) return false;
    draft.ask(say(part, " is what percent of ", whole, "?"), calc(part, "/", whole, "*100"));
    draft.show(decimal_text, "%");
    draft.answer(percent);
    draft.step(part, " ÷ ", whole, " = ", decimal_text(hundredth(percent)));
    draft.step(decimal_text(hundredth(percent)), " = ", percent_text(percent));
    draft.slip(part_is_percent, part);
    draft.slip(rest_percent, abs(Exact(100) - percent));
    draft.slip(difference_percent, abs(Exact(whole) - part));
    return true;
}

bool find_whole(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.support()
                               ? draw.of<std::int64_t>({10, 20, 25, 50, 40})
                               : draw.in(draw.stretch() ? 21 : 1, draw.stretch() ? 29 : 19) * 5;
    const std::int64_t whole =
        draw.in(3, draw.by_tier<std::int64_t>(20, 30, 60)) * draw.of<std::int64_t>({4, 10, 20});
    const Exact part = hundredth(Exact(p)) * Exact(whole);
    if (!part.whole() || whole == 100) return false;
    draft.ask(say(part, " is ", p, "% of what number?"), calc(part, "/(", p, "/100)"));
    draft.show(decimal_text);
    draft.answer(Exact(whole));
    draft.step("1% is ", part, " ÷ ", p, " = ", decimal_text(part / Exact(p)));
    draft.step("100% is 100 × ", decimal_text(part / Exact(p)), " = ", whole);
    draft.slip(percent_of_part, hundredth(Exact(p)) * part);
    draft.slip(adds_rest, part + part * hundredth(Exact(100 - p)));
    draft.slip(ten_not_hundred, Exact(whole, 10));
    return true;
}

bool percent_change(Draw& draw, Draft& draft) {
    const std::int64_t p = draw.in(1, draw.support() ? 9 : 17) * (draw.support() ? 10 : 5);
    const Exact percent = draw.stretch() ? Exact(p, 2) : Exact(p);
    const bool up = draw.coin();
    const std::int64_t old = draw.in(3, 40) * (draw.support() ? 10 : 8);
    const Exact change = hundredth(percent) * Exact(old);
    const Exact now = up ? Exact(old) + change : Exact(old) - change;
    if (!change.whole() || percent >= Exact(100) || old == 100 || percent.whole() == draw.stretch())
        return false;
    const std::string_view who = draw.name();
    const int story = static_cast<int>(draw.in(0, 2));
    const std::string opening =
        story == 0   ? say("A club had ", old, " members last year and has ", now, " now.")
        : story == 1 ? say(who, " read ", old, " pages in May and ", now, " pages in June.")
                     : say("A pond held ", old, " fish in spring and ", now, " in fall.");
    draft.ask(opening + " Find the percent " + (up ? "increase." : "decrease."),
              calc("(", up ? now : Exact(old), "-", up ? Exact(old) : now, ")/", old, "*100"));
    draft.show(decimal_text, "%");
    draft.answer(percent);
    draft.step("Change: ", up ? now : Exact(old), " − ", up ? Exact(old) : now, " = ", change);
    draft.step(change, " ÷ ", old, " = ", decimal_text(hundredth(percent)), " = ",
               percent_text(percent));
    const Exact backward = change / now * Exact(100);
    if (backward.ends()) draft.slip(over_new, backward);
    draft.slip(difference_percent, change);
    draft.slip(new_over_old, now / Exact(old) * Exact(100));
    return true;
}

bool discount_tax(Draw& draw, Draft& draft) {
    const Exact price(draw.in(3, draw.by_tier<std::int64_t>(20, 40, 60)) *
                      (draw.support() ? 10 : 4));
    const std::int64_t p = draw.in(1, draw.support() ? 5 : 12) * (draw.support() ? 10 : 5);
    const Exact change = hundredth(Exact(p)) * price;
    const std::string_view thing =
        draw.of<std::string_view>({"jacket", "lamp", "bicycle helmet", "desk", "pair of skates"});
    draft.show(money_text);
    if (!draw.stretch()) {
        const bool off = draw.support() || draw.coin();
        if (!off && p > 20) return false;
        const Exact right = off ? price - change : price + change;
        draft.ask(off ? say("A ", thing, " costs ", money_text(price), ". It is sold at ", p,
                            "% off. What is the sale price?")
                      : say("A ", thing, " costs ", money_text(price), " before a sales tax of ", p,
                            "%. What is the price with tax?"),
                  calc(price, off ? "-" : "+", p, "/100*", price));
        draft.answer(right);
        draft.step(off ? "Discount: " : "Tax: ", decimal_text(hundredth(Exact(p))), " × ", price,
                   " = ", money_text(change));
        draft.step(money_text(price), off ? " − " : " + ", money_text(change), " = ",
                   money_text(right));
        draft.slip(change_only, change);
        draft.slip(opposite, off ? price + change : price - change);
        const Exact plain = off ? price - Exact(p) : price + Exact(p);
        if (plain > Exact(0)) draft.slip(subtracts_percent, plain);
        return true;
    }
    const std::int64_t tax = draw.in(4, 10);
    const Exact sale = price - change;
    const Exact right = sale + hundredth(Exact(tax)) * sale;
    draft.ask(say("A ", thing, " costs ", money_text(price), ". It is sold at ", p,
                  "% off, and a sales tax of ", tax,
                  "% is added to the sale price. What is the final price?"),
              calc("(", price, "-", p, "/100*", price, ")*(1+", tax, "/100)"));
    draft.answer(right);
    draft.step("Sale price: ", money_text(price), " − ", money_text(change), " = ",
               money_text(sale));
    draft.step("Tax: ", decimal_text(hundredth(Exact(tax))), " × ", money_text(sale), " = ",
               money_text(right - sale));
    draft.step(money_text(sale), " + ", money_text(right - sale), " = ", money_text(right));
    draft.slip(percents_joined, price + hundredth(Exact(tax - p)) * price);
    draft.slip(change_only, sale);
    draft.slip(opposite, sale - hundredth(Exact(tax)) * sale);
    return true;
}

bool simple_interest(Draw& draw, Draft& draft) {
    const std::int64_t deposit =
        draw.in(2, draw.by_tier<std::int64_t>(20, 40, 60)) * (draw.support() ? 100 : 50);
    const Exact rate = draw.stretch() ? Exact(draw.in(3, 15), 2) : Exact(draw.in(2, 8));
    const Exact years = draw.stretch() ? Exact(draw.in(3, 13), 2) : Exact(draw.in(2, 6));
    const Exact yearly = hundredth(rate) * Exact(deposit);
    const Exact right = yearly * years;
    if (draw.stretch() && (rate.whole() || years.whole())) return false;
    draft.ask(say(draw.name(), " saves $", deposit, " at ", decimal_text(rate),
                  "% simple interest a year. How much interest is paid in ", decimal_text(years),
                  " years?"),
              calc(deposit, "*", rate, "/100*", years));
    draft.show(money_text);
    draft.answer(right);
    draft.step("One year: ", decimal_text(hundredth(rate)), " × ", deposit, " = ",
               money_text(yearly));
    draft.step(decimal_text(years), " × ", money_text(yearly), " = ", money_text(right));
    draft.slip(one_year, yearly);
    draft.slip(with_principal, Exact(deposit) + right);
    draft.slip(ten_not_hundred, right * Exact(10));
    return true;
}

}  // namespace

std::vector<Generator> percent_cards() {
    return {
        {"percent-convert",
         {"Two-digit percents", "Percents below 10 or above 100", "Percents with a fraction part"},
         {&ten_not_hundred, &sign_dropped, &thousand},
         convert},
        {"percent-of",
         {"Benchmark percents, whole answers", "Multiples of 5 percent",
          "Any whole percent, also above 100"},
         {&ten_not_hundred, &subtracts_percent, &divides_by_percent},
         percent_of},
        {"percent-what",
         {"Multiples of 10 percent", "Multiples of 5 percent", "Any half percent, also above 100"},
         {&part_is_percent, &rest_percent, &difference_percent},
         what_percent},
        {"percent-whole",
         {"Benchmark percents", "Multiples of 5 percent below 100", "Percents above 100"},
         {&percent_of_part, &adds_rest, &ten_not_hundred},
         find_whole},
        {"percent-change",
         {"Multiples of 10 percent", "Multiples of 5 percent", "Percents with a half"},
         {&over_new, &difference_percent, &new_over_old},
         percent_change},
        {"discount-tax",
         {"One discount in tens of percent", "One discount or tax in fives of percent",
          "A discount, then a tax"},
         {&change_only, &opposite, &subtracts_percent, &percents_joined},
         discount_tax},
        {"simple-interest",
         {"Whole percent, hundreds of dollars", "Whole percent, whole years",
          "Half percents and half years"},
         {&one_year, &with_principal, &ten_not_hundred},
         simple_interest},
    };
}

}  // namespace tallyround::cards
