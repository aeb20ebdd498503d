#include "base/text.h"

namespace tallyround::base {

namespace {

struct Decoded {
    char32_t code_point = 0xFFFD;
    std::size_t size = 1;
    bool good = false;
};

Decoded decode(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(at);
    if (lead < 0x80) return {lead, 1, true};
    std::size_t size = 0;
    char32_t value = 0;
    unsigned char low = 0x80;
    unsigned char high = 0xBF;
    if (lead >= 0xC2 && lead <= 0xDF) {
        size = 2;
        value = lead & 0x1FU;
    } else if (lead >= 0xE0 && lead <= 0xEF) {
        size = 3;
        value = lead & 0x0FU;
        if (lead == 0xE0) low = 0xA0;
        if (lead == 0xED) high = 0x9F;
    } else if (lead >= 0xF0 && lead <= 0xF4) {
        size = 4;
        value = lead & 0x07U;
        if (lead == 0xF0) low = 0x90;
        if (lead == 0xF4) high = 0x8F;
    } else {
        return {};
    }
    if (at + size > text.size()) return {};
    for (std::size_t i = 1; i < size; ++i) {
        const unsigned char next = byte(at + i);
        if (next < low || next > high) return {};
        value = (value << 6U) | (next & 0x3FU);
        low = 0x80;
        high = 0xBF;
    }
    return {value, size, true};
}

bool is_space(char32_t c) {
    return c == ' ' || (c >= 0x09 && c <= 0x0D) || c == 0xA0 || c == 0x3000;
}

}  // namespace

bool is_utf8(std::string_view bytes) {
    for (std::size_t at = 0; at < bytes.size();) {
        const Decoded d = decode(bytes, at);
        if (!d.good) return false;
        at += d.size;
    }
    return true;
}

char32_t next_code_point(std::string_view text, std::size_t& at) {
    const Decoded d = decode(text, at);
    at += d.size;
    return d.code_point;
}

void append_utf8(std::string& out, char32_t c) {
    const auto put = [&](char32_t byte) { out += static_cast<char>(byte); };
    if (c < 0x80) {
        put(c);
    } else if (c < 0x800) {
        put(0xC0U | (c >> 6U));
        put(0x80U | (c & 0x3FU));
    } else if (c < 0x10000) {
        put(0xE0U | (c >> 12U));
        put(0x80U | ((c >> 6U) & 0x3FU));
        put(0x80U | (c & 0x3FU));
    } else {
        put(0xF0U | (c >> 18U));
        put(0x80U | ((c >> 12U) & 0x3FU));
        put(0x80U | ((c >> 6U) & 0x3FU));
        put(0x80U | (c & 0x3FU));
    }
}

std::size_t length(std::string_view utf8) {
    std::size_t n = 0;
    for (std::size_t at = 0; at < utf8.size(); ++n)
        next_code_point(utf8, at);
    return n;
}

std::string first_code_points(std::string_view utf8, std::size_t limit) {
    std::size_t at = 0;
    for (std::size_t n = 0; n < limit && at < utf8.size(); ++n)
        next_code_point(utf8, at);
    return std::string(utf8.substr(0, at));
}

std::string trim(std::string_view utf8) {
    std::size_t first = utf8.size();
    std::size_t last = 0;
    for (std::size_t at = 0; at < utf8.size();) {
        const std::size_t start = at;
        if (!is_space(next_code_point(utf8, at))) {
            if (first == utf8.size()) first = start;
            last = at;
        }
    }
    return first == utf8.size() ? std::string() : std::string(utf8.substr(first, last - first));
}

std::string tidy_line(std::string_view utf8) {
    std::string out;
    bool gap = false;
    for (std::size_t at = 0; at < utf8.size();) {
        const char32_t c = next_code_point(utf8, at);
        if (is_space(c)) {
            gap = true;
            continue;
        }
        // C0, DEL, C1 and the bidirectional overrides, which could reorder a neighbour's text.
        const bool control = c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0xFEFF ||
                             (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
        if (control) continue;
        if (gap && !out.empty()) out += ' ';
        gap = false;
        append_utf8(out, c);
    }
    return out;
}

std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (true) {
        const std::size_t end = text.find('\n');
        lines.push_back(text.substr(0, end));
        if (end == std::string_view::npos) return lines;
        text.remove_prefix(end + 1);
    }
}

std::string count_of(std::size_t n, std::string_view one, std::string_view many) {
    return std::to_string(n) + " " + std::string(n == 1 ? one : many);
}

}  // namespace tallyround::base
