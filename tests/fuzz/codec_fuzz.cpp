// Any bytes as an event's line and as a snapshot: the readers must return, the fast one must agree
// with the JSON one, and what is read must be written and read again as the same.
#include <cstdint>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "base/text.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/log.h"
#include "record/recover.h"

namespace {

using namespace tallyround;

void require(bool holds) {
    if (!holds) std::abort();
}

void check_line(std::string_view line) {
    const auto event = record::from_line(line);
    record::Event scanned;
    if (record::scan_line(line, scanned)) {
        const auto document = json::parse(line);
        require(document.has_value());
        const auto read = record::from_json(json::Field(*document, ""));
        require(read.has_value() && record::same(*read, scanned));
    }
    if (!event) return;
    const std::string again = record::to_line(*event);
    require(base::is_utf8(again) && again.find('\n') == std::string::npos);
    const auto back = record::from_line(again);
    require(back.has_value() && record::same(*back, *event));
    const auto unpacked = record::unpack(record::pack({&*event, 1}));
    require(unpacked.has_value() && unpacked->size() == 1);
    require(record::same(unpacked->front(), *event));
}

/// The bytes as a snapshot's body, under a header that fits them: past the checksum at once.
std::string snapshot_of(std::string_view body, std::uint64_t count) {
    std::string header = record::pack({}).substr(0, 12);
    for (const std::uint64_t value : {count, std::uint64_t{body.size()}}) {
        for (unsigned i = 0; i < 8; ++i)
            header += static_cast<char>((value >> (8 * i)) & 0xFFU);
    }
    record::Hasher hasher;
    hasher.add(header);
    hasher.add(body);
    return header + hasher.hex() + std::string(body);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    check_line(bytes);
    if (bytes.empty()) return 0;
    const auto count = static_cast<std::uint64_t>(static_cast<unsigned char>(bytes[0]));
    const auto half = bytes.size() / 2;
    const auto found = record::recover(bytes.substr(0, half), bytes.substr(half));
    for (const auto& one : found.unreadable)
        require(!one.line.empty() && !one.why.empty());
    const auto events = record::unpack(snapshot_of(bytes.substr(1), count));
    if (events) {
        require(events->size() == count);
        record::fold(*events);
    }
    return 0;
}
