#include <algorithm>

#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view steinle = "Stacey and Steinle, decimal comparison studies";
constexpr SlipInfo too_fine{"place-too-fine", "Rounds one place too far to the right", "",
                            practice};
constexpr SlipInfo zero_lost{"zero-place-lost", "Leaves out the 0 of an empty place", steinle,
                             from_memory};
constexpr SlipInfo places_late{"one-place-late", "Starts the places one too far to the right", "",
                               practice};
constexpr SlipInfo tops_whole{"tops-as-whole", "Reads the parts as whole numbers", steinle,
                              from_memory};
constexpr SlipInfo longer_larger{"longer-is-larger",
                                 "Takes the decimal with most digits for the greatest", steinle,
                                 abstract_read};
constexpr SlipInfo shorter_larger{"shorter-is-larger",
                                  "Takes the decimal with fewest digits for the greatest", steinle,
                                  abstract_read};
constexpr SlipInfo tail_whole{"tail-as-whole",
                              "Compares the digits after the point as whole numbers", steinle,
                              abstract_read};
constexpr SlipInfo cuts_off{"cuts-off", "Cuts the digits off instead of rounding", ashlock,
                            from_memory};
constexpr SlipInfo wrong_place{"wrong-place", "Rounds to the neighbouring place", ashlock,
                               from_memory};
constexpr SlipInfo wrong_way{"rounds-wrong-way", "Rounds the wrong way", "", practice};
constexpr SlipInfo top_point_bottom{"top-point-bottom", "Writes the top, a point, then the bottom",
                                    "Stafylidou and Vosniadou 2004", from_memory};
constexpr SlipInfo point_top_bottom{"digits-after-point", "Writes top and bottom after the point",
                                    steinle, from_memory};
constexpr SlipInfo over_hundred{"over-power-of-ten",
                                "Writes the repeating digits over 10, 100 or 1,000", "", practice};
constexpr SlipInfo nine_missing{"one-nine-missing", "Uses one 9 too few below", "", practice};
constexpr SlipInfo nine_more{"one-nine-more", "Uses one 9 too many below", "", practice};

Exact decimal(Draw& draw, std::int64_t low, std::int64_t high, int places) {
    std::int64_t n = draw.in(low, high);
    while (n % 10 == 0)
        n = draw.in(low, high);
    return Exact(n) / power(Exact(10), places);
}

std::string place_name(int place) {
    return place == 1 ? "tenth" : place == 2 ? "hundredth" : "thousandth";
}

bool expand(Draw& draw, Draft& draft) {
    const std::int64_t whole = draw.in(1, draw.by_tier<std::int64_t>(9, 30, 90));
    const std::int64_t tenths = draw.stretch() ? 0 : draw.in(1, 9);
    const std::int64_t hundredths = draw.support() || draw.stretch() ? draw.in(1, 9) : 0;
    const std::int64_t thousandths = draw.support() ? 0 : draw.in(1, 9);
    const Exact value =
        Exact(whole) + Exact(tenths, 10) + Exact(hundredths, 100) + Exact(thousandths, 1000);
    std::vector<std::string> parts{say(whole)};
    const auto add = [&](std::int64_t digit, const char* unit) {
        if (digit != 0) parts.push_back(say(digit, unit));
    };
    add(tenths, " × 1/10");
    add(hundredths, " × 1/100");
    add(thousandths, " × 1/1000");
    std::string text;
    std::string text_math;
    for (const std::string& part : parts) {
        text += (text.empty() ? "" : " + ") + part;
        std::string plain = part;
        if (const auto at = plain.find(" × "); at != std::string::npos)
            plain = plain.substr(0, at) + "*" + plain.substr(at + 4);
        text_math += (text_math.empty() ? "" : "+") + plain;
    }
    draft.ask("Write as one decimal: " + text, text_math);
    draft.show(decimal_text);
    draft.answer(value);
    draft.step("Put each digit in its place and a 0 in an empty place: ", decimal_text(value));
    const Exact tail = value - Exact(whole);
    draft.slip(places_late, Exact(whole) + tail / Exact(10));
    draft.slip(tops_whole, Exact(whole + tenths + hundredths + thousandths));
    if (!draw.support())
        draft.slip(zero_lost, Exact(whole) + Exact(draw.stretch() ? hundredths * 10 + thousandths
                                                                  : tenths * 10 + thousandths,
                                                   100));
    return true;
}

bool compare(Draw& draw, Draft& draft) {
    const Exact whole(draw.in(0, draw.by_tier<std::int64_t>(3, 9, 9)));
    const std::int64_t first = draw.in(3, 9);
    const Exact right = Exact(first * 10 + draw.in(1, 9), 100);
    const std::int64_t lead = draw.in(1, first - 1);
    const Exact middle = decimal(draw, lead * 100 + 1, lead * 100 + 99, 3);
    const Exact shortest(draw.in(1, first - (draw.stretch() ? 0 : 1)), 10);
    std::vector<Exact> all{right, middle, shortest};
    Exact longest;
    if (!draw.support()) {
        longest = decimal(draw, 101, 999, 4);
        if (longest * Exact(10) >= middle) return false;
        all.push_back(longest);
    }
    std::sort(all.begin(), all.end(), [](const Exact& a, const Exact& b) { return a < b; });
    if (std::adjacent_find(all.begin(), all.end()) != all.end() || all.back() != right)
        return false;
    draw.shuffle(all);
    std::string list;
    std::string list_math;
    for (const Exact& tail : all) {
        list += (list.empty() ? "" : ", ") + decimal_text(whole + tail);
        list_math += (list_math.empty() ? "" : ",") + math(whole + tail);
    }
    draft.ask("Which number is the greatest: " + list + "?", "max(" + list_math + ")");
    draft.show(decimal_text);
    draft.answer(whole + right);
    std::string written_out;
    for (const Exact& tail : all)
        written_out += (written_out.empty() ? "" : ", ") + fixed_text(whole + tail, 4);
    draft.step("Write all with four decimal places: ", written_out);
    draft.step("Compare place by place from the left: ", decimal_text(whole + right),
               " is greatest.");
    draft.slip(shorter_larger, whole + shortest);
    if (draw.support()) {
        draft.slip(longer_larger, whole + middle);
    } else {
        draft.slip(longer_larger, whole + longest);
        draft.slip(tail_whole, whole + middle);
    }
    return true;
}

bool round_decimal(Draw& draw, Draft& draft) {
    const int places = static_cast<int>(draw.by_tier(1, draw.in(1, 2) == 1 ? 1 : 2, 2));
    const int extra = draw.support() ? 1 : 2;
    const Exact x =
        decimal(draw, 100, draw.by_tier<std::int64_t>(999, 99999, 999999), places + extra);
    const Exact right = round_to(x, places);
    const Exact unit = Exact(1) / power(Exact(10), places);
    const Exact cut = Exact(floor_of(x / unit)) * unit;
    const bool up = right > cut;
    if (draw.stretch() && floor_of(cut / unit) % 10 != 9) return false;
    if (draw.stretch() && !up) return false;
    draft.ask(say("Round ", decimal_text(x), " to the nearest ", place_name(places), "."),
              calc("floor(", x, "*", power(Exact(10), places), "+1/2)/", power(Exact(10), places)));
    draft.answer(fixed_text(right, places), math(right));
    draft.step("It lies between ", fixed_text(cut, places), " and ", fixed_text(cut + unit, places),
               ".");
    draft.step("The next digit is ", floor_of(x / unit * Exact(10)) % 10, ", so it rounds ",
               up ? "up" : "down", " to ", fixed_text(right, places), ".");
    if (up) draft.slip(cuts_off, fixed_text(cut, places), math(cut));
    if (!up) draft.slip(wrong_way, fixed_text(cut + unit, places), math(cut + unit));
    const Exact coarse = round_to(x, places - 1);
    // With a carry past the 9 the coarser rounding is the same number.
    if (!draw.stretch()) draft.slip(wrong_place, fixed_text(coarse, places - 1), math(coarse));
    if (extra == 2) {
        const Exact fine = round_to(x, places + 1);
        draft.slip(too_fine, fixed_text(fine, places + 1), math(fine));
    }
    return true;
}

bool fraction_to_decimal(Draw& draw, Draft& draft) {
    const std::int64_t bottom = draw.support()   ? draw.of<std::int64_t>({4, 5, 8, 20, 25})
                                : draw.stretch() ? draw.of<std::int64_t>({16, 32, 80, 125})
                                                 : draw.of<std::int64_t>({8, 16, 20, 25, 40});
    const std::int64_t top =
        draw.in(draw.support() ? 1 : 3, draw.support() ? bottom - 1 : 2 * bottom - 1);
    if (gcd(top, bottom) != 1) return false;
    const Exact x(top, bottom);
    draft.ask(say("Write as a decimal: ", x), math(x));
    draft.show(decimal_text);
    draft.answer(x);
    draft.step(top, " ÷ ", bottom, " = ", decimal_text(x));
    const auto joined = [](const std::string& digits) {
        return Exact(std::stoll(digits)) / power(Exact(10), static_cast<int>(digits.size()));
    };
    draft.slip(top_point_bottom, Exact(top) + joined(math(Exact(bottom))));
    draft.slip(point_top_bottom, joined(math(Exact(top)) + math(Exact(bottom))));
    draft.slip(point_one_off, x * Exact(10));
    return true;
}

bool repeating(Draw& draw, Draft& draft) {
    const int length = static_cast<int>(draw.by_tier(1, 2, 3));
    const std::int64_t nines = (power(Exact(10), length) - Exact(1)).top();
    const std::int64_t block = draw.in(1, nines - 1);
    const std::int64_t whole = draw.in(draw.support() ? 1 : 0, draw.support() ? 60 : 9);
    std::string digits = math(Exact(block));
    digits.insert(0, static_cast<std::size_t>(length) - digits.size(), '0');
    if (length > 1 && digits.find_first_not_of(digits[0]) == std::string::npos) return false;
    std::string shown = say(whole, ".");
    for (int i = 0; i < (length == 1 ? 4 : 3); ++i)
        shown += digits;
    const Exact x = Exact(whole) + Exact(block, nines);
    draft.ask(say("Write as a fraction in lowest terms: ", shown, "… (", digits, " repeats)"),
              calc(whole, "+", say(math(Exact(block)), "/", math(Exact(nines)))));
    draft.answer(x);
    draft.step("Call the part after the point x. Then ", (Exact(nines) + Exact(1)),
               "x − x = ", block, ", so ", nines, "x = ", block);
    if (gcd(block, nines) > 1) draft.step(block, "/", nines, " = ", Exact(block, nines));
    const auto with = [&](const Exact& part) { return Exact(whole) + part; };
    draft.slip(over_hundred, with(Exact(block, nines + 1)));
    if (length > 1) draft.slip(nine_missing, with(Exact(block, nines / 10)));
    draft.slip(nine_more, with(Exact(block, nines * 10 + 9)));
    return true;
}

}  // namespace

std::vector<Generator> decimal_form_cards() {
    return {
        {"decimal-expand",
         {"Tenths and hundredths, no empty place", "An empty hundredths place",
          "An empty tenths place"},
         {&places_late, &tops_whole, &zero_lost},
         expand},
        {"decimal-compare",
         {"Three decimals of one to three places", "Four decimals of one to four places",
          "Four decimals, the shortest close to the greatest"},
         {&longer_larger, &shorter_larger, &tail_whole},
         compare},
        {"decimal-round",
         {"Two places to the nearest tenth", "To the nearest tenth or hundredth, two digits more",
          "Rounding up over a 9"},
         {&too_fine, &cuts_off, &wrong_way, &wrong_place},
         round_decimal},
        {"fraction-to-decimal",
         {"Denominators 4 to 25, below 1", "Denominators up to 40, up to 2",
          "Denominators up to 125, up to 2"},
         {&top_point_bottom, &point_top_bottom, &point_one_off},
         fraction_to_decimal},
        {"repeating-decimal",
         {"One repeating digit", "Two repeating digits", "Three repeating digits"},
         {&over_hundred, &nine_missing, &nine_more},
         repeating},
    };
}

}  // namespace tallyround::cards
