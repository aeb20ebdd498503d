#include "exchange/zip.h"

#include <algorithm>
#include <optional>

#include "base/text.h"
#include "exchange/inflate.h"

namespace tallyround::exchange {

namespace {

using base::fail;

constexpr std::uint32_t local_header = 0x04034B50;
constexpr std::uint32_t central_header = 0x02014B50;
constexpr std::uint32_t end_record = 0x06054B50;
constexpr std::size_t local_size = 30;
constexpr std::size_t central_size = 46;
constexpr std::size_t end_size = 22;
constexpr std::size_t longest_comment = 0xFFFF;

std::uint32_t number(std::string_view bytes, std::size_t at, int count) {
    std::uint32_t value = 0;
    for (int i = count - 1; i >= 0; --i)
        value = value << 8U | static_cast<unsigned char>(bytes[at + std::size_t(i)]);
    return value;
}

/// The end record stands last, before a comment of unknown length.
std::optional<std::size_t> find_end(std::string_view bytes) {
    if (bytes.size() < end_size) return std::nullopt;
    const std::size_t last = bytes.size() - end_size;
    const std::size_t first = last > longest_comment ? last - longest_comment : 0;
    for (std::size_t at = last + 1; at-- > first;) {
        if (number(bytes, at, 4) == end_record &&
            at + end_size + number(bytes, at + 20, 2) == bytes.size())
            return at;
    }
    return std::nullopt;
}

tl::unexpected<base::Error> cut_off() {
    return fail("", "This zip file is damaged or not whole. Make it again and try that one.");
}

std::string megabytes(std::size_t bytes) {
    return std::to_string(bytes >> 20U) + " MB";
}

/// What is wrong with an entry that could be read; empty if nothing is.
std::string trouble_with(const ZipEntry& entry, std::uint32_t flags, const ZipLimits& limits) {
    if ((flags & 1U) != 0) return "It is locked with a password. Make a zip file without one.";
    if (entry.packed == 0xFFFFFFFF || entry.size == 0xFFFFFFFF || entry.offset == 0xFFFFFFFF)
        return "It is of a form for very large files (Zip64), which is not read here.";
    if (entry.method != 0 && entry.method != 8)
        return "It is packed by a method that is not read here. Use an ordinary zip file.";
    if (entry.size > limits.entry_bytes)
        return "Unpacked it has more than " + megabytes(limits.entry_bytes) + ".";
    if (entry.size > std::size_t{1} << 20U && entry.size / limits.ratio > entry.packed)
        return "It is packed more than " + std::to_string(limits.ratio) +
               " to 1, as no list of a school is.";
    return {};
}

std::string without_folders(std::string_view path) {
    const std::size_t slash = path.find_last_of("/\\");
    std::string name(slash == std::string_view::npos ? path : path.substr(slash + 1));
    // Names of older programs are of some code page; they only have to be told apart.
    if (!base::is_utf8(name))
        std::replace_if(
            name.begin(), name.end(),
            [](char c) { return (static_cast<unsigned char>(c) & 0x80U) != 0; }, '?');
    return base::first_code_points(base::tidy_line(name), 80);
}

}  // namespace

bool looks_like_zip(std::string_view bytes) {
    return bytes.starts_with("PK\x03\x04") || bytes.starts_with("PK\x05\x06");
}

base::Result<std::vector<ZipEntry>> read_zip(std::string_view bytes, const ZipLimits& limits) {
    if (bytes.size() > limits.file_bytes) {
        return fail("", "The file has more than " + megabytes(limits.file_bytes) +
                            ". Export one school year or one school at a time.");
    }
    const auto end = find_end(bytes);
    if (!end) return cut_off();
    const std::size_t count = number(bytes, *end + 10, 2);
    if (number(bytes, *end + 4, 2) != 0 || number(bytes, *end + 8, 2) != count)
        return fail("", "This zip file goes over several disks. Make one file of it.");
    if (count > limits.entries) {
        return fail("", "There are " + std::to_string(count) + " files in it; at most " +
                            std::to_string(limits.entries) + " are read.");
    }
    std::vector<ZipEntry> entries;
    std::size_t at = number(bytes, *end + 16, 4);
    std::size_t total = 0;
    for (std::size_t i = 0; i < count; ++i) {
        if (at > *end || *end - at < central_size || number(bytes, at, 4) != central_header)
            return cut_off();
        const std::size_t name_size = number(bytes, at + 28, 2);
        const std::size_t whole =
            central_size + name_size + number(bytes, at + 30, 2) + number(bytes, at + 32, 2);
        if (*end - at < whole) return cut_off();
        ZipEntry entry;
        entry.name = without_folders(bytes.substr(at + central_size, name_size));
        entry.method = static_cast<std::uint16_t>(number(bytes, at + 10, 2));
        entry.crc = number(bytes, at + 16, 4);
        entry.packed = number(bytes, at + 20, 4);
        entry.size = number(bytes, at + 24, 4);
        entry.offset = number(bytes, at + 42, 4);
        const std::uint32_t flags = number(bytes, at + 8, 2);
        at += whole;
        if (entry.name.empty()) continue;  // a folder
        const std::string trouble = trouble_with(entry, flags, limits);
        if (!trouble.empty()) return fail(entry.name, trouble);
        total += entry.size;
        const bool again = std::any_of(entries.begin(), entries.end(),
                                       [&](const ZipEntry& e) { return e.name == entry.name; });
        if (again) return fail(entry.name, "There are two files of this name in the zip file.");
        entries.push_back(std::move(entry));
    }
    if (total > limits.total_bytes) {
        return fail("", "Unpacked it has more than " + megabytes(limits.total_bytes) +
                            ". Export one school at a time.");
    }
    return entries;
}

base::Result<std::string> unzip(std::string_view bytes, const ZipEntry& entry) {
    const auto damaged = fail(entry.name, "It is damaged. Make the zip file again.");
    if (entry.offset > bytes.size() || bytes.size() - entry.offset < local_size) return damaged;
    if (number(bytes, entry.offset, 4) != local_header) return damaged;
    const std::size_t from = entry.offset + local_size + number(bytes, entry.offset + 26, 2) +
                             number(bytes, entry.offset + 28, 2);
    if (from > bytes.size() || bytes.size() - from < entry.packed) return damaged;
    const std::string_view packed = bytes.substr(from, entry.packed);
    std::optional<std::string> out =
        entry.method == 0 ? std::optional(std::string(packed)) : inflate(packed, entry.size);
    if (!out || out->size() != entry.size || crc32(*out) != entry.crc) return damaged;
    return *std::move(out);
}

}  // namespace tallyround::exchange
