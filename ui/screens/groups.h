#pragma once
#include "ui/group_desk.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

// What the files of the groups screen share.

/// The groups as cards, with chips to tap, hold and drag.
void group_cards(Ui& ui, const Scene& scene, Column& column);
/// Students without a group, if any.
void without_group(Ui& ui, const Scene& scene, Column& column);
/// A grid of toggles, one a student who has not left.
void student_toggles(Ui& ui, const Scene& scene, Column& column, std::string_view name,
                     const std::vector<model::StudentId>& on,
                     const std::function<void(Act&, const model::StudentId&)>& tap);
/// The groups that a decision would set, or nullptr.
const model::Groups* groups_of(const session::Decision& decision);
/// The command of the choices on screen.
session::MakeGroups groups_wish(const Scene& scene);

}  // namespace tallyround::ui
