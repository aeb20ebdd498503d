#include "exchange/picture_file.h"

#include <algorithm>
#include <optional>

namespace tallyround::exchange {

namespace {

constexpr int max_side = 10'000;

unsigned byte_at(std::string_view bytes, std::size_t at) {
    return static_cast<unsigned char>(bytes[at]);
}

/// `count` bytes as one number, the first byte highest.
unsigned big(std::string_view bytes, std::size_t at, int count) {
    unsigned value = 0;
    for (int i = 0; i < count; ++i)
        value = value << 8U | byte_at(bytes, at + std::size_t(i));
    return value;
}

/// The same, the first byte lowest.
unsigned little(std::string_view bytes, std::size_t at, int count) {
    unsigned value = 0;
    for (int i = count - 1; i >= 0; --i)
        value = value << 8U | byte_at(bytes, at + std::size_t(i));
    return value;
}

PictureFile sized(unsigned width, unsigned height) {
    const bool fits = width <= max_side && height <= max_side;
    return fits ? PictureFile{int(width), int(height)} : PictureFile{};
}

std::optional<PictureFile> png(std::string_view bytes) {
    if (!bytes.starts_with("\x89PNG\r\n\x1a\n")) return std::nullopt;
    if (bytes.size() < 24 || bytes.substr(12, 4) != "IHDR") return PictureFile{};
    return sized(big(bytes, 16, 4), big(bytes, 20, 4));
}

/// Walks the segments up to the frame header, which holds the size.
std::optional<PictureFile> jpeg(std::string_view bytes) {
    if (!bytes.starts_with("\xff\xd8\xff")) return std::nullopt;
    for (std::size_t at = 2; at + 9 < bytes.size();) {
        if (byte_at(bytes, at) != 0xFF) return PictureFile{};
        const unsigned marker = byte_at(bytes, at + 1);
        if (marker == 0xFF) {  // fill bytes before a marker
            ++at;
            continue;
        }
        // SOF0 to SOF15 without DHT (C4), JPG (C8) and DAC (CC).
        if (marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC)
            return sized(big(bytes, at + 7, 2), big(bytes, at + 5, 2));
        const unsigned length = big(bytes, at + 2, 2);
        if (length < 2) return PictureFile{};
        at += 2 + length;
    }
    return PictureFile{};
}

std::optional<PictureFile> webp(std::string_view bytes) {
    if (!bytes.starts_with("RIFF") || bytes.size() < 12 || bytes.substr(8, 4) != "WEBP")
        return std::nullopt;
    if (bytes.size() < 30) return PictureFile{};
    const std::string_view chunk = bytes.substr(12, 4);
    if (chunk == "VP8X") return sized(little(bytes, 24, 3) + 1, little(bytes, 27, 3) + 1);
    if (chunk == "VP8L" && byte_at(bytes, 20) == 0x2F) {
        const unsigned bits = little(bytes, 21, 4);
        return sized((bits & 0x3FFFU) + 1, (bits >> 14U & 0x3FFFU) + 1);
    }
    if (chunk == "VP8 " && bytes.substr(23, 3) == "\x9d\x01\x2a")
        return sized(little(bytes, 26, 2) & 0x3FFFU, little(bytes, 28, 2) & 0x3FFFU);
    return PictureFile{};
}

}  // namespace

base::Result<PictureFile> read_picture(std::string_view bytes) {
    if (bytes.empty()) return base::fail("Picture", "This file is empty.");
    std::optional<PictureFile> found = png(bytes);
    if (!found) found = jpeg(bytes);
    if (!found) found = webp(bytes);
    if (!found) {
        return base::fail("Picture",
                          "This is not a picture that can go on a card. Use a PNG, JPEG or WebP.");
    }
    if (found->width < 1 || found->height < 1) {
        return base::fail("Picture",
                          "This picture is damaged or larger than 10,000 pixels a "
                          "side. Open it elsewhere, save it again and try that file.");
    }
    if (bytes.size() > max_picture_bytes) {
        return base::fail("Picture", "This picture has " + std::to_string(bytes.size() / 1024) +
                                         " KB; a card takes at most " +
                                         std::to_string(max_picture_bytes / 1024) +
                                         " KB. Cut it or make it smaller.");
    }
    return *found;
}

std::string base64(std::string_view bytes) {
    static constexpr char digits[] =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        const std::size_t left = std::min<std::size_t>(3, bytes.size() - at);
        const unsigned bits = big(bytes, at, int(left)) << (8U * (3U - unsigned(left)));
        for (std::size_t i = 0; i < 4; ++i)
            out += i <= left ? digits[bits >> (6U * (3U - unsigned(i))) & 63U] : '=';
    }
    return out;
}

}  // namespace tallyround::exchange
