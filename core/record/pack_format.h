#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "record/hash.h"

/// Snapshot layout, all whole numbers little-endian:
///   8 bytes "TRSNAP\n\0", u32 version, u64 events, u64 bytes of the body, 32 hex digits: XXH3-128
///   of the bytes before it and of the body; then the body:
///   ids    varint count, each: varint length, bytes
///   lines  varint count, each: varint place (gap to the one before), varint length, bytes
///   marks  varint count, the sizes of the columns, then one column after the other, a varint a
///   mark:
///          ms and sequence as zigzag differences, counter, replica, class, block, student, skill,
///          center (places in ids), round (zigzag), level + 3 * help
namespace tallyround::record::snapshot {

inline constexpr std::string_view magic("TRSNAP\n\0", 8);
inline constexpr std::uint32_t version = 1;
inline constexpr std::size_t version_at = 8;
inline constexpr std::size_t count_at = 12;
inline constexpr std::size_t size_at = 20;
inline constexpr std::size_t hash_at = 28;
inline constexpr std::size_t body_at = hash_at + 32;
inline constexpr std::size_t columns = 11;

/// Of the header before its checksum and of the body.
inline std::string checksum(std::string_view header, std::string_view body) {
    Hasher hasher;
    hasher.add(header);
    hasher.add(body);
    return hasher.hex();
}

}  // namespace tallyround::record::snapshot
