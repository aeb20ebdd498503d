#include "exchange/encoding.h"

#include <algorithm>
#include <array>
#include <cstdint>

#include "base/text.h"

namespace tallyround::exchange {

namespace {

using base::fail;
using base::Result;

/// Windows-1252, 80 … 9F; 0 where nothing is defined. The rest of the code page is Latin-1.
constexpr std::array<char16_t, 32> cp1252_upper{
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

std::string line_of(std::string_view text) {
    return "line " + std::to_string(1 + std::count(text.begin(), text.end(), '\n'));
}

tl::unexpected<base::Error> not_text(std::string where) {
    return fail(std::move(where),
                "This is not a text file (it has NUL characters). Save the list as CSV or as "
                "plain text and choose that file.");
}

Result<std::string> from_utf16(std::string_view bytes, bool little) {
    std::string out;
    out.reserve(bytes.size() / 2 * 3);
    const auto unit = [&](std::size_t at) {
        const auto a = static_cast<unsigned char>(bytes[at]);
        const auto b = static_cast<unsigned char>(bytes[at + 1]);
        return static_cast<char32_t>(little ? a | (b << 8U) : b | (a << 8U));
    };
    const auto broken = [&] {
        return fail(line_of(out),
                    "The UTF-16 text is damaged here (half a character). Save the file again, "
                    "as UTF-8 if you can choose.");
    };
    for (std::size_t at = 0; at < bytes.size(); at += 2) {
        if (at + 1 == bytes.size()) return broken();
        char32_t c = unit(at);
        if (c == 0) return not_text(line_of(out));
        if (c >= 0xDC00 && c <= 0xDFFF) return broken();
        if (c >= 0xD800 && c <= 0xDBFF) {
            if (at + 3 >= bytes.size()) return broken();
            const char32_t low = unit(at + 2);
            if (low < 0xDC00 || low > 0xDFFF) return broken();
            c = 0x10000 + ((c - 0xD800) << 10U) + (low - 0xDC00);
            at += 2;
        }
        base::append_utf8(out, c);
    }
    return out;
}

Result<std::string> from_windows_1252(std::string_view bytes) {
    std::string out;
    out.reserve(bytes.size() + bytes.size() / 8);
    for (const char byte : bytes) {
        const auto b = static_cast<unsigned char>(byte);
        const bool upper = b >= 0x80 && b <= 0x9F;
        const char32_t c = upper ? cp1252_upper[b - 0x80U] : b;
        if (c == 0) {
            return fail(line_of(out),
                        "There are bytes here that are neither UTF-8 nor Windows-1252 text. Save "
                        "the file again as \"CSV UTF-8\" or as plain text in UTF-8.");
        }
        base::append_utf8(out, c);
    }
    return out;
}

Result<std::string> checked_utf8(std::string_view bytes) {
    std::size_t at = 0;
    while (at < bytes.size()) {
        const std::size_t start = at;
        const char32_t c = base::next_code_point(bytes, at);
        if (c == 0xFFFD && bytes.substr(start, at - start) != "\xEF\xBF\xBD") {
            return fail(line_of(bytes.substr(0, start)),
                        "The file says it is UTF-8 but has other bytes here. Save it again as "
                        "UTF-8.");
        }
    }
    return std::string(bytes);
}

Result<Decoded> labelled(Result<std::string> text, Encoding encoding) {
    if (!text) return tl::make_unexpected(text.error());
    return Decoded{*std::move(text), encoding};
}

/// UTF-16 without a mark: Latin letters, digits, separators and line ends have a zero byte on
/// one side.
Result<Decoded> guess_utf16(std::string_view bytes) {
    std::array<std::size_t, 2> zeros{};
    for (std::size_t at = 0; at < bytes.size(); ++at)
        zeros[at % 2] += bytes[at] == '\0' ? 1 : 0;
    const bool little = zeros[1] > zeros[0];
    // ASCII with a stray NUL is no UTF-16: there, every pair would have its zero.
    const bool ascii = std::all_of(bytes.begin(), bytes.end(),
                                   [](char c) { return static_cast<unsigned char>(c) < 0x80; });
    const bool stray = ascii && std::max(zeros[0], zeros[1]) * 4 < bytes.size();
    const bool paired = zeros[0] != zeros[1] && !stray;
    const std::size_t first = bytes.find('\0');
    if (!paired) return not_text(line_of(bytes.substr(0, first)));
    auto text = from_utf16(bytes, little);
    if (!text) return not_text(line_of(bytes.substr(0, first)));
    return Decoded{*std::move(text), little ? Encoding::utf16le : Encoding::utf16be};
}

}  // namespace

std::string_view name_of(Encoding encoding) {
    switch (encoding) {
        case Encoding::utf16le:
            return "utf-16le";
        case Encoding::utf16be:
            return "utf-16be";
        case Encoding::windows_1252:
            return "windows-1252";
        case Encoding::utf8:
            break;
    }
    return "utf-8";
}

base::Result<Decoded> to_utf8(std::string_view bytes) {
    if (bytes.starts_with("\xEF\xBB\xBF")) {
        const std::string_view text = bytes.substr(3);
        const std::size_t nul = text.find('\0');
        if (nul != std::string_view::npos) return not_text(line_of(text.substr(0, nul)));
        return labelled(checked_utf8(text), Encoding::utf8);
    }
    if (bytes.starts_with("\xFF\xFE")) {
        return labelled(from_utf16(bytes.substr(2), true), Encoding::utf16le);
    }
    if (bytes.starts_with("\xFE\xFF")) {
        return labelled(from_utf16(bytes.substr(2), false), Encoding::utf16be);
    }
    if (bytes.find('\0') != std::string_view::npos) return guess_utf16(bytes);
    if (base::is_utf8(bytes)) return Decoded{std::string(bytes), Encoding::utf8};
    return labelled(from_windows_1252(bytes), Encoding::windows_1252);
}

}  // namespace tallyround::exchange
