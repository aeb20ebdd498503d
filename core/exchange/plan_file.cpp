#include "exchange/plan_file.h"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "exchange/json_skim.h"
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

/// What one walk through the bytes finds. Errors are kept apart, because which of them is said
/// depends on the others.
struct Walk {
    std::map<std::string, std::string_view> members;  ///< texts of all members but "events"
    bool has_events = false;
    std::vector<Event> events;
    std::size_t lost = 0;
    std::optional<Error> syntax;     ///< the bytes are not JSON
    std::optional<Error> bad_event;  ///< the first event that cannot be right
    std::string checksum;            ///< of the events' texts as they stand
};

/// The member's name without quotation marks and escapes.
std::string plain(std::string_view quoted) {
    if (quoted.find('\\') == std::string_view::npos) {
        return quoted.size() < 2 ? std::string() : std::string(quoted.substr(1, quoted.size() - 2));
    }
    const auto text = json::parse(quoted);
    return text ? text->get<std::string>() : std::string();
}

class Walker {
  public:
    Walker(std::string_view bytes, bool salvage) : bytes_(bytes), in_(bytes), salvage_(salvage) {}

    Walk run() {
        if (bytes_.starts_with("\xEF\xBB\xBF")) in_.jump(3);
        if (in_.take('{')) {
            if (!in_.take('}')) members();
        } else {
            in_.value();
        }
        in_.end();
        note_syntax();
        out_.checksum = hasher_.hex();
        return std::move(out_);
    }

  private:
    void members() {
        do {
            const std::string name = plain(in_.string());
            in_.expect(':');
            if (name == "events" && in_.take('[')) {
                events();
            } else {
                const std::string_view text = in_.value();
                if (!in_.failed()) out_.members[name] = text;
            }
        } while (in_.take(','));
        in_.expect('}');
    }

    void events() {
        out_.has_events = true;
        if (in_.take(']')) return;
        while (true) {
            event();
            if (in_.take(',')) continue;
            if (in_.take(']')) return;
            in_.fail("Expected a comma or the end of the events here.");
            if (!salvage_ || index_ > max_plan_events || !next_line()) return;
        }
    }

    void event() {
        if (index_++ == max_plan_events) {
            in_.fail("There are more than " + std::to_string(max_plan_events) +
                     " events; that is more than can be read.");
            return;
        }
        reserve();
        in_.space();
        Event& event = out_.events.emplace_back();
        std::string_view text = line_here();
        if (record::scan_line(text, event)) {
            in_.jump(in_.at() + text.size());
        } else {
            text = in_.value();
            if (in_.failed() || !read(text, event)) {
                out_.events.pop_back();
                ++out_.lost;
            }
        }
        if (index_ > 1) hasher_.add("\n");
        hasher_.add(text);
    }

    bool read(std::string_view text, Event& event) {
        if (record::scan_line(text, event)) return true;
        const std::string pointer = "/events/" + std::to_string(index_ - 1);
        const auto document = json::parse(text);
        if (!document) {
            if (!out_.bad_event) out_.bad_event = Error{pointer, document.error().message};
            return false;
        }
        auto result = record::from_json(json::Field(*document, pointer));
        if (result) {
            event = *std::move(result);
        } else if (!out_.bad_event) {
            out_.bad_event = result.error();
        }
        return result.has_value();
    }

    /// The rest of this line without the comma at its end, if it is of an ordinary length.
    std::string_view line_here() const {
        std::string_view text = bytes_.substr(in_.at(), 2000);
        text = text.substr(0, text.find('\n'));
        while (!text.empty() && (text.back() == ',' || text.back() == '\r' || text.back() == ' '))
            text.remove_suffix(1);
        return text;
    }

    /// Room for all events, guessed from the first ones.
    void reserve() {
        if (index_ != 65) return;
        out_.events.reserve(std::min(max_plan_events, bytes_.size() * 67 / in_.at()));
    }

    void note_syntax() {
        if (in_.failed() && !out_.syntax) {
            out_.syntax = Error{line_and_column(bytes_, in_.at()), in_.why()};
        }
    }

    /// After broken JSON: on at the next line that starts like an event, if there is one.
    bool next_line() {
        note_syntax();
        const std::size_t line = bytes_.find("\n{", in_.at());
        if (line == std::string_view::npos) return false;
        in_.jump(line + 1);
        return true;
    }

    std::string_view bytes_;
    JsonSkim in_;
    bool salvage_;
    Walk out_;
    std::size_t index_ = 0;
    record::Hasher hasher_;
};

/// Places in the file of two events of one name, the later one first; nothing if there are none.
std::optional<std::pair<std::size_t, std::size_t>> twice(std::span<const Event> events) {
    std::map<ReplicaId, std::uint64_t> last;
    bool growing = true;
    for (const Event& e : events) {
        std::uint64_t& seen = last[e.stamp.replica];
        growing = growing && e.stamp.sequence > seen;
        seen = e.stamp.sequence;
    }
    if (growing) return std::nullopt;
    std::map<record::EventRef, std::size_t> places;
    for (std::size_t i = 0; i < events.size(); ++i) {
        const auto [it, fresh] = places.try_emplace(events[i].ref(), i);
        if (!fresh) return std::pair{i, it->second};
    }
    return std::nullopt;
}

std::string canonical_checksum(std::span<const Event> events) {
    record::Hasher hasher;
    std::string line;
    for (std::size_t i = 0; i < events.size(); ++i) {
        line.assign(i > 0 ? "\n" : "");
        record::append_line(line, events[i]);
        hasher.add(line);
    }
    return hasher.hex();
}

/// The members around the events as one object. Of another app's file, which may be as long as it
/// likes, only what says whose it is.
base::Result<Json> head_of(const Walk& walk) {
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

base::Result<PlanFile> finish(Walk walk) {
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
    if (const auto places = twice(walk.events)) {
        return base::fail("/events/" + std::to_string(places->first),
                          "This event has the same name (\"by\" and \"n\") as /events/" +
                              std::to_string(places->second) + ".");
    }
    if (!as_it_stands && checksum != canonical_checksum(walk.events)) {
        return base::fail("/checksum",
                          "The file is damaged or was changed: its events do not match its "
                          "checksum. Use another copy, or take over what can be read.");
    }
    plan->events = std::move(walk.events);
    plan->extra = unknown_members(*head);
    return plan;
}

std::optional<Error> too_long(std::string_view bytes) {
    if (bytes.size() <= max_plan_bytes) return std::nullopt;
    return Error{"", "The file is " + std::to_string(bytes.size()) + " bytes long; at most " +
                         std::to_string(max_plan_bytes) + " can be read."};
}

}  // namespace

base::Result<PlanFile> read_plan(std::string_view bytes) {
    if (auto error = too_long(bytes)) return tl::make_unexpected(*std::move(error));
    if (is_sealed(bytes)) {
        return base::fail("/format",
                          "This plan file is sealed with a passcode. Open it in the app with that "
                          "passcode; saved again without a passcode it can be read here.");
    }
    return finish(Walker(bytes, false).run());
}

Salvage salvage_plan(std::string_view bytes) {
    Salvage out;
    if (const auto error = too_long(bytes)) {
        out.why = error->text();
        return out;
    }
    Walk walk = Walker(bytes, true).run();
    out.events = walk.events;
    out.lost = walk.lost;
    record::normalise(out.events);
    const auto plan = finish(std::move(walk));
    if (!plan) out.why = plan.error().text();
    return out;
}

std::string write_plan(std::span<const Event> events, std::string_view extra) {
    std::string out = R"({"format":")" + std::string(plan_format) + R"(","version":)" +
                      std::to_string(plan_version) + R"(,"app":"tallyround","checksum":")";
    const std::size_t checksum_at = out.size();
    out += std::string(32, '0') + "\"";
    if (extra.size() > 2) {
        out += ",";
        out += extra.substr(1, extra.size() - 2);
    }
    out += ",\n\"events\":[";
    record::Hasher hasher;
    for (std::size_t i = 0; i < events.size(); ++i) {
        out += i > 0 ? ",\n" : "\n";
        const std::size_t line = out.size();
        record::append_line(out, events[i]);
        if (i > 0) hasher.add("\n");
        hasher.add(std::string_view(out).substr(line));
    }
    out += events.empty() ? "]}\n" : "\n]}\n";
    out.replace(checksum_at, 32, hasher.hex());
    return out;
}

}  // namespace tallyround::exchange
