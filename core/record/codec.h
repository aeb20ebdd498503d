#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "json/reader.h"
#include "record/event.h"

namespace tallyround::record {

/// One event as one line of JSON (no newline inside), members in a fixed order:
/// {"at":[ms,counter],"by":"replica","n":sequence,"kind":"marked",…}
/// Members of each kind: record/members.h. Bytes of text that are not UTF-8 become U+FFFD.
std::string to_line(const Event& event);
/// The same, added to the end of `out`.
void append_line(std::string& out, const Event& event);

/// Back again. Unknown kinds become Foreign (all their members as one JSON object), unknown
/// members of known kinds go to `extra` (the same way); both as JSON values, so white space and
/// the order of their members are not kept. What is missing, of the wrong type or out of range is
/// an Error with its JSON Pointer (below `pointer`).
base::Result<Event> from_line(std::string_view line);
base::Result<Event> from_json(const json::Field& field);

/// Reads exactly the text that `to_line` writes, without building a document, several times
/// faster than `from_line`; false for any other text (valid or not), any list and any text that
/// is not plain ASCII, and `event` is then left in no particular state.
bool scan_line(std::string_view line, Event& event);

/// Events packed for a snapshot: a header with version, count and an XXH3 checksum, then marks in
/// binary columns with a table of ids, everything else as lines. 100,000 marks unpack in some tens
/// of milliseconds in wasm. The order of the events is kept.
std::string pack(std::span<const Event> events);
/// Errors: "the snapshot is damaged / cut short / from a newer version".
base::Result<std::vector<Event>> unpack(std::string_view bytes);

}  // namespace tallyround::record
