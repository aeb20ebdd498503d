#pragma once
#include "model/mark.h"
#include "ui/widgets/ui.h"

namespace tallyround::ui {

/// Line drawings of our own, made from the draw list's strokes.
enum class Icon {
    none,
    back,
    forward,
    down,
    plus,
    minus,
    close,
    check,
    people,
    aim,
    place,
    clock,
    groups,
    grid,
    walk,
    chart,
    gear,
    flag,
    pause,
    play,
    undo,
    shuffle,
    file,
    print,
    pen,
    more,
    trash,
    home,
    swap,
    lock,
    unlock,
};

/// Centred in `box`, as large as its smaller side.
void draw_icon(Ui& ui, Icon icon, const Rect& box, ImU32 color, float thickness = 2);

/// What is done at a center of this kind, as a small drawing of our own.
void draw_kind(Ui& ui, std::string_view kind, const Rect& box, ImU32 color, float thickness = 2);

/// The shape of a level, told apart without colour: secure is a filled kite, shaky a half-filled
/// one, stuck a bar across an empty one.
void draw_level(Ui& ui, model::Level level, const Rect& box, ImU32 color);
ImU32 level_color(const Theme& theme, model::Level level);

}  // namespace tallyround::ui
