#include "record/recover.h"

#include <algorithm>

#include "record/codec.h"

namespace tallyround::record {

Recovering::Recovering(std::string_view snapshot, std::string_view lines)
    : snapshot_(snapshot), lines_(lines), unpacker_(snapshot) {}

Recovered Recovering::take() {
    Recovered out;
    if (!snapshot_.empty()) {
        if (auto events = unpacker_.take()) {
            out.events = *std::move(events);
        } else {
            out.snapshot_problem = events.error().text();
        }
    }
    while (!lines_.empty()) {
        const std::size_t end = std::min(lines_.find('\n'), lines_.size());
        const std::string_view line = lines_.substr(0, end);
        lines_.remove_prefix(std::min(end + 1, lines_.size()));
        if (line.empty()) continue;
        if (auto event = from_line(line)) {
            out.events.push_back(*std::move(event));
        } else {
            out.unreadable.push_back({std::string(line), event.error().text()});
        }
    }
    return out;
}

Recovered recover(std::string_view snapshot, std::string_view lines) {
    return Recovering(snapshot, lines).take();
}

}  // namespace tallyround::record
