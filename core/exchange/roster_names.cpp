#include "exchange/roster_names.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace tallyround::exchange {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// Han, Hiragana, Katakana and Hangul (Unicode 15 blocks that names are written in).
bool is_east_asian(char32_t c) {
    return (c >= 0x3005 && c <= 0x3007) || (c >= 0x3040 && c <= 0x30FF) ||
           (c >= 0x3400 && c <= 0x4DBF) || (c >= 0x4E00 && c <= 0x9FFF) ||
           (c >= 0xAC00 && c <= 0xD7A3) || (c >= 0xF900 && c <= 0xFAFF) ||
           (c >= 0x20000 && c <= 0x323AF);
}

bool all_east_asian(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        if (!is_east_asian(base::next_code_point(text, at))) return false;
    }
    return !text.empty();
}

/// Spaces that tidy_line leaves, zero-width and direction signs, soft hyphen.
bool is_invisible(char32_t c) {
    return c == 0xA0 || c == 0xAD || c == 0x34F || c == 0x61C || (c >= 0x2000 && c <= 0x200F) ||
           (c >= 0x2028 && c <= 0x202F) || (c >= 0x205F && c <= 0x206F) || c == 0x3000 ||
           c == 0xFEFF;
}

/// Without "<…@…>".
std::string without_address(std::string_view text) {
    const std::size_t open = text.find('<');
    if (open == std::string_view::npos) return std::string(text);
    const std::size_t close = text.find('>', open);
    if (close == std::string_view::npos) return std::string(text);
    if (text.substr(open, close - open).find('@') == std::string_view::npos) {
        return std::string(text);
    }
    return std::string(text.substr(0, open)) + std::string(text.substr(close + 1));
}

std::string cleaned(std::string_view text) {
    std::string out = base::tidy_line(without_address(text));
    while (!out.empty() && (out.back() == ',' || out.back() == ';' || out.back() == ' '))
        out.pop_back();
    if (out.size() > 1 && out[0] == '\'' && std::string_view("=+-@").find(out[1]) < 4) {
        out.erase(0, 1);
    }
    return out;
}

/// Length of a bullet at the start, or 0.
std::size_t bullet_size(std::string_view line) {
    static constexpr std::array<std::string_view, 13> bullets{
        "-",       // hyphen
        "*",       // asterisk
        "\u2013",  // en dash
        "\u2014",  // em dash
        "\u2022",  // bullet
        "\u00B7",  // middle dot
        "\u25AA",  // small black square
        "\u25CF",  // black circle
        "\u25E6",  // white bullet
        "\u2610",  // ballot box
        "\u2713",  // check mark
        "\u2192",  // arrow
        "\uF0B7",  // what word processors paste for a bullet
    };
    for (const auto bullet : bullets) {
        if (line.starts_with(bullet)) return bullet.size();
    }
    return 0;
}

/// Length of "12.", "12)", "(12)", "#12", "12:" at the start, or 0.
std::size_t number_size(std::string_view line) {
    std::size_t at = 0;
    const bool open = line.starts_with('(');
    const bool hash = line.starts_with('#');
    if (open || hash) ++at;
    const std::size_t first = at;
    while (at < line.size() && is_digit(line[at]))
        ++at;
    if (at == first || at - first > 4) return 0;
    if (at < line.size() && std::string_view(".):").find(line[at]) < 3) return at + 1;
    return hash ? at : 0;
}

}  // namespace

PersonName from_parts(std::string_view given_text, std::string_view family_text) {
    PersonName out{{}, cleaned(given_text), cleaned(family_text)};
    if (out.given.empty() || out.family.empty()) {
        out.name = out.given + out.family;
    } else if (all_east_asian(out.given) && all_east_asian(out.family)) {
        out.name = out.family + out.given;
    } else {
        out.name = out.given + " " + out.family;
    }
    return out;
}

PersonName from_full(std::string_view text, bool split) {
    const std::string whole = cleaned(text);
    const std::size_t comma = whole.find(',');
    if (!split || comma == std::string::npos) return {whole, {}, {}};
    std::string family = base::trim(std::string_view(whole).substr(0, comma));
    std::string given = base::trim(std::string_view(whole).substr(comma + 1));
    const std::size_t second = given.find(',');
    if (second != std::string::npos) {
        const std::string last = base::trim(std::string_view(given).substr(second + 1));
        if (!is_name_suffix(last)) return {whole, {}, {}};
        family += " " + last;
        given = base::trim(std::string_view(given).substr(0, second));
    }
    if (is_name_suffix(given) || family.empty() || given.empty()) return {whole, {}, {}};
    return from_parts(given, family);
}

std::string without_list_mark(std::string_view line) {
    const std::string text = base::trim(line);
    std::string_view rest = text;
    const std::size_t bullet = bullet_size(rest);
    if (bullet > 0) rest.remove_prefix(bullet);
    const std::string after_bullet = base::trim(rest);
    const std::size_t number = number_size(after_bullet);
    return base::trim(std::string_view(after_bullet).substr(number));
}

bool has_name(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const char32_t c = base::next_code_point(text, at);
        const bool ascii_letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if (ascii_letter || (c >= '0' && c <= '9')) return true;
        if (c >= 0x80 && !is_invisible(c)) return true;
    }
    return false;
}

bool is_name_suffix(std::string_view text) {
    static constexpr std::array<std::string_view, 7> known{"jr",  "jr.", "sr", "sr.",
                                                           "iii", "ii",  "iv"};
    const std::string lower = folded(base::tidy_line(text));
    return std::find(known.begin(), known.end(), lower) != known.end();
}

bool has_digit(std::string_view text) {
    return std::any_of(text.begin(), text.end(), is_digit);
}

bool looks_misread(std::string_view name) {
    for (std::size_t at = 0; at < name.size();) {
        const char32_t c = base::next_code_point(name, at);
        const bool latin1_sign =
            c >= 0xA1 && c <= 0xBF && c != 0xAA && c != 0xB7 && c != 0xBA && c != 0xB4 && c != 0xAD;
        const bool sign = latin1_sign || c == 0xD7 || c == 0xF7 || c == 0x192 || c == 0x20AC ||
                          (c >= 0x2020 && c <= 0x2026) || c == 0x2030 || c == 0x2039 ||
                          c == 0x203A || c == 0x2122 || c == 0xFFFD;
        if (sign) return true;
    }
    return false;
}

std::string folded(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        char32_t c = base::next_code_point(text, at);
        const bool upper = (c >= 'A' && c <= 'Z') || (c >= 0xC0 && c <= 0xDE && c != 0xD7);
        if (upper) c += 0x20;
        base::append_utf8(out, c);
    }
    return out;
}

}  // namespace tallyround::exchange
