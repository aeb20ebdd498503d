#pragma once
#include <string>
#include <string_view>

#include "base/result.h"

namespace tallyround::exchange {

/// Bytes that the file of a picture for a card may have.
inline constexpr std::size_t max_picture_bytes = std::size_t{100} * 1024;

struct PictureFile {
    int width = 0;  ///< pixels, 1 to 10,000
    int height = 0;
};

/// Reads the size of a PNG (W3C PNG 3rd edition, 5.2 and 11.2.1), JPEG (ITU-T T.81, annex B) or
/// WebP file (RFC 9649, 2.4 to 2.7). Nothing else is let in: SVG and HTML can hold scripts.
/// Errors: another kind of file, a broken head, more than `max_picture_bytes`.
base::Result<PictureFile> read_picture(std::string_view bytes);

/// RFC 4648, section 4, with padding.
std::string base64(std::string_view bytes);

}  // namespace tallyround::exchange
