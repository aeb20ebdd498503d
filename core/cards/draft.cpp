#include "cards/draft.h"

#include <algorithm>
#include <array>

namespace tallyround::cards {

std::int64_t Draw::nonzero(std::int64_t low, std::int64_t high) {
    std::int64_t n = in(low, high);
    while (n == 0)
        n = in(low, high);
    return n;
}

std::string_view Draw::name() {
    static constexpr std::array<std::string_view, 32> names{
        "Amara", "Bo",    "Chidi", "Dara",  "Elif",  "Farid", "Greta", "Hana",
        "Ines",  "Jonas", "Kofi",  "Lena",  "Mateo", "Nadia", "Omar",  "Priya",
        "Quinn", "Rosa",  "Sam",   "Tomas", "Uma",   "Vera",  "Wen",   "Ximena",
        "Yara",  "Zoe",   "Aiko",  "Diego", "Leila", "Malik", "Noor",  "Sven"};
    const std::size_t pick = static_cast<std::size_t>(random_.below(names.size() - 1));
    last_name_ = pick >= last_name_ ? pick + 1 : pick;
    return names[last_name_];
}

namespace {

std::string linear(const Exact& a, std::string_view letter, const Exact& b, bool for_people) {
    const auto number = [&](const Exact& x) { return for_people ? fraction_text(x) : math(x); };
    const std::string minus = for_people ? "−" : "-";
    std::string out;
    if (a != Exact(0)) {
        if (a < Exact(0)) out += minus;
        if (abs(a) != Exact(1))
            out +=
                (a.whole() ? number(abs(a)) : "(" + number(abs(a)) + ")") + (for_people ? "" : "*");
        out += letter;
    }
    if (b == Exact(0) && !out.empty()) return out;
    if (out.empty()) return number(b);
    const std::string sign = b < Exact(0) ? minus : "+";
    return out + (for_people ? " " + sign + " " : sign) + number(abs(b));
}

}  // namespace

std::string linear_text(const Exact& a, std::string_view letter, const Exact& b) {
    return linear(a, letter, b, true);
}

std::string linear_math(const Exact& a, std::string_view letter, const Exact& b) {
    return linear(a, letter, b, false);
}

std::string point_text(const Exact& x, const Exact& y) {
    return say("(", x, ", ", y, ")");
}

void Draft::ask(std::string prompt, std::string prompt_math) {
    card_.prompt = std::move(prompt);
    card_.prompt_math = std::move(prompt_math);
}

void Draft::show(Show how, std::string after, std::string before) {
    how_ = how;
    after_ = std::move(after);
    before_ = std::move(before);
}

void Draft::show_letter(std::string_view letter, Show how) {
    show(how, "", std::string(letter) + " = ");
    math_before_ = std::string(letter) + "=";
}

namespace {

/// "17.5", or "(32/3)" when the decimal does not end.
std::string factor_text(const Exact& x) {
    return x.ends() ? decimal_text(x) : "(" + fraction_text(x) + ")";
}

}  // namespace

void Draft::show_times_pi(std::string_view unit) {
    show(factor_text, "π" + std::string(unit));
    math_after_ = "*pi";
}

std::string Draft::shown_math(const Exact& value) const {
    return math_before_ + (math_after_.empty() ? math(value) : math_in(value) + math_after_);
}

std::string Draft::shown(const Exact& value) const {
    return before_ + how_(value) + after_;
}

bool Draft::showable(const Exact& value) const {
    if (!value.defined()) return false;
    if (how_ == money_text) return (value * Exact(100)).whole();
    if (how_ == decimal_text) return value.ends() && (value * Exact(1'000'000)).whole();
    return value.bottom() < 10'000;
}

void Draft::answer(const Exact& value) {
    if (!showable(value)) broken_ = true;
    answer(shown(value), shown_math(value));
}

void Draft::answer(std::string text, std::string text_math) {
    card_.answer = std::move(text);
    card_.answer_math = std::move(text_math);
}

void Draft::slip(const SlipInfo& slip, const Exact& value) {
    slip_as(slip, how_(value), value);
}

void Draft::slip_as(const SlipInfo& slip, const std::string& text, const Exact& value) {
    ++tried_;
    if (showable(value))
        card_.slips.push_back({slip.id, before_ + text + after_, shown_math(value)});
}

void Draft::slip(const SlipInfo& slip, std::string text, std::string text_math) {
    ++tried_;
    card_.slips.push_back({slip.id, std::move(text), std::move(text_math)});
}

Draft::Verdict Draft::verdict() {
    if (broken_ || card_.prompt.empty() || card_.answer_math.empty()) return Verdict::broken;
    const std::vector<WrongAnswer> all = card_.slips;
    const auto tells = [&](const WrongAnswer& wrong) {
        return wrong.answer_math != card_.answer_math && wrong.answer != card_.answer &&
               std::count_if(all.begin(), all.end(), [&](const WrongAnswer& other) {
                   return other.answer_math == wrong.answer_math || other.answer == wrong.answer;
               }) == 1;
    };
    std::erase_if(card_.slips, [&](const WrongAnswer& wrong) { return !tells(wrong); });
    if (card_.slips.size() == tried_ && tried_ > 0) return Verdict::full;
    return card_.slips.empty() ? Verdict::broken : Verdict::partial;
}

}  // namespace tallyround::cards
