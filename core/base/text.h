#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace tallyround::base {

/// True when the bytes are well-formed UTF-8 (Unicode 15, table 3-7: no surrogates, no overlongs).
bool is_utf8(std::string_view bytes);

/// The code point at `at`, advancing `at` past it; U+FFFD and one byte on for a malformed byte.
/// Requires at < text.size().
char32_t next_code_point(std::string_view text, std::size_t& at);

/// Appends one code point as UTF-8.
void append_utf8(std::string& out, char32_t code_point);

/// Number of code points.
std::size_t length(std::string_view utf8);

/// At most `limit` code points, never cutting one in two.
std::string first_code_points(std::string_view utf8, std::size_t limit);

/// White space (ASCII and U+00A0, U+3000) cut off both ends.
std::string trim(std::string_view utf8);

/// Trimmed, control characters removed, runs of white space made one space: a name as it is kept.
std::string tidy_line(std::string_view utf8);

/// "1 student", "2 students".
std::string count_of(std::size_t n, std::string_view one, std::string_view many);

/// The lines of a text, without their newlines: one more than it has newlines.
std::vector<std::string_view> lines_of(std::string_view text);

/// "a", "a and b", "a, b and c"; `last` stands before the last one.
template <class Strings>
std::string list_of(const Strings& items, std::string_view last = " and ") {
    std::string out;
    std::size_t i = 0;
    const std::size_t n = items.size();
    for (const auto& item : items) {
        if (i > 0) out += i + 1 == n ? last : std::string_view(", ");
        out += item;
        ++i;
    }
    return out;
}

}  // namespace tallyround::base
