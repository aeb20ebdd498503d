#include "base/search.h"

#include <algorithm>

#include "base/text.h"

namespace tallyround::base {

namespace {

/// Base letters of U+00C0 to U+024F and of U+1E00 to U+1EFF; '-' where there is none (Unicode
/// Character Database, canonical decompositions; compared with Python's unicodedata by
/// tests/reference/base).
constexpr std::string_view latin =
    "aaaaaa-ceeeeiiii-nooooo--uuuuy--aaaaaa-ceeeeiiii-nooooo--uuuuy-yaaaaaaccccccccdd"
    "--eeeeeeeeeegggggggghh--iiiiiiiii---jjkk-llllll----nnnnnn---oooooo--rrrrrrssssss"
    "sstttt--uuuuuuuuuuuuwwyyyzzzzzzs--------------------------------oo-------------u"
    "u----------------------------aaiioouuuuuuuuuu-aaaa----ggkkoooo--j---gg--nnaa----"
    "aaaaeeeeiiiioooorrrruuuusstt--hh------aaeeooooooooyy----------------------------";

constexpr std::string_view latin_more =
    "aabbbbbbccddddddddddeeeeeeeeeeffgghhhhhhhhhhiiiikkkkkkllllllllmmmmmmnnnnnnnnoooo"
    "oooopppprrrrrrrrssssssssssttttttttuuuuuuuuuuvvvvwwwwwwwwwwxxxxyyzzzzzzhtwy-s----"
    "aaaaaaaaaaaaaaaaaaaaaaaaeeeeeeeeeeeeeeeeiiiioooooooooooooooooooooooouuuuuuuuuuuu"
    "uuyyyyyyyy------";

/// Letters that Unicode does not take apart, as they are mostly typed without their key.
std::string_view own_spelling(char32_t c) {
    switch (c) {
        case 0xC6:
        case 0xE6:
            return "ae";
        case 0x152:
        case 0x153:
            return "oe";
        case 0xD8:
        case 0xF8:
            return "o";
        case 0xD0:
        case 0xF0:
        case 0x110:
        case 0x111:
            return "d";
        case 0xDE:
        case 0xFE:
            return "th";
        case 0xDF:
        case 0x1E9E:
            return "ss";
        case 0x126:
        case 0x127:
            return "h";
        case 0x131:
            return "i";
        case 0x141:
        case 0x142:
            return "l";
        case 0x166:
        case 0x167:
            return "t";
        default:
            return "";
    }
}

/// Marks over and under letters: general, Hebrew points, Arabic vowel signs.
bool is_mark(char32_t c) {
    return (c >= 0x300 && c <= 0x36F) || (c >= 0x591 && c <= 0x5BD) || c == 0x5BF || c == 0x5C1 ||
           c == 0x5C2 || (c >= 0x64B && c <= 0x65F) || c == 0x670;
}

char32_t greek(char32_t c) {
    switch (c) {
        case 0x386:
        case 0x3AC:
            return 0x3B1;
        case 0x388:
        case 0x3AD:
            return 0x3B5;
        case 0x389:
        case 0x3AE:
            return 0x3B7;
        case 0x38A:
        case 0x390:
        case 0x3AA:
        case 0x3AF:
        case 0x3CA:
            return 0x3B9;
        case 0x38C:
        case 0x3CC:
            return 0x3BF;
        case 0x38E:
        case 0x3AB:
        case 0x3B0:
        case 0x3CB:
        case 0x3CD:
            return 0x3C5;
        case 0x38F:
        case 0x3CE:
            return 0x3C9;
        case 0x3C2:
            return 0x3C3;
        default:
            return c >= 0x391 && c <= 0x3A9 ? c + 0x20 : c;
    }
}

char32_t cyrillic(char32_t c) {
    if (c >= 0x400 && c <= 0x40F) c += 0x50;
    if (c >= 0x410 && c <= 0x42F) c += 0x20;
    switch (c) {
        case 0x439:
        case 0x45D:
            return 0x438;
        case 0x450:
        case 0x451:
            return 0x435;
        case 0x453:
            return 0x433;
        case 0x457:
            return 0x456;
        case 0x45C:
            return 0x43A;
        case 0x45E:
            return 0x443;
        default:
            return c;
    }
}

void append_searchable(std::string& out, char32_t c) {
    if (is_mark(c)) return;
    if (c >= 'A' && c <= 'Z') c += 0x20;
    const char letter = c >= 0xC0 && c < 0xC0 + latin.size()            ? latin[c - 0xC0]
                        : c >= 0x1E00 && c < 0x1E00 + latin_more.size() ? latin_more[c - 0x1E00]
                                                                        : '-';
    const std::string_view own = own_spelling(c);
    if (!own.empty()) {
        out += own;
    } else if (c >= 0x80 && letter != '-') {
        out += letter;
    } else if (c >= 0x386 && c <= 0x3CE) {
        append_utf8(out, greek(c));
    } else if (c >= 0x400 && c <= 0x45F) {
        append_utf8(out, cyrillic(c));
    } else {
        append_utf8(out, c);
    }
}

}  // namespace

std::string searchable(std::string_view utf8) {
    std::string out;
    for (std::size_t at = 0; at < utf8.size();)
        append_searchable(out, next_code_point(utf8, at));
    return out;
}

bool finds(std::string_view text, std::string_view query) {
    const std::string where = searchable(text);
    const std::string what = searchable(tidy_line(query));
    for (std::size_t at = 0; at < what.size();) {
        const std::size_t end = std::min(what.find(' ', at), what.size());
        if (where.find(what.substr(at, end - at)) == std::string::npos) return false;
        at = end + 1;
    }
    return true;
}

}  // namespace tallyround::base
