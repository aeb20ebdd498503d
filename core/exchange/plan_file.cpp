#include "exchange/plan_file.h"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "exchange/plan_walk.h"
#include "exchange/sealed.h"
#include "json/read.h"
#include "record/codec.h"
#include "record/log.h"

namespace tallyround::exchange {

namespace {

using base::Error;
using json::Json;
using record::Event;
using record::ReplicaId;

constexpr std::string_view quoted_format = "\"tallyround-plan\"";
static_assert(quoted_format.substr(1, quoted_format.size() - 2) == plan_format);

/// Places in the file of two events of one name, the later one first; nothing if there are none.
/// `name(i)` is the name of the one at place i.
template <class Name>
std::optional<std::pair<std::size_t, std::size_t>> twice(std::size_t count, Name name) {
    std::map<ReplicaId, std::uint64_t> last;
    bool growing = true;
    for (std::size_t i = 0; i < count; ++i) {
        const record::EventRef ref = name(i);
        std::uint64_t& seen = last[ref.replica];
        growing = growing && ref.sequence > seen;
        seen = ref.sequence;
    }
    if (growing) return std::nullopt;
    std::map<record::EventRef, std::size_t> places;
    for (std::size_t i = 0; i < count; ++i) {
        const auto [it, fresh] = places.try_emplace(name(i), i);
        if (!fresh) return std::pair{i, it->second};
    }
    return std::nullopt;
}
std::optional<std::pair<std::size_t, std::size_t>> twice(const PlanWalk& walk) {
    if (!walk.names.empty()) {
        return twice(walk.names.size(), [&](std::size_t i) { return walk.names[i]; });
    }
    return twice(walk.events.size(), [&](std::size_t i) { return walk.events[i].ref(); });
}

std::string canonical_checksum(const PlanWalk& walk) {
    if (!walk.canonical.empty()) return walk.canonical;
    PlanChecksum checksum;
    for (const Event& event : walk.events)
        checksum.add(record::to_line(event));
    return checksum.hex();
}

/// The members around the events as one object. Of another app's file, which may be as long as it
/// likes, only what says whose it is.
base::Result<Json> head_of(const PlanWalk& walk) {
    constexpr std::size_t enough = 1000;
    const auto format = walk.members.find("format");
    const bool ours = format != walk.members.end() && format->second == quoted_format;
    Json head = Json::object();
    for (const auto& [name, text] : walk.members) {
        if (!ours && (name != "format" || text.size() > enough)) continue;
        auto value = json::parse(text);
        if (!value) return base::fail("/" + name, value.error().message);
        head[name] = *std::move(value);
    }
    return head;
}

/// Checks what says that this is a plan file of a version we know.
void read_head(const json::Field& f, PlanFile& plan) {
    const auto format = f.is_object() ? f.find("format") : std::nullopt;
    if (!format) {
        f.refuse("This is JSON but not a Tallyround plan: it has no \"format\" member.");
    }
    if (!format->is_string() || format->text() != plan_format) {
        format->refuse("This is JSON but not a Tallyround plan: its \"format\" is not \"" +
                       std::string(plan_format) + "\".");
    }
    const auto version = f.at("version").integer(1, 1'000'000);
    if (version > plan_version) {
        f.at("version").refuse("This plan was made by a newer version of the app (format " +
                               std::to_string(version) + "; this one reads " +
                               std::to_string(plan_version) + "). Update the app to open it.");
    }
    plan.version = static_cast<int>(version);
    plan.app = f.text_or("app", "");
}

std::string unknown_members(Json head) {
    for (const char* name : {"format", "version", "app", "checksum", "events"})
        head.erase(name);
    return head.empty() ? std::string() : head.dump();
}

}  // namespace

base::Result<PlanFile> conclude(PlanWalk walk) {
    if (walk.syntax) {
        return base::fail(walk.syntax->where,
                          walk.syntax->message + " Export the plan again, or choose a plan file.");
    }
    const auto head = head_of(walk);
    if (!head) return tl::make_unexpected(head.error());
    std::string checksum;
    auto plan = json::read(*head, [&](const json::Field& f) {
        PlanFile out;
        read_head(f, out);
        if (!walk.has_events) f.refuse("\"events\" is missing or not a list.");
        checksum = f.at("checksum").text();
        return out;
    });
    if (!plan) return plan;
    const bool as_it_stands = checksum == walk.checksum;
    if (walk.bad_event) {
        return base::fail(walk.bad_event->where,
                          walk.bad_event->message +
                              (as_it_stands ? ""
                                            : " The checksum does not match either: the file"
                                              " was damaged or changed."));
    }
    if (const auto places = twice(walk)) {
        return base::fail("/events/" + std::to_string(places->first),
                          "This event has the same name (\"by\" and \"n\") as /events/" +
                              std::to_string(places->second) + ".");
    }
    if (!as_it_stands && checksum != canonical_checksum(walk)) {
        return base::fail("/checksum",
                          "The file is damaged or was changed: its events do not match its "
                          "checksum. Use another copy, or take over what can be read.");
    }
    plan->events = std::move(walk.events);
    plan->extra = unknown_members(*head);
    return plan;
}

std::optional<Error> too_long(std::size_t bytes) {
    if (bytes <= max_plan_bytes) return std::nullopt;
    return Error{"", "The file is " + std::to_string(bytes) + " bytes long; at most " +
                         std::to_string(max_plan_bytes) + " can be read."};
}

Error sealed_error() {
    return {"/format",
            "This plan file is sealed with a passcode. Open it in the app with that passcode; "
            "saved again without a passcode it can be read here."};
}

base::Result<PlanFile> read_plan(std::string_view bytes) {
    if (auto error = too_long(bytes.size())) return tl::make_unexpected(*std::move(error));
    if (is_sealed(bytes)) return tl::make_unexpected(sealed_error());
    PlanWalker walker(bytes.size(), false);
    walker.on(bytes, true);
    return conclude(walker.take());
}

Salvage salvage_plan(std::string_view bytes) {
    Salvage out;
    if (const auto error = too_long(bytes.size())) {
        out.why = error->text();
        return out;
    }
    PlanWalker walker(bytes.size(), true);
    walker.on(bytes, true);
    PlanWalk walk = walker.take();
    out.events = walk.events;
    out.lost = walk.lost;
    record::normalise(out.events);
    const auto plan = conclude(std::move(walk));
    if (!plan) out.why = plan.error().text();
    return out;
}

}  // namespace tallyround::exchange
