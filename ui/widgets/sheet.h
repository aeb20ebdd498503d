#pragma once
#include <string_view>

#include "ui/widgets/controls.h"

namespace tallyround::ui {

/// A surface over the screen: a panel in the middle of a tablet, from below on a phone. Covers what
/// was painted before, opens a dialog node and a scroll area; tapping beside it closes it.
/// Returns the column to fill; call `end_sheet` with it. `want` is the height of the content in
/// points, as far as it is known; the sheet never gets taller than the screen.
Column begin_sheet(Ui& ui, std::string_view title, float want, const Action& close);
/// Above every sheet there is room for a message, so that it never covers the sheet's buttons.
inline constexpr float sheet_margin = touch + 3 * gap;
void end_sheet(Ui& ui, const Column& column);

/// "Done", for a sheet whose every tap counts at once.
void done_button(Ui& ui, Column& column);

/// Closes whatever lies over the screen.
void close_overlay(Act& act);

}  // namespace tallyround::ui
