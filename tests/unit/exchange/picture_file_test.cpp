#include "exchange/picture_file.h"

#include <doctest/doctest.h>

#include <string>

using namespace tallyround::exchange;

namespace {

template <std::size_t N>
std::string bytes(const char (&text)[N]) {
    return {text, N - 1};
}

/// Heads of files as the formats' documents lay them out; each shows 640 by 480.
const std::string png = bytes("\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\2\x80\0\0\1\xe0\x8\6\0\0\0");
const std::string jpeg =
    bytes("\xff\xd8\xff\xe0\0\4JF\xff\xdb\0\3x\xff\xff\xc2\0\x11\x8\1\xe0\2\x80\3\1\x22\0\2\x11\1");
const std::string webp_x = bytes("RIFF\0\0\0\0WEBPVP8X\n\0\0\0\0\0\0\0\x7f\2\0\xdf\1\0");
const std::string webp_l = bytes("RIFF\0\0\0\0WEBPVP8L\5\0\0\0\x2f\x7f\xc2\x77\0\0\0\0\0\0\0");
const std::string webp_y = bytes("RIFF\0\0\0\0WEBPVP8 \xa\0\0\0\0\0\0\x9d\1\x2a\x80\2\xe0\1");

}  // namespace

TEST_CASE("the size of a picture is read from its head") {
    for (const std::string& file : {png, jpeg, webp_x, webp_l, webp_y}) {
        const auto picture = read_picture(file);
        REQUIRE(picture);
        CHECK(picture->width == 640);
        CHECK(picture->height == 480);
    }
}

TEST_CASE("what is no picture, is broken or too large is refused with what to do") {
    for (const char* text : {"<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>",
                             "<!doctype html><script>1</script>", "GIF89a", "hello"}) {
        const auto refused = read_picture(text);
        REQUIRE_FALSE(refused);
        CHECK(refused.error().message.find("PNG, JPEG or WebP") != std::string::npos);
    }
    CHECK_FALSE(read_picture(""));
    // Cut off anywhere before the size is known, or nothing but a beginning.
    for (const std::string& file : {png, jpeg, webp_x, webp_l, webp_y}) {
        for (std::size_t n = 0; n < 22; ++n)
            CHECK_FALSE(read_picture(file.substr(0, n)));
    }
    std::string flat = png;
    flat[19] = flat[18] = 0;
    CHECK_FALSE(read_picture(flat));
    std::string vast = png;
    vast[16] = 1;
    CHECK_FALSE(read_picture(vast));
    CHECK(read_picture(png + std::string(max_picture_bytes - png.size(), 'x')));
    const auto heavy = read_picture(png + std::string(max_picture_bytes, 'x'));
    REQUIRE_FALSE(heavy);
    CHECK(heavy.error().message.find("at most 100 KB") != std::string::npos);
}

TEST_CASE("base64 is that of RFC 4648, section 10") {
    CHECK(base64("").empty());
    CHECK(base64("f") == "Zg==");
    CHECK(base64("fo") == "Zm8=");
    CHECK(base64("foo") == "Zm9v");
    CHECK(base64("foob") == "Zm9vYg==");
    CHECK(base64("fooba") == "Zm9vYmE=");
    CHECK(base64("foobar") == "Zm9vYmFy");
    CHECK(base64("\xff\xfe\xfd") == "//79");
}

TEST_CASE("the height is held to the limit, too, and nothing is taken without a size") {
    const auto refused = [](const std::string& file) {
        const auto picture = read_picture(file);
        return !picture && picture.error().message.find("damaged or larger") != std::string::npos;
    };
    std::string file = png;
    file[20] = 1;  // height over 16 million
    CHECK(refused(file));
    file = png;
    file[22] = file[23] = 0;  // none at all
    CHECK(refused(file));
    file = png;
    file[12] = 'J';  // another chunk first
    CHECK(refused(file));
    file = webp_l;
    file[20] = 0;  // not the mark of a lossless one
    CHECK(refused(file));
    file = webp_y;
    file[23] = 0;  // no start code
    CHECK(refused(file));
    file = webp_x;
    file[12] = 'Q';  // a chunk that nobody knows
    CHECK(refused(file));
    CHECK(read_picture(bytes("RIFF\0\0\0\0WAVEfmt \0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0"))
              .error()
              .message.find("PNG, JPEG or WebP") != std::string::npos);
}

TEST_CASE("tables of a JPEG that look like a frame are passed over, a broken walk is refused") {
    const std::string frame = bytes("\xff\xc0\0\x11\x8\1\xe0\2\x80\3\1\x22\0\2\x11\1");
    for (const char* marker : {"\xc4", "\xc8", "\xcc", "\xd9"}) {
        const std::string table = "\xff" + std::string(marker) + bytes("\0\4ab");
        const auto picture = read_picture("\xff\xd8" + table + frame);
        REQUIRE(picture);
        CHECK(picture->width == 640);
        CHECK(picture->height == 480);
    }
    CHECK_FALSE(read_picture(bytes("\xff\xd8\xff\xe0\0\4ab") + "x" + frame));
    CHECK_FALSE(read_picture(bytes("\xff\xd8\xff\xe0\0\1") + frame));
}
