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
std::string to_line(const Event& event);
/// Back again. Unknown kinds become Foreign, unknown members go to `extra`; what is missing or of
/// the wrong type is an Error with its JSON Pointer (below `pointer`).
base::Result<Event> from_line(std::string_view line);
base::Result<Event> from_json(const json::Field& field);

/// Events packed for a snapshot: a header with version, count and an XXH3 checksum, then marks in
/// binary columns with a table of ids, everything else as lines. 100,000 marks unpack in some tens
/// of milliseconds in wasm.
std::string pack(std::span<const Event> events);
/// Errors: "the snapshot is damaged / cut short / from a newer version".
base::Result<std::vector<Event>> unpack(std::string_view bytes);

}  // namespace tallyround::record
