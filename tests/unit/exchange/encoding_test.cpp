#include "exchange/encoding.h"

#include <doctest/doctest.h>

using namespace tallyround;
using exchange::Encoding;
using exchange::to_utf8;
using namespace std::string_literals;

TEST_CASE("a byte order mark decides and is left out") {
    const auto utf8 = to_utf8("\xEF\xBB\xBFZo\xC3\xAB");
    REQUIRE(utf8);
    CHECK(utf8->text == "Zoë");
    CHECK(utf8->encoding == Encoding::utf8);
    const auto little = to_utf8("\xFF\xFEZ\0o\0\xEB\0"s);
    REQUIRE(little);
    CHECK(little->text == "Zoë");
    CHECK(little->encoding == Encoding::utf16le);
    const auto big = to_utf8("\xFE\xFF\0Z\0o\0\xEB"s);
    REQUIRE(big);
    CHECK(big->text == "Zoë");
    CHECK(big->encoding == Encoding::utf16be);
}

TEST_CASE("UTF-16 without a mark is known by its zero bytes") {
    const auto little = to_utf8("A\0n\0a\0\n\0\x4B\x67"s);
    REQUIRE(little);
    CHECK(little->text == "Ana\n\u674B");
    CHECK(little->encoding == Encoding::utf16le);
    const auto big = to_utf8("\0A\0n\0a\0\n\x67\x4B"s);
    REQUIRE(big);
    CHECK(big->text == "Ana\n\u674B");
    CHECK(big->encoding == Encoding::utf16be);
}

TEST_CASE("a surrogate pair is one character; half of one is an error with its line") {
    const auto pair = to_utf8("\xFF\xFE\x3D\xD8\x00\xDE"s);
    REQUIRE(pair);
    CHECK(pair->text == "\U0001F600");
    for (const auto& broken :
         {"\xFF\xFE\n\0\x3D\xD8"s, "\xFF\xFE\n\0\x3D\xD8x\0"s, "\xFF\xFE\n\0\x00\xDE"s,
          "\xFF\xFE\n\0\x3D\xD8\x00\xE0"s, "\xFF\xFE\n\0x"s, "\xFE\xFF\0\n\xDE\x00"s}) {
        const auto text = to_utf8(broken);
        REQUIRE_FALSE(text);
        CHECK(text.error().where == "line 2");
        CHECK(text.error().message.find("UTF-16") != std::string::npos);
    }
}

TEST_CASE("what is not UTF-8 is Windows-1252, and its undefined bytes are refused with the line") {
    const auto text = to_utf8("Jos\xE9 \x96 \x80 \x9Eizn\xFF");
    REQUIRE(text);
    CHECK(text->text == "José – € žiznÿ");
    CHECK(text->encoding == Encoding::windows_1252);
    for (const char* bytes : {"a\nb\x81", "a\n\x8D", "a\n\x8F", "a\n\x90", "a\n\x9D"}) {
        const auto bad = to_utf8(bytes);
        REQUIRE_FALSE(bad);
        CHECK(bad.error().where == "line 2");
        CHECK(bad.error().message.find("UTF-8") != std::string::npos);
    }
}

TEST_CASE("valid UTF-8 is never taken for something else") {
    for (const char* text : {"", "Ana", "Zoë", "Ωμέγα", "\U0001F600", "\u0391\n\u4E2D"}) {
        const auto out = to_utf8(text);
        REQUIRE(out);
        CHECK(out->text == text);
        CHECK(out->encoding == Encoding::utf8);
    }
}

TEST_CASE("a file with NUL bytes that is no UTF-16 is not text") {
    for (const auto& bytes : {"Ana\0Bo"s, "\0"s, "\0\0"s,
                              "\xEF\xBB\xBF"
                              "A\0"s,
                              "\xFF\xFE\0\0"s, "ab\0\0cd"s, "A\0n\0a"s}) {
        const auto out = to_utf8(bytes);
        REQUIRE_FALSE(out);
        CHECK(out.error().message.find("not a text file") != std::string::npos);
    }
}

TEST_CASE("a UTF-8 mark before other bytes is refused with the line") {
    const auto out = to_utf8(
        "\xEF\xBB\xBF"
        "Ana\nJos\xE9\n");
    REQUIRE_FALSE(out);
    CHECK(out.error().where == "line 2");
    // The replacement character itself is well-formed.
    CHECK(to_utf8("\xEF\xBB\xBF\uFFFD"));
}

TEST_CASE("encodings have the names of the WHATWG standard") {
    CHECK(name_of(Encoding::utf8) == "utf-8");
    CHECK(name_of(Encoding::utf16le) == "utf-16le");
    CHECK(name_of(Encoding::utf16be) == "utf-16be");
    CHECK(name_of(Encoding::windows_1252) == "windows-1252");
}
