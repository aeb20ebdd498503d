#include "record/recover.h"

#include <algorithm>

#include "record/codec.h"

namespace tallyround::record {

Recovered recover(std::string_view snapshot, std::string_view lines) {
    Recovered out;
    if (!snapshot.empty()) {
        if (auto events = unpack(snapshot)) {
            out.events = *std::move(events);
        } else {
            out.snapshot_problem = events.error().text();
        }
    }
    while (!lines.empty()) {
        const std::size_t end = std::min(lines.find('\n'), lines.size());
        const std::string_view line = lines.substr(0, end);
        lines.remove_prefix(std::min(end + 1, lines.size()));
        if (line.empty()) continue;
        if (auto event = from_line(line)) {
            out.events.push_back(*std::move(event));
        } else {
            out.unreadable.push_back({std::string(line), event.error().text()});
        }
    }
    return out;
}

}  // namespace tallyround::record
