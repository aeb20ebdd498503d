#include <algorithm>
#include <nlohmann/json.hpp>

#include "record/codec.h"
#include "record/members.h"

namespace tallyround::record {

namespace {

using json::Field;
using json::Json;

constexpr std::int64_t max_sequence = max_ms;

struct Bounds {
    std::int64_t low;
    std::int64_t high;
};

/// An id, or nothing where `empty_too`.
template <class Tag>
void read(const Field& f, base::Id<Tag>& out, bool empty_too) {
    const std::string text = f.text();
    if (!(empty_too && text.empty()) && !base::Id<Tag>::fits(text)) {
        f.refuse("Expected an id: 1 to 23 letters, digits, dots, dashes or underscores.");
    }
    out = base::Id<Tag>(text);
}

template <class Tag>
void read(const Field& f, base::Id<Tag>& out, Bounds) {
    read(f, out, false);
}
void read(const Field& f, std::string& out, Bounds bounds) {
    out = f.text(static_cast<std::size_t>(bounds.high));
}
void read(const Field& f, bool& out, Bounds) {
    out = f.boolean();
}
void read(const Field& f, int& out, Bounds bounds) {
    out = static_cast<int>(f.integer(bounds.low, bounds.high));
}
void read(const Field& f, std::int64_t& out, Bounds bounds) {
    out = f.integer(bounds.low, bounds.high);
}

template <class E>
requires std::is_enum_v<E>
void read(const Field& f, E& out, Bounds) {
    const std::string text = f.text();
    const auto& words = Words<E>::list;
    const auto it = std::find(std::begin(words), std::end(words), text);
    if (it == std::end(words)) {
        std::string expected;
        for (const auto word : words)
            expected += (expected.empty() ? "" : ", ") + std::string(word);
        f.refuse("Expected one of: " + expected + ".");
    }
    out = static_cast<E>(it - std::begin(words));
}

int read_minute(const Field& f) {
    const auto seconds = base::parse_clock(f.text());
    if (!seconds || *seconds % 60 != 0) f.refuse("Expected a time of day such as \"09:10\".");
    return *seconds / 60;
}

void read(const Field& f, Break& out, Bounds) {
    out = {read_minute(f.at("start")), read_minute(f.at("end"))};
}

template <class T>
void read(const Field& f, std::vector<T>& out, Bounds bounds);

void read(const Field& f, Period& out, Bounds bounds) {
    const Field date = f.at("date");
    const auto day = base::parse_date(date.text());
    if (!day) date.refuse("Expected a date such as \"2026-12-01\".");
    out = {*day, read_minute(f.at("start")), read_minute(f.at("end")), {}};
    if (const auto breaks = f.find("breaks")) read(*breaks, out.breaks, bounds);
}

void read(const Field& f, EventRef& out, Bounds) {
    const auto parts = f.items(2);
    if (parts.size() != 2) f.refuse("Expected an event's name: [\"replica\", number].");
    read(parts[0], out.replica, false);
    out.sequence = static_cast<std::uint64_t>(parts[1].integer(0, max_sequence));
}

template <Part T>
void read(const Field& f, T& out, Bounds);

template <class Owner>
void read_members(const Field& f, Owner& out) {
    each_member<Owner>([&](const auto& m) {
        if (m.optional) {
            if (const auto found = f.find(m.name)) read(*found, out.*m.at, Bounds{m.low, m.high});
        } else {
            read(f.at(m.name), out.*m.at, Bounds{m.low, m.high});
        }
    });
}

template <Part T>
void read(const Field& f, T& out, Bounds) {
    read_members(f, out);
}

void read(const Field& f, std::vector<CenterId>& out, Bounds) {
    for (const Field& item : f.items())
        read(item, out.emplace_back(), true);
}

template <class T>
void read(const Field& f, std::vector<T>& out, Bounds bounds) {
    for (const Field& item : f.items())
        read(item, out.emplace_back(), bounds);
}

bool is_common(std::string_view name) {
    return name == at_name || name == by_name || name == n_name || name == kind_name;
}

/// The members that `known` does not name, as the text of one object; empty if there are none.
template <class Known>
std::string others(const Json& object, Known&& known) {
    Json rest = Json::object();
    for (const auto& [name, value] : object.items()) {
        if (!known(name)) rest[name] = value;
    }
    return rest.empty() ? std::string() : rest.dump();
}

Stamp read_stamp(const Field& f) {
    Stamp stamp;
    const Field at = f.at(at_name);
    const auto parts = at.items(2);
    if (parts.size() != 2) at.refuse("Expected [milliseconds, counter].");
    stamp.ms = parts[0].integer(0, max_ms);
    stamp.counter = static_cast<std::uint32_t>(parts[1].integer(0, 0xFFFFFFFFLL));
    read(f.at(by_name), stamp.replica, false);
    stamp.sequence = static_cast<std::uint64_t>(f.at(n_name).integer(1, max_sequence));
    return stamp;
}

Event read_event(const Field& f) {
    Event event;
    event.stamp = read_stamp(f);
    const std::string kind = f.at(kind_name).text();
    const bool known = with_kind(kind, [&]<class B>(members::Tag<B>) {
        B body;
        read_members(f, body);
        event.body = std::move(body);
        event.extra = others(f.value(), [](std::string_view name) {
            bool mine = is_common(name);
            each_member<B>([&](const auto& m) { mine = mine || m.name == name; });
            return mine;
        });
    });
    if (!known) event.body = Foreign{kind, others(f.value(), is_common)};
    return event;
}

}  // namespace

base::Result<Event> from_json(const json::Field& field) {
    try {
        return read_event(field);
    } catch (const json::FieldError& e) {
        return base::fail(e.where.empty() ? "/" : e.where, e.what());
    }
}

base::Result<Event> from_line(std::string_view line) {
    Event event;
    if (scan_line(line, event)) return event;
    const auto document = json::parse(line);
    if (!document) return tl::make_unexpected(document.error());
    return from_json(json::Field(*document, ""));
}

}  // namespace tallyround::record
