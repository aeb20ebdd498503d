#include "exchange/plan_writer.h"

#include "exchange/plan_file.h"
#include "record/codec.h"

namespace tallyround::exchange {

void PlanWriter::add(std::span<const record::Event> events, std::string& out) {
    for (const record::Event& event : events) {
        out += count_ > 0 ? ",\n" : "\n";
        const std::size_t line = out.size();
        record::append_line(out, event);
        checksum_.add(std::string_view(out).substr(line));
        ++count_;
    }
}

std::string PlanWriter::head(std::string_view extra) const {
    std::string out = R"({"format":")" + std::string(plan_format) + R"(","version":)" +
                      std::to_string(plan_version) + R"(,"app":"tallyround","checksum":")" +
                      checksum_.hex() + "\"";
    if (extra.size() > 2) {
        out += ",";
        out += extra.substr(1, extra.size() - 2);
    }
    return out + ",\n\"events\":[";
}

std::string write_plan(std::span<const record::Event> events, std::string_view extra) {
    PlanWriter writer;
    std::string out = writer.head(extra);  // as long as it will be
    const std::size_t room = out.size();
    writer.add(events, out);
    out.replace(0, room, writer.head(extra));
    return out += writer.tail();
}

}  // namespace tallyround::exchange
