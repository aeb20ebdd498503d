// The encodings against the C library's own converter (iconv, POSIX), which shares no code with
// the reader.
#include <doctest/doctest.h>
#include <iconv.h>

#include <optional>
#include <string>

#include "base/text.h"
#include "exchange/encoding.h"

using namespace tallyround;

namespace {

std::optional<std::string> converted(std::string bytes, const char* from, const char* to) {
    const iconv_t converter = iconv_open(to, from);
    REQUIRE(converter != reinterpret_cast<iconv_t>(-1));
    std::string out(bytes.size() * 4 + 16, '\0');
    char* in_at = bytes.data();
    std::size_t in_left = bytes.size();
    char* out_at = out.data();
    std::size_t out_left = out.size();
    const std::size_t done = iconv(converter, &in_at, &in_left, &out_at, &out_left);
    iconv_close(converter);
    if (done == static_cast<std::size_t>(-1)) return std::nullopt;
    out.resize(out.size() - out_left);
    return out;
}

}  // namespace

TEST_CASE("every byte of Windows-1252 as iconv has it") {
    int undefined = 0;
    for (int byte = 0x80; byte < 0x100; ++byte) {
        // A letter before and after keeps the byte from being the start of valid UTF-8.
        const std::string bytes = std::string("a") + static_cast<char>(byte) + "z";
        const auto theirs = converted(bytes, "CP1252", "UTF-8");
        const auto ours = exchange::to_utf8(bytes);
        INFO("byte " << byte);
        CHECK(ours.has_value() == theirs.has_value());
        if (ours && theirs) CHECK(ours->text == *theirs);
        if (!ours) ++undefined;
    }
    CHECK(undefined == 5);
}

TEST_CASE("UTF-16 of every plane as iconv writes it") {
    std::string text;
    for (char32_t c = 1; c < 0x110000; c += c < 0x3000 ? 1 : 97) {
        if (c < 0xD800 || c > 0xDFFF) base::append_utf8(text, c);
    }
    for (const bool little : {true, false}) {
        const auto bytes = converted(text, "UTF-8", little ? "UTF-16LE" : "UTF-16BE");
        REQUIRE(bytes);
        const auto ours = exchange::to_utf8((little ? "\xFF\xFE" : "\xFE\xFF") + *bytes);
        REQUIRE(ours);
        CHECK(ours->text == text);
    }
}
