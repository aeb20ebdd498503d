#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tallyround::exchange {

/// Unpacks a raw DEFLATE stream (RFC 1951). Nothing when it is broken, cut off, has bytes after its
/// end, or would come to more than `most` bytes: no more than that is ever held.
std::optional<std::string> inflate(std::string_view packed, std::size_t most);

/// CRC-32 as zip files use it (ITU-T V.42, 8.1.1.6.2; polynomial 0xEDB88320, reflected).
std::uint32_t crc32(std::string_view bytes);

}  // namespace tallyround::exchange
