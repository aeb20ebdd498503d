#pragma once
#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "exchange/roster.h"

namespace tallyround::test {

inline exchange::Roster roster_of(std::string_view bytes) {
    auto roster = exchange::read_roster(bytes);
    INFO("input: " << std::string(bytes.substr(0, 200)));
    if (!roster) INFO("error: " << roster.error().text());
    REQUIRE(roster);
    return *std::move(roster);
}

inline base::Error refused(std::string_view bytes, std::string_view file_name = {}) {
    const auto roster = exchange::read_roster(bytes, file_name);
    INFO("input: " << std::string(bytes.substr(0, 200)));
    REQUIRE_FALSE(roster);
    CHECK_FALSE(roster.error().message.empty());
    return roster.error();
}

using Strings = std::vector<std::string>;

inline Strings names(std::string_view bytes) {
    Strings out;
    for (const auto& s : roster_of(bytes).students)
        out.push_back(s.name);
    return out;
}

/// "given|family" of every student.
inline Strings parts(std::string_view bytes) {
    Strings out;
    for (const auto& s : roster_of(bytes).students)
        out.push_back(s.given + "|" + s.family);
    return out;
}

inline Strings source_ids(std::string_view bytes) {
    Strings out;
    for (const auto& s : roster_of(bytes).students)
        out.push_back(s.source_id);
    return out;
}

/// True when a warning at `row` has `words` in it.
inline bool warned(const exchange::Roster& roster, std::size_t row, std::string_view words) {
    for (const auto& w : roster.warnings) {
        if (w.row == row && w.message.find(words) != std::string::npos) return true;
    }
    return false;
}

inline bool says(const base::Error& error, std::string_view words) {
    return error.text().find(words) != std::string::npos;
}

}  // namespace tallyround::test
