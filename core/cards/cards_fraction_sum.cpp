#include <algorithm>
#include <array>

#include "cards/drawings.h"
#include "cards/families.h"
#include "cards/shared_slips.h"

namespace tallyround::cards {

namespace {

constexpr SlipInfo bigger_numbers{
    "bigger-numbers", "Takes the fraction with the biggest numbers for the greatest",
    "Stafylidou and Vosniadou 2004, Learning and Instruction 14:503", abstract_read};
constexpr SlipInfo smaller_bottom{
    "smaller-bottom", "Takes the fraction with the smallest denominator, top ignored",
    "Stafylidou and Vosniadou 2004, Learning and Instruction 14:503", abstract_read};
constexpr SlipInfo smaller_gap{"smaller-gap",
                               "Judges by the gap between top and bottom: smaller gap, greater",
                               "Pearn and Stephens 2004, MERGA 27", from_memory};
constexpr SlipInfo tops_unscaled{"tops-unscaled",
                                 "Finds the common denominator but leaves the tops as they were",
                                 ashlock, from_memory};
constexpr SlipInfo one_top_scaled{
    "one-top-scaled", "Rewrites only one of the two tops for the common denominator", "", practice};
constexpr SlipInfo multiplied_bottoms{"bottoms-multiplied",
                                      "Multiplies the bottoms and leaves the tops as they were",
                                      ashlock, from_memory};
constexpr SlipInfo carry_lost{"carry-lost",
                              "Leaves out the whole that the fraction parts make together", ashlock,
                              from_memory};
constexpr SlipInfo larger_minus_smaller{"mixed-larger-minus-smaller",
                                        "Takes the smaller fraction part from the larger one",
                                        "Tatsuoka 1984, fraction subtraction bugs", from_memory};
constexpr SlipInfo borrow_ten{"mixed-borrow-ten",
                              "Regroups a whole as ten parts, whatever the denominator", ashlock,
                              from_memory};
constexpr SlipInfo whole_kept{"mixed-whole-kept",
                              "Regroups a whole but does not take it off the whole number", ashlock,
                              from_memory};
constexpr SlipInfo other_operation{
    "other-operation", "Adds where the story takes away, or the other way round", "", practice};

/// A fraction as it stands on the card, not reduced.
struct Raw {
    std::int64_t top;
    std::int64_t bottom;
    Exact value() const { return {top, bottom}; }
    std::string text() const { return say(Exact(top), "/", Exact(bottom)); }
};

std::string raw_text(std::int64_t top, std::int64_t bottom) {
    return Raw{top, bottom}.text();
}

Raw proper(Draw& draw, std::int64_t bottom) {
    std::int64_t top = draw.in(1, bottom - 1);
    while (gcd(top, bottom) != 1)
        top = draw.in(1, bottom - 1);
    return {top, bottom};
}

/// Two proper fractions whose denominators fit the tier.
std::array<Raw, 2> unlike_pair(Draw& draw) {
    if (draw.support()) {
        const std::int64_t small = draw.in(2, 6);
        const std::int64_t large = small * draw.in(2, 4);
        std::array<Raw, 2> pair{proper(draw, small), proper(draw, large)};
        if (draw.coin()) std::swap(pair[0], pair[1]);
        return pair;
    }
    const std::int64_t high = draw.by_tier<std::int64_t>(8, 12, 16);
    while (true) {
        const std::int64_t b = draw.in(3, high);
        const std::int64_t d = draw.in(3, high);
        if (b % d == 0 || d % b == 0 || lcm(b, d) > draw.by_tier(24, 60, 90)) continue;
        if (draw.stretch() && gcd(b, d) == 1) continue;
        return {proper(draw, b), proper(draw, d)};
    }
}

bool compare_fractions(Draw& draw, Draft& draft) {
    const std::size_t count = draw.support() ? 3 : 4;
    const std::int64_t high = draw.by_tier<std::int64_t>(9, 12, 20);
    std::vector<Raw> all;
    for (std::size_t i = 0; i < count; ++i)
        all.push_back(proper(draw, draw.in(2, high)));
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (all[i].value() == all[j].value() || all[i].bottom == all[j].bottom) return false;
    const auto first_by = [&](auto key) {
        return *std::max_element(all.begin(), all.end(),
                                 [&](const Raw& a, const Raw& b) { return key(a) < key(b); });
    };
    const Raw best = first_by([](const Raw& f) { return f.value(); });
    // Looked at before any words are made: most draws end here.
    const Exact large = first_by([](const Raw& f) { return f.top + f.bottom; }).value();
    const Exact small = first_by([](const Raw& f) { return -f.bottom; }).value();
    const Exact near = first_by([](const Raw& f) { return f.top - f.bottom; }).value();
    if (large == best.value() || near == best.value() || large == near) return false;
    if (count == 4 && (small == best.value() || small == large || small == near)) return false;
    const Exact gap_to_next = [&] {
        Exact nearest(1);
        for (const Raw& f : all)
            if (f.value() != best.value()) nearest = std::min(nearest, best.value() - f.value());
        return nearest;
    }();
    if (draw.stretch() ? gap_to_next > Exact(1, 8) : gap_to_next < Exact(1, 20)) return false;
    std::int64_t common = 1;
    for (const Raw& f : all)
        common = lcm(common, f.bottom);
    if (common > draw.by_tier(72, 180, 720)) return false;
    std::string list;
    std::string list_math;
    std::string rewritten;
    for (const Raw& f : all) {
        list += (list.empty() ? "" : ", ") + f.text();
        list_math += (list_math.empty() ? "" : ",") + math(f.value());
        rewritten += (rewritten.empty() ? "" : ", ") + f.text() + " = " +
                     raw_text(f.top * (common / f.bottom), common);
    }
    draft.ask("Which fraction is the greatest: " + list + "?", "max(" + list_math + ")");
    draft.show(fraction_text);
    draft.answer(best.value());
    draft.step("Write all with denominator ", common, ": ", rewritten);
    draft.step("The greatest top is the greatest fraction: ", best.text());
    draft.slip(bigger_numbers, large);
    if (count == 4) draft.slip(smaller_bottom, small);
    draft.slip(smaller_gap, near);
    return true;
}

/// Steps and slips that sums and differences share; sign is +1 or −1.
void unlike_key(Draft& draft, const Raw& p, const Raw& q, int sign) {
    const std::int64_t common = lcm(p.bottom, q.bottom);
    const std::int64_t a = p.top * (common / p.bottom);
    const std::int64_t c = q.top * (common / q.bottom);
    const char* op = sign > 0 ? " + " : " − ";
    draft.answer(Exact(a + sign * c, common));
    if (a != p.top) draft.step(p.text(), " = ", raw_text(a, common));
    if (c != q.top) draft.step(q.text(), " = ", raw_text(c, common));
    draft.step(raw_text(a, common), op, raw_text(c, common), " = ", raw_text(a + sign * c, common));
    if (gcd(a + sign * c, common) > 1 || a + sign * c > common)
        draft.step(raw_text(a + sign * c, common), " = ", mixed_text(Exact(a + sign * c, common)));
    const std::int64_t tops = p.top + sign * q.top;
    const std::int64_t bottoms = p.bottom + sign * q.bottom;
    if (tops > 0 && bottoms > 1)
        draft.slip_as(tops_and_bottoms, raw_text(tops, bottoms), Exact(tops, bottoms));
    if (tops > 0) {
        draft.slip_as(tops_unscaled, raw_text(tops, common), Exact(tops, common));
        if (common != p.bottom * q.bottom)
            draft.slip_as(multiplied_bottoms, raw_text(tops, p.bottom * q.bottom),
                          Exact(tops, p.bottom * q.bottom));
    }
    const std::int64_t half_done = a + sign * q.top;
    if (a != p.top && c != q.top && half_done > 0)
        draft.slip_as(one_top_scaled, raw_text(half_done, common), Exact(half_done, common));
}

bool add_unlike(Draw& draw, Draft& draft) {
    const auto [p, q] = unlike_pair(draw);
    const Exact sum = p.value() + q.value();
    if (draw.stretch() ? sum <= Exact(1) : draw.support() && sum >= Exact(1)) return false;
    if (sum.whole() || sum.bottom() > 90) return false;
    draft.ask(say("Add: ", p.text(), " + ", q.text()), p.text() + "+" + q.text());
    if (draw.support()) draft.picture(bars_picture({{p.top, p.bottom}, {q.top, q.bottom}}));
    unlike_key(draft, p, q, 1);
    return true;
}

bool subtract_unlike(Draw& draw, Draft& draft) {
    const auto [p, q] = unlike_pair(draw);
    const Exact difference = p.value() - q.value();
    if (difference < Exact(1, 20) || p.top == q.top) return false;
    draft.ask(say("Subtract: ", p.text(), " − ", q.text()), p.text() + "-" + q.text());
    if (draw.support()) draft.picture(bars_picture({{p.top, p.bottom}, {q.top, q.bottom}}));
    unlike_key(draft, p, q, -1);
    return true;
}

bool add_mixed(Draw& draw, Draft& draft) {
    const std::int64_t bottom = draw.in(3, 12);
    std::array<Raw, 2> parts = draw.support()
                                   ? std::array<Raw, 2>{proper(draw, bottom), proper(draw, bottom)}
                                   : unlike_pair(draw);
    const Raw p = parts[0];
    const Raw q = parts[1];
    const Exact fractions = p.value() + q.value();
    if (fractions <= Exact(1)) return false;  // carrying is the point
    const std::int64_t m = draw.in(1, draw.by_tier<std::int64_t>(5, 9, 15));
    const std::int64_t n = draw.in(1, draw.by_tier<std::int64_t>(5, 9, 15));
    const std::int64_t common = lcm(p.bottom, q.bottom);
    const std::int64_t tops = p.top * (common / p.bottom) + q.top * (common / q.bottom);
    draft.ask(say("Add: ", m, " ", p.text(), " + ", n, " ", q.text()),
              say(m, "+", p.text(), "+", n, "+", q.text()));
    draft.show(mixed_text);
    draft.answer(Exact(m + n) + fractions);
    draft.step("Wholes: ", m, " + ", n, " = ", m + n);
    draft.step("Fraction parts: ", p.text(), " + ", q.text(), " = ", raw_text(tops, common), " = ",
               mixed_text(fractions));
    draft.step(m + n, " + ", mixed_text(fractions), " = ", mixed_text(Exact(m + n) + fractions));
    const Exact loose(p.top + q.top, p.bottom + q.bottom);
    draft.slip(carry_lost, Exact(m + n - 1) + fractions);
    draft.slip_as(tops_and_bottoms, say(m + n, " ", raw_text(p.top + q.top, p.bottom + q.bottom)),
                  Exact(m + n) + loose);
    if (p.bottom != q.bottom)
        draft.slip_as(tops_unscaled, say(m + n, " ", raw_text(p.top + q.top, common)),
                      Exact(m + n) + Exact(p.top + q.top, common));
    return true;
}

bool subtract_mixed(Draw& draw, Draft& draft) {
    const std::int64_t bottom = draw.of<std::int64_t>({3, 4, 5, 6, 7, 8, 9, 12});
    std::array<Raw, 2> parts = draw.support()
                                   ? std::array<Raw, 2>{Raw{draw.in(1, bottom - 1), bottom},
                                                        Raw{draw.in(1, bottom - 1), bottom}}
                                   : unlike_pair(draw);
    const std::int64_t common = lcm(parts[0].bottom, parts[1].bottom);
    const std::int64_t a = parts[0].top * (common / parts[0].bottom);
    const std::int64_t c = parts[1].top * (common / parts[1].bottom);
    if (a >= c || common == 10) return false;  // regrouping is the point
    const std::int64_t n = draw.in(1, draw.by_tier<std::int64_t>(4, 7, 12));
    const std::int64_t m = n + draw.in(2, 5);
    const std::string left = say(m, " ", parts[0].text());
    const std::string right = say(n, " ", parts[1].text());
    draft.ask(say("Subtract: ", left, " − ", right),
              say(m, "+", parts[0].text(), "-(", n, "+", parts[1].text(), ")"));
    draft.show(mixed_text);
    const Exact result = Exact(m - n) + Exact(a - c, common);
    draft.answer(result);
    if (parts[0].bottom != parts[1].bottom)
        draft.step(parts[0].text(), " = ", raw_text(a, common), " and ", parts[1].text(), " = ",
                   raw_text(c, common));
    draft.step("Regroup: ", m, " ", raw_text(a, common), " = ", m - 1, " ",
               raw_text(a + common, common));
    draft.step(m - 1, " ", raw_text(a + common, common), " − ", n, " ", raw_text(c, common), " = ",
               mixed_text(result));
    const auto wrong = [&](const SlipInfo& slip, std::int64_t whole, std::int64_t top) {
        if (top > 0)
            draft.slip_as(slip, say(whole, " ", raw_text(top, common)),
                          Exact(whole) + Exact(top, common));
    };
    wrong(larger_minus_smaller, m - n, c - a);
    wrong(borrow_ten, m - n - 1, a + 10 - c);
    wrong(whole_kept, m - n, a + common - c);
    return true;
}

bool fraction_story(Draw& draw, Draft& draft) {
    const auto [p, q] = unlike_pair(draw);
    const bool together = draw.coin();
    const Exact result = together ? p.value() + q.value() : p.value() - q.value();
    if (result < Exact(1, 20) || result.whole() || p.value() == q.value()) return false;
    const std::string_view who = draw.name();
    const std::string_view other = draw.name();
    std::string story;
    std::string unit;
    switch (draw.in(0, 3)) {
        case 0:
            unit = " mi";
            story = together ? say(who, " walks ", p.text(), " mile to the library and then ",
                                   q.text(), " mile to the park. How far is that altogether?")
                             : say("The path to the lake is ", p.text(), " mile long. ", who,
                                   " has walked ", q.text(), " mile of it. How far is left?");
            break;
        case 1:
            unit = " gal";
            story = together ? say(who, " pours ", p.text(), " gallon of blue paint and ", q.text(),
                                   " gallon of white paint into one bucket. How much "
                                   "paint is in the bucket?")
                             : say("A bucket holds ", p.text(), " gallon of paint. ", who, " uses ",
                                   q.text(), " gallon. How much paint is left?");
            break;
        case 2:
            unit = " h";
            story = together ? say(who, " reads for ", p.text(), " hour on Monday and ", q.text(),
                                   " hour on Tuesday. How long is that altogether?")
                             : say(who, " practices for ", p.text(), " hour and ", other, " for ",
                                   q.text(), " hour. How much longer does ", who, " practice?");
            break;
        default:
            unit = " yd";
            story = together ? say(who, " ties a ribbon of ", p.text(), " yard to one of ",
                                   q.text(), " yard. How long are the two ribbons together?")
                             : say(who, " cuts ", q.text(), " yard from a rope that is ", p.text(),
                                   " yard long. How much rope is left?");
    }
    draft.ask(story, p.text() + (together ? "+" : "-") + q.text());
    draft.show(mixed_text, unit);
    unlike_key(draft, p, q, together ? 1 : -1);
    const Exact opposite = together ? abs(p.value() - q.value()) : p.value() + q.value();
    draft.slip(other_operation, opposite);
    return true;
}

}  // namespace

std::vector<Generator> fraction_sum_cards() {
    const std::vector<const SlipInfo*> unlike{&tops_and_bottoms, &tops_unscaled,
                                              &multiplied_bottoms, &one_top_scaled};
    std::vector<const SlipInfo*> story = unlike;
    story.push_back(&other_operation);
    return {
        {"frac-compare",
         {"Three fractions, denominators up to 9, clearly apart",
          "Four fractions, denominators up to 12, clearly apart",
          "Four fractions, denominators up to 20, the two greatest within 1/8"},
         {&bigger_numbers, &smaller_bottom, &smaller_gap},
         compare_fractions},
        {"frac-add-unlike",
         {"One denominator is a multiple of the other; the sum is below 1",
          "Neither denominator is a multiple of the other; common denominator up to 60",
          "Denominators share a factor; common denominator up to 90; the sum is above 1"},
         unlike,
         add_unlike},
        {"frac-subtract-unlike",
         {"One denominator is a multiple of the other",
          "Neither denominator is a multiple of the other; common denominator up to 60",
          "Denominators share a factor; common denominator up to 90"},
         unlike,
         subtract_unlike},
        {"mixed-add",
         {"Like denominators, wholes up to 5, with carrying",
          "Unlike denominators, wholes up to 9, with carrying",
          "Denominators that share a factor, wholes up to 15, with carrying"},
         {&carry_lost, &tops_and_bottoms, &tops_unscaled},
         add_mixed},
        {"mixed-subtract",
         {"Like denominators, wholes up to 9, with regrouping",
          "Unlike denominators, wholes up to 12, with regrouping",
          "Denominators that share a factor, wholes up to 17, with regrouping"},
         {&larger_minus_smaller, &borrow_ten, &whole_kept},
         subtract_mixed},
        {"frac-add-story",
         {"One denominator is a multiple of the other",
          "Neither denominator is a multiple of the other; common denominator up to 60",
          "Denominators share a factor; common denominator up to 90"},
         story,
         fraction_story},
    };
}

}  // namespace tallyround::cards
