#pragma once
#include <charconv>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/civil.h"
#include "record/members.h"

/// Values of events as JSON text: RFC 8259, no spaces, no floating point.
namespace tallyround::record::write {

/// A JSON string; control characters escaped, bytes that are not UTF-8 become U+FFFD.
void text(std::string& out, std::string_view value);

inline void number(std::string& out, std::int64_t value) {
    char digits[24];
    const auto end = std::to_chars(digits, digits + sizeof digits, value).ptr;
    out.append(digits, static_cast<std::size_t>(end - digits));
}

inline void value(std::string& out, const std::string& v) {
    text(out, v);
}
inline void value(std::string& out, bool v) {
    out += v ? "true" : "false";
}
inline void value(std::string& out, int v) {
    number(out, v);
}
inline void value(std::string& out, std::int64_t v) {
    number(out, v);
}
template <class Tag>
void value(std::string& out, const base::Id<Tag>& v) {
    text(out, v.view());
}
template <class E>
requires std::is_enum_v<E>
void value(std::string& out, E v) {
    text(out, Words<E>::list[static_cast<std::size_t>(v)]);
}

template <class Owner>
void object(std::string& out, const Owner& owner);

inline void span(std::string& out, int start_minute, int end_minute) {
    out += R"("start":")" + base::clock_text(start_minute * 60) + R"(","end":")" +
           base::clock_text(end_minute * 60) + '"';
}
inline void value(std::string& out, const Break& v) {
    out += '{';
    span(out, v.start_minute, v.end_minute);
    out += '}';
}
template <class T>
void value(std::string& out, const std::vector<T>& list);

inline void value(std::string& out, const Period& v) {
    out += R"({"date":")" + base::to_text(v.date) + R"(",)";
    span(out, v.start_minute, v.end_minute);
    if (!v.breaks.empty()) {
        out += R"(,"breaks":)";
        value(out, v.breaks);
    }
    out += '}';
}
template <Part T>
void value(std::string& out, const T& v) {
    object(out, v);
}
inline void value(std::string& out, const EventRef& v) {
    out += '[';
    text(out, v.replica.view());
    out += ',';
    number(out, static_cast<std::int64_t>(v.sequence));
    out += ']';
}
template <class T>
void value(std::string& out, const std::vector<T>& list) {
    out += '[';
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (i > 0) out += ',';
        value(out, list[i]);
    }
    out += ']';
}

/// `,"name":value` for every member that is needed or not at its default.
template <class Owner>
void members(std::string& out, const Owner& owner) {
    [[maybe_unused]] static const Owner fresh{};
    each_member<Owner>([&](const auto& m) {
        if (m.optional && owner.*m.at == fresh.*m.at) return;
        out += ",\"";
        out += m.name;
        out += "\":";
        value(out, owner.*m.at);
    });
}

template <class Owner>
void object(std::string& out, const Owner& owner) {
    const std::size_t start = out.size();
    members(out, owner);
    if (out.size() == start) out += ' ';
    out[start] = '{';
    out += '}';
}

}  // namespace tallyround::record::write
