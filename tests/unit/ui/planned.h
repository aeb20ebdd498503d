#pragma once
#include "hands.h"

namespace tallyround::ui {

/// From nothing to the groups screen, as a new user would: a class of these names (one a line), six
/// skills with a center each, two periods.
inline void plan_to_groups(Hands& h, const std::string& names) {
    h.tap(Role::button, "Start with your class");
    h.type("Name of the class", "Room 12");
    h.tap(Role::button, "Make the class");
    h.type("Names, one a line", names);
    h.tap(Role::button, "Add these names");
    h.tap(Role::button, "Choose skills");
    std::vector<std::uint32_t> skills;
    for (const Node& n : h.nodes) {
        if (n.role == Role::checkbox) skills.push_back(n.id);
    }
    REQUIRE(skills.size() >= 6);
    for (std::size_t i = 0; i < 6; ++i)
        h.tap_node(skills[i]);
    h.tap(Role::button, "Make centers for 6 skills");
    h.tap(Role::button, "One center for each skill");
    h.tap(Role::button, "Fit into the period");
    h.tap(Role::button, "Set the period");
    h.tap(Role::button, "Add another day");
    h.tap(Role::button, "Make groups");
}

}  // namespace tallyround::ui
