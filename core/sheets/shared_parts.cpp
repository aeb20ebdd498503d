#include <algorithm>
#include <cctype>

#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

std::string ring(int number, double size) {
    const std::string text = std::to_string(number);
    const double points = size / mm_of_pt * (text.size() > 1 ? 0.5 : 0.6);
    return "<span class=\"ring\" style=\"width:" + mm(size) + ";height:" + mm(size) +
           ";border-width:" + mm(std::clamp(size * 0.06, 0.5, 3.5)) + ";font-size:" + pt(points) +
           ";line-height:1\">" + text + "</span>";
}

std::string tick(double size) {
    return "<span class=\"tick\" style=\"width:" + mm(size) + ";height:" + mm(size) + "\"></span>";
}

std::string tier_dots(cards::Tier tier, double size) {
    const int filled = int(tier) + 1;
    const double step = size * 1.35;
    std::string out = "<svg width=\"" + mm(step * 3) + "\" height=\"" + mm(size) +
                      "\" viewBox=\"0 0 405 100\" role=\"img\" aria-label=\"" +
                      std::to_string(filled) + " of 3 dots\">";
    for (int i = 0; i < 3; ++i) {
        out += "<circle cx=\"" + std::to_string(60 + i * 135) +
               "\" cy=\"50\" r=\"42\" stroke=\"#111\" stroke-width=\"12\" fill=\"" +
               (i < filled ? "#111" : "#fff") + "\"/>";
    }
    return out + "</svg>";
}

void title_block(Pages& pages, std::string_view text, double largest) {
    double size = fitting_size(text, pages.width(), 2, largest, 16, true);
    if (size == 0) size = 16;
    const Face face{size, true};
    const double line = size * mm_of_pt * 1.15;
    const std::string words = shortened(text, pages.width(), 3, face);
    const double height = lines_of(words, pages.width(), face) * line;
    pages.add(line_box("h1", face, line, words), height);
    pages.add("<div class=\"band\" style=\"height:4mm;margin-top:2mm\"></div>", 6);
}

namespace {

bool is_digit(std::string_view text, std::size_t at) {
    return at < text.size() && text[at] >= '0' && text[at] <= '9';
}

/// Length of "12/35" at `at`, or 0: digits on both sides and nothing that makes it a date or a
/// path.
std::size_t fraction_at(std::string_view text, std::size_t at, std::size_t& slash) {
    if (!is_digit(text, at)) return 0;
    if (at > 0) {
        const char before = text[at - 1];
        if (is_digit(text, at - 1) || before == '/' || before == '.' || before == ',' ||
            std::isalpha(static_cast<unsigned char>(before)) != 0)
            return 0;
    }
    std::size_t i = at;
    while (is_digit(text, i))
        ++i;
    if (i >= text.size() || text[i] != '/') return 0;
    slash = i++;
    const std::size_t bottom = i;
    while (is_digit(text, i))
        ++i;
    if (i == bottom) return 0;
    const bool goes_on =
        i < text.size() && (text[i] == '/' || (text[i] == '.' && is_digit(text, i + 1)));
    return goes_on ? 0 : i - at;
}

}  // namespace

bool has_fraction(std::string_view text) {
    std::size_t slash = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (fraction_at(text, i, slash) > 0) return true;
    return false;
}

double math_line(std::string_view text, double points) {
    return points * mm_of_pt * (has_fraction(text) ? 2.15 : 1.32);
}

std::string math_html(std::string_view text) {
    std::string out;
    std::size_t plain = 0;
    for (std::size_t i = 0; i < text.size();) {
        std::size_t slash = 0;
        const std::size_t n = fraction_at(text, i, slash);
        if (n == 0) {
            ++i;
            continue;
        }
        out += escape_html(text.substr(plain, i - plain));
        out += "<span class=\"fr\"><span>" + std::string(text.substr(i, slash - i)) +
               "</span><span>" + std::string(text.substr(slash + 1, i + n - slash - 1)) +
               "</span></span>";
        i += n;
        plain = i;
    }
    return out + escape_html(text.substr(plain));
}

std::string_view caution_for(std::string_view center_kind) {
    if (center_kind == "build") {
        return "No food as counters where anyone may have an allergy: follow your school's policy. "
               "Scissors and small parts only as your school allows.";
    }
    if (center_kind == "game") {
        return "Dice and counters are small parts: use them as your school allows, and no food as "
               "counters where anyone may have an allergy.";
    }
    if (center_kind == "match" || center_kind == "cards" || center_kind == "words") {
        return "If students cut cards themselves: scissors as your school allows.";
    }
    return {};
}

}  // namespace tallyround::sheets
