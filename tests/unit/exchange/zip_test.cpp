#include "exchange/zip.h"

#include <doctest/doctest.h>

#include <string>

#include "../../support/zip_file.h"

using namespace tallyround::exchange;
using tallyround::testing::zip_of;

namespace {

template <std::size_t N>
std::string bytes(const char (&text)[N]) {
    return {text, N - 1};
}

}  // namespace

TEST_CASE("stored and fixed blocks are unpacked as zlib wrote them") {
    // Dynamic ones: tests/outside/oneroster.test.mjs.
    const auto unpacked = [](const std::string& packed, const std::string& text) {
        const std::string zip = zip_of({{"u", packed, 0, 8, text.size(), text}});
        const auto entries = read_zip(zip);
        REQUIRE(entries);
        return unzip(zip, entries->front());
    };
    const std::string stored = bytes(
        "\x01\x03\x00\xfc\xff"
        "abc");
    CHECK(unpacked(stored, "abc") == "abc");
    CHECK(unpacked(bytes("\x4b\x04\x00"), "a") == "a");
    const std::string aaaaa = bytes("\x4b\x4c\x04\x02\x00");
    CHECK(unpacked(aaaaa, "aaaaa") == "aaaaa");
    CHECK(unpacked(aaaaa, "aaaa") == "aaaa");  // no more than is stated

    const auto damaged = [&](const std::string& packed, const std::string& text) {
        const auto out = unpacked(packed, text);
        return !out && out.error().text() == "u: It is damaged. Make the zip file again.";
    };
    CHECK(damaged(aaaaa, "aaaab"));   // another check sum
    CHECK(damaged(aaaaa, "aaaaaa"));  // less than is stated
    CHECK(damaged(aaaaa.substr(0, 3), "aaaaa"));
    CHECK(damaged("\x07", "aaaaa"));  // block of no kind
    CHECK(damaged(bytes("\x01\x03\x00\xfc\xfe"
                        "abc"),
                  "abc"));  // lengths that disagree
    // A copy from further back than there is anything: "a", then 3 letters from 2 back.
    CHECK(damaged(bytes("\x4b\x04\x42\x00"), "aaaa"));
}

TEST_CASE("the directory of a zip file is read, folders cut off names") {
    const std::string zip = zip_of({{"export/", ""},
                                    {"export/users.csv", "a,b\n"},
                                    {"..\\..\\classes.csv", "c"},
                                    {"/etc/passwd", "d"}});
    CHECK(looks_like_zip(zip));
    CHECK_FALSE(looks_like_zip("PKs are names"));
    const auto entries = read_zip(zip);
    REQUIRE(entries);
    REQUIRE(entries->size() == 3);
    CHECK((*entries)[0].name == "users.csv");
    CHECK((*entries)[1].name == "classes.csv");
    CHECK((*entries)[2].name == "passwd");
    CHECK(unzip(zip, (*entries)[0]) == "a,b\n");
}

TEST_CASE("what is no good is refused with the file's name and what to do") {
    const auto why = [](const std::string& zip, const ZipLimits& limits = {}) {
        const auto entries = read_zip(zip, limits);
        return entries ? std::string() : entries.error().text();
    };
    const std::string good = zip_of({{"users.csv", "a"}});
    for (std::size_t n = 0; n < good.size(); ++n)
        CHECK(!why(good.substr(0, n)).empty());
    CHECK(why(zip_of({{"users.csv", "a", 1}})).find("password") != std::string::npos);
    CHECK(why(zip_of({{"users.csv", "a", 0, 12}})).find("users.csv") == 0);
    CHECK(why(zip_of({{"a/x.csv", "a"}, {"b/x.csv", "b"}})).find("two files") != std::string::npos);
    ZipLimits small;
    small.entries = 1;
    CHECK(why(zip_of({{"a", "a"}, {"b", "b"}}), small).find("at most 1") != std::string::npos);
    small = {};
    small.file_bytes = 10;
    CHECK(!why(good, small).empty());
    // A comment that is not there to its end.
    std::string comment = good + "note";
    comment[good.size() - 2] = 4;
    CHECK(why(comment).empty());
    comment.pop_back();
    CHECK(why(comment).find("not whole") != std::string::npos);
    // The first of two disks.
    std::string parts = good;
    parts[parts.size() - 22 + 4] = 1;
    CHECK(why(parts).find("in one part") != std::string::npos);
    // Bombs by what they state: one entry, all together, and out of proportion.
    const std::size_t mb = std::size_t{1} << 20U;
    CHECK(why(zip_of({{"u", "a", 0, 8, 33 * mb}})).find("32 MB") != std::string::npos);
    CHECK(why(zip_of({{"u", "a", 0, 8, 2 * mb}})).find("200 to 1") != std::string::npos);
    small = {};
    small.total_bytes = mb;
    const std::string half(600'000, 'x');
    CHECK(why(zip_of({{"a", half}, {"b", half}}), small).find("1 MB") != std::string::npos);
}

TEST_CASE("an entry that lies about itself is damaged") {
    const auto unpacked = [](const std::string& zip) {
        const auto entries = read_zip(zip);
        REQUIRE(entries);
        return bool(unzip(zip, entries->front()));
    };
    CHECK(unpacked(zip_of({{"u", "abc"}})));
    CHECK_FALSE(unpacked(zip_of({{"u", "abc", 0, 0, 2}})));
    CHECK_FALSE(unpacked(zip_of({{"u", "abc", 0, 8}})));
    std::string turned = zip_of({{"u", "abc"}});
    turned[turned.find("abc")] = 'x';
    CHECK_FALSE(unpacked(turned));
}
