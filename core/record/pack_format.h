#pragma once
#include <cstdint>
#include <string_view>

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
/// In the time that it takes to pack or read a mark, so many bytes are added up.
inline constexpr std::size_t bytes_a_mark = 64;

}  // namespace tallyround::record::snapshot
