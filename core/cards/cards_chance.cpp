#include <algorithm>

#include "cards/families.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view fischbein = "Fischbein and Schnarch 1997, JRME 28:96";

constexpr SlipInfo part_to_part{"part-to-part", "Compares the wanted with the other outcomes",
                                "Green 1983, probability concepts", from_memory};
constexpr SlipInfo equal_chances{"equal-chances", "Takes all kinds for equally likely",
                                 "Lecoutre 1992, Educ. Studies in Math. 23:557", from_memory};
constexpr SlipInfo one_over_wanted{"one-over-wanted", "Writes 1 over the number of wanted outcomes",
                                   "", practice};
constexpr SlipInfo event_itself{"event-itself", "Gives the chance that it does happen", "",
                                practice};
constexpr SlipInfo minus_whole{
    "count-subtracted", "Subtracts from 100 what should be subtracted from 1, or the reverse", "",
    practice};
constexpr SlipInfo upside_down{"chance-upside-down", "Turns the fraction upside down", "",
                               practice};
constexpr SlipInfo half_for_any{"half-for-any", "Says half because it happens or not",
                                "Konold 1989, Cognition and Instruction 6:59", from_memory};
constexpr SlipInfo one_in_n{"tries-over-outcomes",
                            "Divides the tries by the number of outcomes, whatever is wanted",
                            "Lecoutre 1992, Educ. Studies in Math. 23:557", from_memory};
constexpr SlipInfo divides_by_wanted{"divides-by-wanted",
                                     "Divides the tries by the wanted outcomes", "", practice};
constexpr SlipInfo unwanted{"unwanted-count", "Counts the tries in which it does not happen", "",
                            practice};
constexpr SlipInfo choices_added{"choices-added", "Adds the choices instead of multiplying",
                                 fischbein, from_memory};
constexpr SlipInfo one_choice_out{"one-choice-left-out", "Leaves one kind of choice out", "",
                                  practice};
constexpr SlipInfo power_wrong{"first-choice-doubled",
                               "Uses the first number of choices for the others too", "", practice};
constexpr SlipInfo chances_added{"chances-added", "Adds the two chances", fischbein, from_memory};
constexpr SlipInfo put_back{"put-back-mixed-up", "Puts back where it should not, or the other way",
                            fischbein, from_memory};
constexpr SlipInfo first_only{"first-draw-only", "Gives the chance of the first draw", "",
                              practice};

struct Things {
    const char* one;
    const char* place;
};

Things things(Draw& draw) {
    return draw.of<Things>({{"marbles", "bag"},
                            {"cards", "box"},
                            {"tiles", "sack"},
                            {"beads", "jar"},
                            {"tickets", "drum"}});
}

bool simple(Draw& draw, Draft& draft) {
    const std::int64_t high = draw.by_tier<std::int64_t>(8, 15, 30);
    const std::int64_t red = draw.in(2, high), blue = draw.in(2, high),
                       green = draw.support() ? 0 : draw.in(2, high);
    const std::int64_t all = red + blue + green;
    const Exact chance(red, all);
    if (red == blue || red == green ||
        (draw.stretch() && chance == Exact(red, all) && gcd(red, all) == 1))
        return false;
    const Things t = things(draw);
    const std::string more = draw.support() ? std::string() : say(", ", green, " green");
    draft.ask(say("A ", t.place, " holds ", red, " red", more, " and ", blue, " blue ", t.one,
                  ". One is drawn without looking. What is the chance that it is red?"),
              calc(red, "/", all));
    draft.show(fraction_text);
    draft.answer(chance);
    draft.step("All ", t.one, ": ", red, draw.support() ? std::string() : say(" + ", green), " + ",
               blue, " = ", all);
    draft.step("Red out of all: ", say(red, "/", all),
               gcd(red, all) > 1 ? " = " + fraction_text(chance) : std::string());
    draft.slip(part_to_part, Exact(red, blue + green));
    draft.slip(equal_chances, Exact(1, draw.support() ? 2 : 3));
    draft.slip(one_over_wanted, Exact(1, red));
    return true;
}

bool not_happening(Draw& draw, Draft& draft) {
    if (draw.support()) {
        const std::int64_t p = draw.in(1, 99);
        if (p == 50) return false;
        const std::string_view event =
            draw.of<std::string_view>({"rain tomorrow", "a late bus", "snow on Sunday",
                                       "a win for the home team", "a busy line"});
        draft.ask(say("The chance of ", event, " is ", p,
                      "%. What is the chance that it does not happen?"),
                  calc("100-", p));
        draft.show(decimal_text, "%");
        draft.answer(Exact(100 - p));
        draft.step("100 − ", p, " = ", 100 - p);
        draft.slip(event_itself, p);
        draft.slip(half_for_any, 50);
        draft.slip(minus_whole, Exact(1) - Exact(p, 100));
        return true;
    }
    const Exact chance =
        draw.stretch() ? Exact(draw.in(1, 99), 100) : Exact{draw.in(1, 23), draw.in(3, 24)};
    if (chance >= Exact(1) || chance == Exact(1, 2) ||
        (draw.stretch() && (chance * Exact(10)).whole()))
        return false;
    const std::string_view event =
        draw.of<std::string_view>({"A spinner stops on red", "A drawn card is a picture",
                                   "A seed sprouts", "A train is on time", "A drawn ticket wins"});
    const Show show = draw.stretch() ? decimal_text : fraction_text;
    draft.ask(say(event, " with chance ", show(chance),
                  ". What is the chance that this does not happen?"),
              calc("1-", chance));
    draft.show(show);
    draft.answer(Exact(1) - chance);
    draft.step("1 − ", show(chance), " = ", show(Exact(1) - chance));
    draft.slip(event_itself, chance);
    draft.slip(half_for_any, Exact(1, 2));
    if (draw.stretch())
        draft.slip(minus_whole, Exact(100) - chance);
    else
        draft.slip(upside_down, Exact(1) / chance);
    return true;
}

bool expected(Draw& draw, Draft& draft) {
    const std::int64_t outcomes = draw.support() ? 6 : draw.in(4, draw.stretch() ? 20 : 12);
    const std::int64_t wanted = draw.in(draw.support() ? 1 : 2, outcomes - 1);
    const std::int64_t tries =
        draw.in(3, draw.by_tier<std::int64_t>(20, 40, 60)) * (draw.stretch() ? 10 : outcomes);
    const Exact result = Exact(wanted) * Exact(tries) / Exact(outcomes);
    if (!result.whole() || wanted * 2 == outcomes) return false;
    const std::string device = draw.support() ? "number cube with faces 1 to 6"
                                              : say("spinner with ", outcomes, " equal parts");
    const std::string event =
        draw.support() ? (wanted == 1 ? std::string("shows 1") : say("shows ", wanted, " or less"))
                       : say("stops on one of the ", wanted, " red parts");
    draft.ask(say("A ", device, draw.support() ? " is rolled " : " is spun ", tries,
                  " times. About how often can you expect that it ", event, "?"),
              calc(wanted, "/", outcomes, "*", tries));
    draft.answer(result);
    draft.step("Chance: ", say(wanted, "/", outcomes));
    draft.step(say(wanted, "/", outcomes), " × ", tries, " = ", result);
    if (wanted > 1) draft.slip(one_in_n, Exact(tries, outcomes));
    draft.slip(unwanted, Exact(tries) - result);
    if (wanted > 1) draft.slip(divides_by_wanted, Exact(tries, wanted));
    draft.slip(half_for_any, Exact(tries, 2));
    return true;
}

bool count_outcomes(Draw& draw, Draft& draft) {
    const std::int64_t a = draw.in(2, draw.by_tier<std::int64_t>(9, 9, 12)), b = draw.in(2, 9),
                       c = draw.in(2, 9), d = draw.in(2, 5);
    if (a == b || b == c || a == c) return false;
    const std::string_view who = draw.name();
    if (draw.support()) {
        draft.ask(say(who, " can choose from ", a, " shirts and ", b,
                      " pairs of shorts. How many different outfits are there?"),
                  calc(a, "*", b));
        draft.answer(Exact(a * b));
        draft.step(a, " × ", b, " = ", a * b);
        draft.slip(choices_added, a + b);
        draft.slip(power_wrong, a * a);
        draft.slip(one_choice_out, a);
        return true;
    }
    if (!draw.stretch()) {
        draft.ask(say("A lock has a first wheel with ", a, " letters, a second with ", b,
                      " digits and a third with ", c, " colors. How many settings are there?"),
                  calc(a, "*", b, "*", c));
        draft.answer(Exact(a * b * c));
        draft.step(a, " × ", b, " = ", a * b);
        draft.step(a * b, " × ", c, " = ", a * b * c);
        draft.slip(choices_added, a + b + c);
        draft.slip(one_choice_out, a * b);
        draft.slip(power_wrong, a * a * a);
        return true;
    }
    draft.ask(
        say(who, " plans a bicycle tour with ", a, " starting points, ", b, " routes, ", c,
            " resting places and ", d, " days to choose from. How many different plans are there?"),
        calc(a, "*", b, "*", c, "*", d));
    draft.answer(Exact(a * b * c * d));
    draft.step(a, " × ", b, " × ", c, " × ", d, " = ", a * b * c * d);
    draft.slip(choices_added, a + b + c + d);
    draft.slip(one_choice_out, a * b * c);
    draft.slip(power_wrong, a * a * a * a);
    return true;
}

bool two_events(Draw& draw, Draft& draft) {
    const std::int64_t red = draw.in(2, draw.by_tier<std::int64_t>(6, 8, 12)),
                       blue = draw.in(2, draw.by_tier<std::int64_t>(6, 8, 12));
    const std::int64_t all = red + blue;
    const bool back = draw.support() || (!draw.stretch() && draw.coin());
    const bool same = !draw.stretch() || draw.coin();
    if (red == blue) return false;
    const Exact first(red, all);
    const std::int64_t second_wanted = same ? (back ? red : red - 1) : blue;
    const Exact second(second_wanted, back ? all : all - 1);
    const Things t = things(draw);
    draft.ask(say("A ", t.place, " holds ", red, " red and ", blue, " blue ", t.one,
                  ". Two are drawn one after the other; the first is ",
                  back ? "put back" : "not put back", ". What is the chance of ",
                  same ? "two red ones?" : "a red one first and then a blue one?"),
              say("(", math(Exact(red)), "/", math(Exact(all)), ")*(", math(Exact(second_wanted)),
                  "/", math(Exact(back ? all : all - 1)), ")"));
    draft.show(fraction_text);
    draft.answer(first * second);
    draft.step("First: ", say(red, "/", all),
               "; second: ", say(second_wanted, "/", back ? all : all - 1));
    draft.step(say(red, "/", all), " × ", say(second_wanted, "/", back ? all : all - 1), " = ",
               first * second);
    draft.slip(chances_added, first + second);
    const Exact other(same ? (back ? red - 1 : red) : blue, back ? all - 1 : all);
    draft.slip(put_back, first * other);
    draft.slip(first_only, first);
    return true;
}

}  // namespace

std::vector<Generator> chance_cards() {
    return {
        {"probability-simple",
         {"Two colors, up to 8 each", "Three colors, up to 15 each",
          "Three colors, the chance reduces"},
         {&part_to_part, &equal_chances, &one_over_wanted},
         simple},
        {"probability-not",
         {"Percents", "Fractions", "Decimals to hundredths"},
         {&event_itself, &half_for_any, &minus_whole, &upside_down},
         not_happening},
        {"expected-count",
         {"A number cube", "A spinner with up to 12 parts",
          "A spinner with up to 20 parts, tries in tens"},
         {&one_in_n, &unwanted, &divides_by_wanted, &half_for_any},
         expected},
        {"count-outcomes",
         {"Two choices", "Three choices", "Four choices"},
         {&choices_added, &one_choice_out, &power_wrong},
         count_outcomes},
        {"probability-two",
         {"Two red ones, the first is put back", "Two red ones, put back or not",
          "Not put back, also two colors"},
         {&chances_added, &put_back, &first_only},
         two_events},
    };
}

}  // namespace tallyround::cards
