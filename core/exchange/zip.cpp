#include "exchange/zip.h"

#include <contrib/minizip/unzip.h>

#include <algorithm>
#include <memory>

#include "base/text.h"

namespace tallyround::exchange {

namespace {

using base::fail;

/// Bytes in memory as minizip reads a file: it gets no other way to one.
struct Memory {
    std::string_view bytes;
    std::size_t at = 0;
    bool cut = false;  ///< more was asked for than there is

    static Memory& of(voidpf stream) { return *static_cast<Memory*>(stream); }
    static voidpf open(voidpf memory, const void* /*name*/, int /*mode*/) { return memory; }
    static uLong read(voidpf /*memory*/, voidpf stream, void* to, uLong size) {
        Memory& from = of(stream);
        const std::size_t count = from.bytes.copy(static_cast<char*>(to), size, from.at);
        from.at += count;
        from.cut = from.cut || count < size;
        return static_cast<uLong>(count);
    }
    static ZPOS64_T tell(voidpf /*memory*/, voidpf stream) { return of(stream).at; }
    static long seek(voidpf /*memory*/, voidpf stream, ZPOS64_T offset, int origin) {
        Memory& memory = of(stream);
        const std::size_t from = origin == ZLIB_FILEFUNC_SEEK_SET   ? 0
                                 : origin == ZLIB_FILEFUNC_SEEK_CUR ? memory.at
                                                                    : memory.bytes.size();
        if (offset > memory.bytes.size() - from) return -1;
        memory.at = from + static_cast<std::size_t>(offset);
        return 0;
    }
    static int close(voidpf /*memory*/, voidpf /*stream*/) { return 0; }
    static int error(voidpf /*memory*/, voidpf stream) { return of(stream).cut ? 1 : 0; }
};

class Archive {
  public:
    explicit Archive(std::string_view bytes) : memory_{bytes} {
        zlib_filefunc64_def ways{};
        ways.zopen64_file = Memory::open;
        ways.zread_file = Memory::read;
        ways.ztell64_file = Memory::tell;
        ways.zseek64_file = Memory::seek;
        ways.zclose_file = Memory::close;
        ways.zerror_file = Memory::error;
        ways.opaque = &memory_;
        file_.reset(unzOpen2_64(nullptr, &ways));
    }
    /// Null when there is no directory.
    unzFile file() const { return file_.get(); }

  private:
    struct Close {
        void operator()(unzFile file) const { unzClose(file); }
    };
    Memory memory_;
    std::unique_ptr<void, Close> file_;
};

std::string megabytes(std::size_t bytes) {
    return std::to_string(bytes >> 20U) + " MB";
}

/// What is wrong with an entry that could be read; empty if nothing is.
std::string trouble_with(const unz_file_info64& entry, const ZipLimits& limits) {
    if ((entry.flag & 1U) != 0) return "It is locked with a password. Make a zip file without one.";
    if (entry.compression_method != 0 && entry.compression_method != Z_DEFLATED)
        return "It is packed by a method that is not read here. Use an ordinary zip file.";
    if (entry.uncompressed_size > limits.entry_bytes)
        return "Unpacked it has more than " + megabytes(limits.entry_bytes) + ".";
    if (entry.uncompressed_size > std::size_t{1} << 20U &&
        entry.uncompressed_size / limits.ratio > entry.compressed_size) {
        return "It is packed more than " + std::to_string(limits.ratio) +
               " to 1, as no list of a school is.";
    }
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

/// Adds the entry that the archive stands at. False when its line of the directory is broken.
base::Result<bool> add_entry(unzFile file, const ZipLimits& limits, std::vector<ZipEntry>& to) {
    unz_file_info64 info{};
    unz64_file_pos place{};
    if (unzGetCurrentFileInfo64(file, &info, nullptr, 0, nullptr, 0, nullptr, 0) != UNZ_OK ||
        unzGetFilePos64(file, &place) != UNZ_OK)
        return false;
    std::string path(info.size_filename, '\0');
    if (unzGetCurrentFileInfo64(file, &info, path.data(), info.size_filename, nullptr, 0, nullptr,
                                0) != UNZ_OK)
        return false;
    ZipEntry entry;
    entry.name = without_folders(path);
    entry.place = place.pos_in_zip_directory;
    if (entry.name.empty()) return true;  // a folder
    const std::string trouble = trouble_with(info, limits);
    if (!trouble.empty()) return fail(entry.name, trouble);
    entry.size = static_cast<std::size_t>(info.uncompressed_size);
    if (std::any_of(to.begin(), to.end(), [&](const ZipEntry& e) { return e.name == entry.name; }))
        return fail(entry.name, "There are two files of this name in the zip file.");
    to.push_back(std::move(entry));
    return true;
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
    const auto cut_off = fail("",
                              "This zip file is damaged or not whole. Make it again, in one part, "
                              "and try that one.");
    const Archive archive(bytes);
    unz_global_info64 all{};
    if (archive.file() == nullptr || unzGetGlobalInfo64(archive.file(), &all) != UNZ_OK)
        return cut_off;
    std::string comment(all.size_comment, '\0');  // the last that stands in the file
    if (unzGetGlobalComment(archive.file(), comment.data(), all.size_comment) < 0) return cut_off;
    if (all.number_entry > limits.entries) {
        return fail("", "There are " + std::to_string(all.number_entry) + " files in it; at most " +
                            std::to_string(limits.entries) + " are read.");
    }
    std::vector<ZipEntry> entries;
    for (ZPOS64_T i = 0; i < all.number_entry; ++i) {
        const int moved =
            i == 0 ? unzGoToFirstFile(archive.file()) : unzGoToNextFile(archive.file());
        if (moved != UNZ_OK) return cut_off;
        const auto added = add_entry(archive.file(), limits, entries);
        if (!added) return tl::make_unexpected(added.error());
        if (!*added) return cut_off;
    }
    std::size_t total = 0;
    for (const ZipEntry& entry : entries)
        total += entry.size;
    if (total > limits.total_bytes) {
        return fail("", "Unpacked it has more than " + megabytes(limits.total_bytes) +
                            ". Export one school at a time.");
    }
    return entries;
}

base::Result<std::string> unzip(std::string_view bytes, const ZipEntry& entry) {
    const Archive archive(bytes);
    const unz64_file_pos place{entry.place, 0};
    const auto damaged = fail(entry.name, "It is damaged. Make the zip file again.");
    if (archive.file() == nullptr || unzGoToFilePos64(archive.file(), &place) != UNZ_OK ||
        unzOpenCurrentFile(archive.file()) != UNZ_OK)
        return damaged;
    std::string out(entry.size, '\0');
    std::size_t have = 0;
    while (have < out.size()) {
        const int count = unzReadCurrentFile(archive.file(), out.data() + have,
                                             static_cast<unsigned>(out.size() - have));
        if (count <= 0) break;
        have += static_cast<std::size_t>(count);
    }
    // Closing compares the check sum once all that was stated has been read.
    if (unzCloseCurrentFile(archive.file()) != UNZ_OK || have < out.size()) return damaged;
    return out;
}

}  // namespace tallyround::exchange
