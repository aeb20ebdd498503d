#include <algorithm>

#include "cards/families.h"

namespace tallyround::cards {

namespace {

constexpr std::string_view steinle = "Stacey and Steinle, decimal comparison studies";
constexpr std::string_view bell = "Bell, Swan and Taylor 1981, Educ. Studies in Math. 12:399";

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
constexpr SlipInfo right_aligned{"right-aligned", "Lines up the last digits instead of the points",
                                 ashlock, from_memory};
constexpr SlipInfo tails_apart{
    "tails-apart", "Works on the digits after the points as whole numbers", steinle, from_memory};
constexpr SlipInfo digits_brought{
    "digits-brought-down", "Brings down a digit that has nothing above it", ashlock, from_memory};
constexpr SlipInfo point_one_off{"point-one-off", "Puts the point one place wrong", "", practice};
constexpr SlipInfo point_as_sum{"point-as-in-adding", "Places the point as when adding", ashlock,
                                from_memory};
constexpr SlipInfo point_ignored{"point-ignored", "Leaves the point out", bell, from_memory};
constexpr SlipInfo quotient_zero{"quotient-zero-omitted", "Leaves out a 0 inside the quotient",
                                 ashlock, from_memory};
constexpr SlipInfo divisor_only{"divisor-shifted-only",
                                "Makes the divisor whole but leaves the dividend", ashlock,
                                from_memory};
constexpr SlipInfo top_point_bottom{"top-point-bottom", "Writes the top, a point, then the bottom",
                                    "Stafylidou and Vosniadou 2004", from_memory};
constexpr SlipInfo point_top_bottom{"digits-after-point", "Writes top and bottom after the point",
                                    steinle, from_memory};
constexpr SlipInfo over_hundred{"over-power-of-ten",
                                "Writes the repeating digits over 10, 100 or 1,000", "", practice};
constexpr SlipInfo nine_missing{"one-nine-missing", "Uses one 9 too few below", "", practice};
constexpr SlipInfo nine_more{"one-nine-more", "Uses one 9 too many below", "", practice};

/// digits / 10^places, last digit not 0.
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
    draft.step("Compare place by place: ", decimal_text(whole + right), " has ",
               floor_of(right * Exact(10)), " tenths and ", floor_of(right * Exact(100)) % 10,
               " hundredths, more than the others.");
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
    draft.slip(wrong_place, fixed_text(coarse, places - 1), math(coarse));
    if (extra == 2) {
        const Exact fine = round_to(x, places + 1);
        draft.slip(point_one_off, fixed_text(fine, places + 1), math(fine));
    }
    return true;
}

/// Two decimals of different lengths; `long_first` says which has more places.
bool two_lengths(Draw& draw, Exact& a, Exact& b, int& pa, int& pb) {
    pa = static_cast<int>(draw.in(draw.stretch() ? 0 : 1, 2));
    pb = static_cast<int>(draw.in(1, draw.support() ? 2 : 3));
    a = decimal(draw, pa == 0 ? 3 : 12, draw.support() ? 99 : 999, pa);
    b = decimal(draw, 12, draw.support() ? 199 : 1999, pb);
    return pa != pb && a > Exact(1) && b > Exact(1, 5);
}

/// The digits as whole numbers, lined up at the right.
Exact flat(const Exact& x, int places) {
    return x * power(Exact(10), places);
}

Exact tail_digits(const Exact& x, int places) {
    return flat(x - Exact(floor_of(x)), places);
}

bool add_decimals(Draw& draw, Draft& draft) {
    Exact a;
    Exact b;
    int pa = 0;
    int pb = 0;
    if (!two_lengths(draw, a, b, pa, pb)) return false;
    if (draw.coin()) {
        std::swap(a, b);
        std::swap(pa, pb);
    }
    const int most = std::max(pa, pb);
    draft.ask(say("Add: ", decimal_text(a), " + ", decimal_text(b)), calc(a, "+", b));
    draft.show(decimal_text);
    draft.answer(a + b);
    draft.step("Line up the points: ", fixed_text(a, most), " + ", fixed_text(b, most), " = ",
               fixed_text(a + b, most));
    draft.slip(right_aligned, (flat(a, pa) + flat(b, pb)) / power(Exact(10), most));
    const Exact tails = tail_digits(a, pa) + tail_digits(b, pb);
    if (tails.whole() && pa > 0 && pb > 0) {
        const std::string shown = say(floor_of(a) + floor_of(b), ".", tails);
        const int width = static_cast<int>(math(tails).size());
        draft.slip_as(tails_apart, shown,
                      Exact(floor_of(a) + floor_of(b)) + tails / power(Exact(10), width));
    }
    draft.slip(point_one_off, (a + b) * Exact(10));
    return true;
}

bool subtract_decimals(Draw& draw, Draft& draft) {
    Exact a;
    Exact b;
    int pa = 0;
    int pb = 0;
    if (!two_lengths(draw, a, b, pa, pb)) return false;
    if (pa > pb || a - b < Exact(1, 10)) return false;
    const Exact scale = power(Exact(10), pa);
    const Exact head = Exact(floor_of(b * scale)) / scale;
    const Exact digits = b - head;
    draft.ask(say("Subtract: ", decimal_text(a), " − ", decimal_text(b)), calc(a, "-", b));
    draft.show(decimal_text);
    draft.answer(a - b);
    draft.step("Write zeros so that both have ", pb, " decimal places.");
    draft.step(fixed_text(a, pb), " − ", fixed_text(b, pb), " = ", fixed_text(a - b, pb));
    draft.slip(digits_brought, a - head + digits);
    draft.slip(right_aligned, abs(flat(a, pa) - flat(b, pb)) / power(Exact(10), pb));
    draft.slip(point_one_off, (a - b) * Exact(10));
    return true;
}

bool multiply_decimals(Draw& draw, Draft& draft) {
    const int pa = 1;
    const int pb = static_cast<int>(draw.by_tier(1, draw.in(1, 2) == 1 ? 1 : 2, 2));
    const Exact a =
        decimal(draw, draw.support() ? 2 : 12, draw.by_tier<std::int64_t>(9, 99, 99), pa);
    const Exact b =
        decimal(draw, draw.support() ? 2 : 3, draw.by_tier<std::int64_t>(99, 19, 99), pb);
    const Exact right = a * b;
    if (draw.stretch() && b >= Exact(1, 10)) return false;
    if (a == b) return false;
    const Exact digits = flat(a, pa) * flat(b, pb);
    draft.ask(say("Multiply: ", decimal_text(a), " × ", decimal_text(b)), calc(a, "*", b));
    draft.show(decimal_text);
    draft.answer(right);
    draft.step("Without the points: ", flat(a, pa), " × ", flat(b, pb), " = ", digits);
    draft.step("The factors have ", pa + pb, " decimal places together: ", decimal_text(a), " × ",
               decimal_text(b), " = ", decimal_text(right));
    draft.slip(point_as_sum, digits / power(Exact(10), std::max(pa, pb)));
    draft.slip(point_ignored, digits);
    draft.slip(point_one_off, right / Exact(10));
    return true;
}

bool divide_decimal(Draw& draw, Draft& draft) {
    const std::int64_t divisor = draw.in(3, draw.by_tier<std::int64_t>(9, 12, 24));
    const int places = draw.support() ? 1 : 2;
    const Exact quotient =
        decimal(draw, draw.support() ? 11 : 101, draw.by_tier<std::int64_t>(99, 999, 909), places);
    const Exact dividend = quotient * Exact(divisor);
    const std::int64_t tenth = floor_of(quotient * Exact(10)) % 10;
    if (draw.stretch() ? tenth != 0 : tenth == 0) return false;
    if (dividend.whole()) return false;
    draft.ask(say("Divide: ", decimal_text(dividend), " ÷ ", divisor),
              calc(dividend, "/", divisor));
    draft.show(decimal_text);
    draft.answer(quotient);
    draft.step("Divide as with whole numbers and keep the point in line: ", decimal_text(dividend),
               " ÷ ", divisor, " = ", decimal_text(quotient));
    draft.step("Check: ", divisor, " × ", decimal_text(quotient), " = ", decimal_text(dividend));
    draft.slip(point_ignored, flat(quotient, places));
    draft.slip(point_one_off, quotient / Exact(10));
    if (draw.stretch()) {
        const std::int64_t ones = floor_of(quotient);
        draft.slip(quotient_zero, Exact(ones) + (quotient - Exact(ones)) * Exact(10));
    }
    return true;
}

bool decimal_by_decimal(Draw& draw, Draft& draft) {
    const int places = static_cast<int>(draw.by_tier(1, 2, 2));
    const Exact divisor = decimal(draw, draw.by_tier(2, 2, 12), draw.by_tier(9, 9, 48), places);
    const Exact quotient =
        draw.stretch() ? decimal(draw, 11, 299, 1) : Exact(draw.in(6, draw.support() ? 30 : 90));
    const Exact dividend = divisor * quotient;
    if (dividend.whole() || quotient == Exact(10)) return false;
    const Exact scale = power(Exact(10), places);
    draft.ask(say("Divide: ", decimal_text(dividend), " ÷ ", decimal_text(divisor)),
              calc(dividend, "/", divisor));
    draft.show(decimal_text);
    draft.answer(quotient);
    draft.step("Multiply both by ", scale, ": ", decimal_text(dividend), " ÷ ",
               decimal_text(divisor), " = ", decimal_text(dividend * scale), " ÷ ",
               decimal_text(divisor * scale));
    draft.step(decimal_text(dividend * scale), " ÷ ", decimal_text(divisor * scale), " = ",
               decimal_text(quotient));
    draft.slip(divisor_only, dividend / (divisor * scale));
    draft.slip(point_one_off, draw.support() ? quotient * Exact(10) : quotient / Exact(10));
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
    draft.step(block, "/", nines, " = ", Exact(block, nines));
    const auto with = [&](const Exact& part) { return Exact(whole) + part; };
    draft.slip(over_hundred, with(Exact(block, nines + 1)));
    if (length > 1) draft.slip(nine_missing, with(Exact(block, nines / 10)));
    draft.slip(nine_more, with(Exact(block, nines * 10 + 9)));
    return true;
}

}  // namespace

std::vector<Generator> decimal_cards() {
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
         {&cuts_off, &wrong_way, &wrong_place, &point_one_off},
         round_decimal},
        {"decimal-add",
         {"One and two places", "Up to three places",
          "Up to three places, whole numbers among them"},
         {&right_aligned, &tails_apart, &point_one_off},
         add_decimals},
        {"decimal-subtract",
         {"One and two places, one digit without a partner", "Up to three places",
          "Up to three places, whole numbers among them"},
         {&digits_brought, &right_aligned, &point_one_off},
         subtract_decimals},
        {"decimal-multiply",
         {"Tenths times tenths, one factor below 1", "Two digits times tenths or hundredths",
          "A factor below one tenth"},
         {&point_as_sum, &point_ignored, &point_one_off},
         multiply_decimals},
        {"decimal-divide",
         {"Quotient with one decimal place", "Quotient with two decimal places",
          "A 0 inside the quotient"},
         {&point_ignored, &point_one_off, &quotient_zero},
         divide_decimal},
        {"decimal-by-decimal",
         {"Divide by tenths, whole quotient", "Divide by hundredths, whole quotient",
          "Divide by two-digit hundredths, quotient with tenths"},
         {&divisor_only, &point_one_off},
         decimal_by_decimal},
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
