#include "exchange/plan_schema.h"

#include <nlohmann/json.hpp>

#include "exchange/plan_file.h"
#include "record/schema.h"

namespace tallyround::exchange {

std::string plan_schema() {
    using json::Json;
    const Json checksum = {{"type", "string"},
                           {"pattern", "^[0-9a-f]{32}$"},
                           {"description", "XXH3-128 of the events' texts joined by line feeds"}};
    const Json schema = {
        {"$schema", "https://json-schema.org/draft/2020-12/schema"},
        {"title", "Tallyround plan file, version 1"},
        {"description",
         "Everything that happened in the classes of one teacher, an event a line. The state is "
         "what the events come to in the order of \"at\", then \"by\", then \"n\". Kinds and "
         "members that are not described here are kept as they are."},
        {"type", "object"},
        {"properties",
         {{"format", {{"const", plan_format}}},
          {"version", {{"const", plan_version}}},
          {"app", {{"type", "string"}}},
          {"checksum", checksum},
          {"events", {{"type", "array"}, {"items", {{"$ref", "#/$defs/event"}}}}}}},
        {"required", {"format", "version", "checksum", "events"}},
        {"$defs", {{"event", record::event_schema()}}}};
    return schema.dump(2) + "\n";
}

}  // namespace tallyround::exchange
