#pragma once
#include <boost/crc.hpp>
#include <cstdint>
#include <string>
#include <vector>

namespace tallyround::testing {

/// One file of a zip file.
struct ZipPart {
    std::string name;
    std::string text;  ///< as it stands in the file
    unsigned flags = 0;
    unsigned method = 0;
    std::size_t size = 0;       ///< stated; 0: the true one
    std::string unpacked = {};  ///< what the check sum is of; empty: the text
};

/// A zip file of such parts, by PKWARE APPNOTE 6.3, 4.3.7, 4.3.12 and 4.3.16.
inline std::string zip_of(const std::vector<ZipPart>& parts) {
    const auto little = [](std::size_t value, int count) {
        std::string out;
        for (; count > 0; --count, value >>= 8U)
            out += static_cast<char>(value & 0xFFU);
        return out;
    };
    std::string files;
    std::string directory;
    for (const ZipPart& part : parts) {
        const std::size_t size = part.size != 0 ? part.size : part.text.size();
        const std::string& whole = part.unpacked.empty() ? part.text : part.unpacked;
        boost::crc_32_type crc;
        crc.process_bytes(whole.data(), whole.size());
        const std::string head = little(part.flags, 2) + little(part.method, 2) + little(0, 4) +
                                 little(crc.checksum(), 4) + little(part.text.size(), 4) +
                                 little(size, 4) + little(part.name.size(), 2) + little(0, 2);
        directory += "PK\x01\x02" + little(20, 2) + little(20, 2) + head + little(0, 10) +
                     little(files.size(), 4) + part.name;
        files += "PK\x03\x04" + little(20, 2) + head + part.name + part.text;
    }
    return files + directory + "PK\x05\x06" + little(0, 4) + little(parts.size(), 2) +
           little(parts.size(), 2) + little(directory.size(), 4) + little(files.size(), 4) +
           little(0, 2);
}

}  // namespace tallyround::testing
