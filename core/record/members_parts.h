#pragma once
#include <cstdint>
#include <limits>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <variant>
#include <vector>

#include "record/enum_words.h"
#include "record/event.h"

/// What a table of members is, and those of the values that events are made of.
namespace tallyround::record {

/// Milliseconds that a file may hold: JSON's safe whole numbers (RFC 8259, section 6).
constexpr std::int64_t max_ms = (std::int64_t{1} << 53U) - 1;
constexpr std::int64_t max_text = 100'000;

/// One member of an event: its name in files, where it is kept, and what it may be. `low` and
/// `high` bound whole numbers; for text `high` is the most bytes. An optional member is left out
/// of a file when it has the value that a new object has.
template <class Owner, class Value>
struct Member {
    std::string_view name;
    Value Owner::*at;
    std::int64_t low;
    std::int64_t high;
    bool optional;
};

namespace members {

template <class Owner, class Value>
constexpr Member<Owner, Value> need(std::string_view name, Value Owner::*at) {
    return {name, at, 0, max_text, false};
}
template <class Owner, class Value>
constexpr Member<Owner, Value> may(std::string_view name, Value Owner::*at) {
    return {name, at, 0, max_text, true};
}
template <class Owner, class Value>
constexpr Member<Owner, Value> whole(std::string_view name, Value Owner::*at, std::int64_t low,
                                     std::int64_t high, bool optional = false) {
    return {name, at, low, high, optional};
}
/// Text of at most `most` bytes.
template <class Owner>
constexpr Member<Owner, std::string> long_text(std::string_view name, std::string Owner::*at,
                                               std::int64_t most) {
    return {name, at, 0, most, false};
}
/// A list of whole numbers, left out when it is empty.
template <class Owner>
constexpr Member<Owner, std::vector<int>> numbers(std::string_view name,
                                                  std::vector<int> Owner::*at, std::int64_t low,
                                                  std::int64_t high) {
    return {name, at, low, high, true};
}
template <class Owner>
constexpr Member<Owner, std::int64_t> ms(std::string_view name, std::int64_t Owner::*at) {
    return {name, at, -max_ms, max_ms, false};
}

}  // namespace members

template <class T>
struct Described;

/// A value with members of its own that is no event: a timing, a card.
template <class T>
concept Part = requires {
    Described<T>::list;
}
&&!requires {
    Described<T>::kind;
};

namespace members {

constexpr std::int64_t max_grade = 20;
constexpr std::int64_t max_round = 10'000;
constexpr std::int64_t max_minutes = 24 * 60;
constexpr std::int64_t max_devices = 10'000;
constexpr std::int64_t max_holds = 60;
constexpr std::int64_t max_tier = 3;
constexpr std::int64_t max_pixels = 10'000;
/// Bytes of base64 text that 100 KiB come to.
constexpr std::int64_t max_picture = (100 * 1024 + 2) / 3 * 4;
constexpr std::int64_t max_group = 9'999;

}  // namespace members

template <>
struct Described<Timing> {
    static constexpr auto list = std::tuple{
        members::whole("rounds", &Timing::rounds, 0, members::max_round),
        members::whole("round_minutes", &Timing::round_minutes, 0, members::max_minutes),
        members::whole("move_minutes", &Timing::move_minutes, 0, members::max_minutes),
        members::whole("opening_minutes", &Timing::opening_minutes, 0, members::max_minutes),
        members::whole("closing_minutes", &Timing::closing_minutes, 0, members::max_minutes),
        members::whole("rounds_a_day", &Timing::rounds_a_day, 0, members::max_round, true)};
};

template <>
struct Described<Seat> {
    static constexpr auto list =
        std::tuple{members::need("student", &Seat::student),
                   members::whole("group", &Seat::group, 0, members::max_group)};
};
template <>
struct Described<Helper> {
    static constexpr auto list = std::tuple{
        members::need("name", &Helper::name), members::need("students", &Helper::students),
        members::numbers("rounds", &Helper::rounds, 1, members::max_round)};
};
template <>
struct Described<GroupRules> {
    static constexpr auto list =
        std::tuple{members::may("seats", &GroupRules::seats),
                   members::numbers("locked", &GroupRules::locked, 0, members::max_group),
                   members::may("helpers", &GroupRules::helpers)};
};
template <>
struct Described<ChartRule> {
    static constexpr auto list =
        std::tuple{members::need("rule", &ChartRule::kind),
                   members::need("center", &ChartRule::center),
                   members::may("then", &ChartRule::then),
                   members::whole("round", &ChartRule::round, 1, members::max_round, true),
                   members::whole("times", &ChartRule::times, 0, members::max_round, true),
                   members::numbers("groups", &ChartRule::groups, 0, members::max_group),
                   members::numbers("rounds", &ChartRule::rounds, 1, members::max_round)};
};
template <>
struct Described<ChartRules> {
    static constexpr auto list = std::tuple{members::need("order", &ChartRules::order),
                                            members::may("rules", &ChartRules::rules)};
};

template <>
struct Described<OwnCard> {
    static constexpr auto list = std::tuple{
        members::need("prompt", &OwnCard::prompt), members::need("answer", &OwnCard::answer),
        members::may("picture", &OwnCard::picture), members::may("shows", &OwnCard::shows)};
};
/// Calls `visit(member)` for each member of T in order.
template <class T, class Visit>
constexpr void each_member(Visit&& visit) {
    std::apply([&](const auto&... member) { (visit(member), ...); }, Described<T>::list);
}

}  // namespace tallyround::record
