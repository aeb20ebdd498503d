#include "ui/widgets/sheet.h"

#include <algorithm>

namespace tallyround::ui {

Column begin_sheet(Ui& ui, std::string_view title, float want, const Action& close) {
    const Surface& s = ui.surface;
    ui.cover();
    ui.block({0, 0, s.width, s.height}, close);

    const float head = std::max(ui.scaled(56), touch + gap);
    const float most = s.height - s.safe_top - s.safe_bottom - sheet_margin;
    const bool panel = s.width >= 700;
    const std::uint32_t scroll = Ui::id({"sheet-scroll", title});
    const float content = ui.remembered(scroll, want);
    const float h = std::min(content + head + pad, panel ? most - sheet_margin : most);
    Rect box;
    if (panel) {
        const float w = std::min(620.0F, s.width - 64);
        box = {(s.width - w) / 2, (s.height - h) / 2, w, h};
    } else {
        box = {0, s.height - h - s.safe_bottom, s.width, h + s.safe_bottom};
    }
    ui.block(box);
    ui.fill(box, ui.theme.card, 16);
    ui.outline(box, ui.theme.outlines ? ui.theme.line : fade(ui.theme.line, 0.4F), 16);
    ui.dialog = Ui::id({"sheet", title});
    ui.open(Role::dialog, ui.dialog, title, box);

    Rect inner = box;
    Rect top = inset(cut_top(inner, head), pad, 4);
    Button b;
    b.id = Ui::id({"sheet-close"});
    b.spoken = "Close";
    b.icon = Icon::close;
    b.icon_only = true;
    b.weight = Weight::quiet;
    Rect corner_box = cut_right(top, touch);
    button(ui, {corner_box.x + 8, corner_box.y, touch, touch}, b, close);
    const Style style = ui.style(lead_size, ui.theme.ink, true);
    ui.type().line(top, title, style);
    Node& n = ui.node(Role::heading, Ui::id({"sheet-title", title}), title, top);
    n.level = 2;
    cut_bottom(inner, panel ? 4 : s.safe_bottom);
    const float y = ui.begin_scroll(scroll, inner);
    return {inner.x + pad, y, inner.w - 2 * pad};
}

void end_sheet(Ui& ui, const Column& column) {
    const float content = ui.end_scroll(column.y + gap);
    ui.remember(ui.painted.scrollers.back().id, content);
    ui.close();
}

void done_button(Ui& ui, Column& column) {
    Button done;
    done.id = Ui::id({"sheet-done"});
    done.label = "Done";
    done.weight = Weight::primary;
    column.skip(gap);
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), done, close_overlay);
}

void close_overlay(Act& act) {
    act.view.slip.clear();
    act.view.overlay = Overlay::none;
}

}  // namespace tallyround::ui
