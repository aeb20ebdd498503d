#pragma once
#include "json/reader.h"

namespace tallyround::record {

/// JSON Schema (2020-12) of one event, made from the tables in members.h: what `from_json` takes.
/// Kinds and members that are not described are allowed, as later versions may have more.
json::Json event_schema();

}  // namespace tallyround::record
