#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "record/event.h"

/// The plan file: a record (or a cut of one) as JSON that any program can read, one event a line.
///
///   {"format":"tallyround-plan","version":1,"app":"tallyround","checksum":"<32 hex digits>",
///   "events":[
///   {"at":[1796000000000,0],"by":"k3x9q2ab","n":1,"kind":"class_made",…},
///   …
///   ]}
///
/// `checksum` is XXH3-128 of the events' texts joined by line feeds. A reader takes the texts as
/// they stand in the file; should that not match, it takes them as this app writes them, so a file
/// that another program has only laid out anew is not called damaged.
/// Described for other programs in assets/schemas/plan-1.schema.json (JSON Schema 2020-12).
namespace tallyround::exchange {

inline constexpr int plan_version = 1;
inline constexpr std::string_view plan_format = "tallyround-plan";
inline constexpr std::size_t max_plan_bytes = std::size_t{512} << 20U;
inline constexpr std::size_t max_plan_events = 3'000'000;

struct PlanFile {
    int version = plan_version;
    std::string app;                    ///< what wrote it, as it says itself; may be empty
    std::vector<record::Event> events;  ///< in the file's order, no two of one name
    /// Members of the file that this version does not know, as one JSON object; usually empty.
    std::string extra;
};

/// Reads a plan file, all or nothing. Errors, with the place:
///   - not JSON ("line 3, column 14"), or cut short;
///   - JSON of another sort ("this is JSON but not a Tallyround plan: it has no "format"");
///   - of a newer version;
///   - an event that cannot be right ("/events/17/kind"), two events of one name;
///   - the checksum does not match: damaged;
///   - more than 512 MiB or 3,000,000 events.
base::Result<PlanFile> read_plan(std::string_view bytes);

/// The plan file of these events. `extra` as in PlanFile; its members are written back.
std::string write_plan(std::span<const record::Event> events, std::string_view extra = {});

/// What can still be read of a plan file that `read_plan` refuses.
struct Salvage {
    std::vector<record::Event> events;  ///< ordered, each readable in itself
    std::size_t lost = 0;  ///< pieces of the file that were to be events and could not be read
    std::string why;       ///< what `read_plan` says; empty when nothing is wrong
};
/// Never fails; nothing readable gives no events. Whether the events are the ones once written is
/// not certain when the checksum is the matter: say so before using them.
Salvage salvage_plan(std::string_view bytes);

}  // namespace tallyround::exchange
