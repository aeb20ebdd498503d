#pragma once
#include <boost/crc.hpp>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace tallyround::testing {

/// A zip file of files that are not packed, by PKWARE APPNOTE 6.3, 4.3.7, 4.3.12 and 4.3.16.
inline std::string stored_zip(const std::vector<std::pair<std::string, std::string>>& parts) {
    const auto little = [](std::size_t value, int count) {
        std::string out;
        for (int i = 0; i < count; ++i)
            out += static_cast<char>(value >> (8U * unsigned(i)) & 0xFFU);
        return out;
    };
    std::string files;
    std::string directory;
    for (const auto& [name, text] : parts) {
        boost::crc_32_type crc;
        crc.process_bytes(text.data(), text.size());
        const std::string head = little(0, 8) + little(crc.checksum(), 4) + little(text.size(), 4) +
                                 little(text.size(), 4) + little(name.size(), 2) + little(0, 2);
        directory += "PK\x01\x02" + little(20, 2) + little(20, 2) + head + little(0, 10) +
                     little(files.size(), 4) + name;
        files += "PK\x03\x04" + little(20, 2) + head + name + text;
    }
    return files + directory + "PK\x05\x06" + little(0, 4) + little(parts.size(), 2) +
           little(parts.size(), 2) + little(directory.size(), 4) + little(files.size(), 4) +
           little(0, 2);
}

}  // namespace tallyround::testing
