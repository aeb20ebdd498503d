#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace tallyround::exchange {

/// What a zip file may be at most; an error says which limit was passed.
struct ZipLimits {
    std::size_t file_bytes = std::size_t{32} << 20U;
    std::size_t entries = 1'000;
    std::size_t entry_bytes = std::size_t{32} << 20U;  ///< unpacked, one entry
    std::size_t total_bytes = std::size_t{64} << 20U;  ///< unpacked, all that it states
    std::size_t ratio = 200;  ///< unpacked to packed, of entries over 1 MiB
};

struct ZipEntry {
    std::string name;         ///< without folders; never used as a path
    std::uint64_t place = 0;  ///< of its line in the directory
    std::size_t size = 0;     ///< unpacked, in bytes, as the file states
};

bool looks_like_zip(std::string_view bytes);

/// The directory of a zip file (PKWARE APPNOTE 6.3), read by zlib's minizip. Folders are left out.
/// Errors, with the entry's name where there is one: no zip, cut off, in several parts, a limit
/// passed, an encrypted entry, a method other than stored and deflated, two files of one name.
base::Result<std::vector<ZipEntry>> read_zip(std::string_view bytes, const ZipLimits& limits = {});

/// One entry that `read_zip` found in the same bytes, unpacked: never more than it states. Error,
/// with its name: damaged.
base::Result<std::string> unzip(std::string_view bytes, const ZipEntry& entry);

}  // namespace tallyround::exchange
