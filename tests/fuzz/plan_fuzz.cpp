// Any bytes as a plan file: read_plan and salvage_plan must return, agree with each other and with
// PlanReader, wherever the file is cut, and what is read must be written and read again as the
// same.
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/text.h"
#include "exchange/plan_file.h"
#include "exchange/plan_reader.h"
#include "record/fold.h"
#include "record/log.h"

namespace {

using namespace tallyround;

void require(bool holds) {
    if (!holds) std::abort();
}

void check_same(const std::vector<record::Event>& a, const std::vector<record::Event>& b) {
    require(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i)
        require(record::same(a[i], b[i]));
}

/// The bytes with the checksum that the salvaged events have, so that changes get past it.
std::string with_checksum(std::string bytes, const std::vector<record::Event>& events) {
    const std::string_view mark = "\"checksum\":\"";
    const auto at = bytes.find(mark);
    const std::string right = exchange::write_plan(events);
    if (at != std::string::npos && at + mark.size() + 32 <= bytes.size()) {
        bytes.replace(at + mark.size(), 32, right, right.find(mark) + mark.size(), 32);
    }
    return bytes;
}

/// In pieces of sizes that the bytes themselves choose.
void check_pieces(std::string_view bytes, const base::Result<exchange::PlanFile>& whole) {
    exchange::PlanReader reader(bytes.size());
    auto fed = exchange::PlanReader::Fed::on;
    for (std::size_t at = 0; at < bytes.size();) {
        const std::size_t size = 1 + static_cast<unsigned char>(bytes[at]) % 61;
        fed = reader.feed(std::string(bytes.substr(at, size)));
        at += size;
    }
    if (fed == exchange::PlanReader::Fed::whole) return;
    const auto pieces = reader.finish();
    require(pieces.has_value() == whole.has_value());
    if (whole) {
        check_same(pieces->events, whole->events);
        require(pieces->extra == whole->extra && pieces->app == whole->app);
    } else {
        require(pieces.error().text() == whole.error().text());
    }
}

void check(std::string_view bytes) {
    const auto plan = exchange::read_plan(bytes);
    check_pieces(bytes, plan);
    const auto salvaged = exchange::salvage_plan(bytes);
    require(plan.has_value() == salvaged.why.empty());
    if (!plan) {
        require(!plan.error().message.empty());
        return;
    }
    const std::string again = exchange::write_plan(plan->events, plan->extra);
    require(base::is_utf8(again));
    const auto back = exchange::read_plan(again);
    require(back.has_value());
    check_same(back->events, plan->events);
    require(back->extra == plan->extra);
    record::Log log{record::ReplicaId("fuzz")};
    log.merge(plan->events);
    require(log.state() == record::fold(log.events()));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    check(bytes);
    check(with_checksum(std::string(bytes), exchange::salvage_plan(bytes).events));
    return 0;
}
