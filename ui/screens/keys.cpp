#include <utility>

#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

struct KeyWords {
    const char* keys;
    const char* what;
};

constexpr KeyWords everywhere[] = {
    {"Tab", "To the next thing on screen; with Shift, to the one before"},
    {"Arrow keys", "To the nearest thing above, below, left or right"},
    {"Enter or Space", "Press it"},
    {"Escape", "Close a sheet, leave the board, let go of what was picked"},
    {"Ctrl Z or ⌘ Z", "Undo"},
};

constexpr KeyWords single[] = {
    {"1  2  3", "In the lesson: secure, shaky, stuck for the student the keyboard is at"},
    {"W", "In the lesson: that student waits for help, or no longer"},
    {"?", "This list"},
};

void key_row(Ui& ui, Column& column, const KeyWords& row) {
    const float name_w = std::min(column.w * 0.4F, ui.scaled(150));
    const Rect name{column.x, column.y, name_w, 0};
    const Rect what{column.x + name_w + gap, column.y, column.w - name_w - gap, 0};
    const Style bold = ui.style(body_size, ui.theme.ink, true);
    const float name_h = ui.type().paragraph(name, row.keys, bold);
    const float what_h = ui.type().paragraph(what, row.what, ui.body());
    const float h = std::max(name_h, what_h);
    const std::uint32_t id = Ui::id({"key", row.keys});
    ui.node(Role::list_item, id, std::string(row.keys) + ": " + row.what,
            {column.x, column.y, column.w, h});
    column.skip(h + gap);
}

template <class Rows>
void key_list(Ui& ui, Column& column, const char* title, const Rows& rows) {
    column.y += ui.heading(3, title, {column.x, column.y, column.w, 0},
                           ui.style(body_size, ui.theme.ink_soft, true));
    column.skip(gap);
    ui.open(Role::list, Ui::id({"keys", title}), title, {column.x, column.y, column.w, 10});
    for (const KeyWords& row : rows)
        key_row(ui, column, row);
    ui.close();
    column.skip(gap);
}

}  // namespace

void keys_sheet(Ui& ui, const Scene& scene) {
    Column column = begin_sheet(ui, "Keys", ui.scaled(560), close_overlay);
    key_list(ui, column, "Everywhere", everywhere);
    key_list(ui, column, "Single keys", single);
    const bool on = scene.view.single_keys;
    toggle(ui, column.row(std::max(touch, ui.scaled(46))), Ui::id({"single-keys"}),
           "Single keys count", on, [on](Act& act) { act.view.single_keys = !on; });
    column.skip(gap);
    column.y += ui.paragraph("Turn them off if they are pressed by dictation or by mistake.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    done_button(ui, column);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
