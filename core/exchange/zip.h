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
    std::string name;        ///< without folders; never used as a path
    std::size_t offset = 0;  ///< of its local header
    std::uint32_t packed = 0;
    std::uint32_t size = 0;
    std::uint32_t crc = 0;
    std::uint16_t method = 0;  ///< 0 stored, 8 deflated
};

bool looks_like_zip(std::string_view bytes);

/// The directory of a zip file (PKWARE APPNOTE 6.3, 4.3.12 and 4.3.16; the forms of ISO/IEC
/// 21320-1). Folders are left out. Errors: no zip, cut off, a limit passed, an encrypted entry, a
/// method other than stored and deflated, Zip64, several disks, two files of one name.
base::Result<std::vector<ZipEntry>> read_zip(std::string_view bytes, const ZipLimits& limits = {});

/// One entry, unpacked: never more than it states. Error, with its name: damaged.
base::Result<std::string> unzip(std::string_view bytes, const ZipEntry& entry);

}  // namespace tallyround::exchange
