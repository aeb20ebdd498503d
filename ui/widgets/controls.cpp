#include "ui/widgets/controls.h"

#include <algorithm>

namespace tallyround::ui {

namespace {

struct Paint {
    ImU32 surface;
    ImU32 ink;
    bool edge;
};

Paint paint_of(const Ui& ui, const Button& b, bool pressed) {
    const Theme& t = ui.theme;
    if (b.disabled) return {t.sunk, fade(t.ink_soft, 0.75F), false};
    switch (b.weight) {
        case Weight::primary:
            return {t.accent, t.on_accent, false};
        case Weight::danger:
            return {t.card, t.alert, true};
        case Weight::quiet:
            return {pressed ? t.sunk : fade(t.card, 0), t.accent, t.outlines};
        case Weight::plain:
            break;
    }
    return {pressed ? t.accent_soft : t.card, t.ink, true};
}

/// The target of a control: at least `touch` points each way, grown around its middle.
Rect reach(const Rect& r) {
    const float dx = std::max(0.0F, (touch - r.w) / 2);
    const float dy = std::max(0.0F, (touch - r.h) / 2);
    return {r.x - dx, r.y - dy, r.w + 2 * dx, r.h + 2 * dy};
}

}  // namespace

void button(Ui& ui, const Rect& r, const Button& b, Action tap) {
    const bool pressed = ui.pressed(b.id);
    const Paint p = paint_of(ui, b, pressed);
    const Rect face = pressed ? inset(r, 1) : r;
    ui.fill(face, p.surface);
    if (p.edge) ui.outline(face, ui.theme.outlines ? ui.theme.line : fade(ui.theme.line, 0.7F));
    if (ui.focused(b.id)) ui.focus_ring(r);

    Style style = ui.style(b.size, p.ink, b.weight == Weight::primary, Align::center);
    if (b.icon_only) {
        const float side = std::min({ui.scaled(24), r.w - 8, r.h - 8});
        draw_icon(ui, b.icon, {r.x + (r.w - side) / 2, r.y + (r.h - side) / 2, side, side}, p.ink,
                  2.2F);
    } else if (b.icon != Icon::none) {
        const float side = ui.scaled(b.size + 3);
        const float room = r.w - side - 28;
        const float text = std::min(ui.type().width(b.label, style), room);
        float x = r.x + (r.w - text - side - gap) / 2;
        const Rect icon{b.icon_after ? x + text + gap : x, r.y + (r.h - side) / 2, side, side};
        if (!b.icon_after) x += side + gap;
        draw_icon(ui, b.icon, icon, p.ink, 2.2F);
        style.align = Align::left;
        ui.type().line({x, r.y, text + 2, r.h}, b.label, style);
    } else {
        ui.type().line(inset(r, 8, 0), b.label, style);
    }
    Node& n = ui.node(Role::button, b.id, b.spoken.empty() ? b.label : b.spoken, r);
    n.disabled = b.disabled;
    n.has_popup = b.has_popup;
    if (!b.disabled) ui.target(b.id, reach(r), std::move(tap));
}

bool button_fits(Ui& ui, float width, const Button& b) {
    const Style style = ui.style(b.size, 0, b.weight == Weight::primary);
    const float icon = b.icon == Icon::none ? 0 : ui.scaled(b.size + 3) + 12;
    return ui.type().width(b.label, style) + icon + 16 <= width;
}

void button_pair(Ui& ui, Column& column, float h, const Button& left, Action left_tap,
                 const Button& right, Action right_tap) {
    const float half = (column.w - gap) / 2;
    if (button_fits(ui, half, left) && button_fits(ui, half, right)) {
        const Rect row = column.row(h);
        button(ui, cell(row, 0, 2), left, std::move(left_tap));
        button(ui, cell(row, 1, 2), right, std::move(right_tap));
        return;
    }
    button(ui, column.row(h), right, std::move(right_tap));
    button(ui, column.row(h), left, std::move(left_tap));
}

float toggle_width(Ui& ui, std::string_view label) {
    return std::max(touch, ui.type().width(label, ui.style(body_size, 0)) + 32);
}

void toggle(Ui& ui, const Rect& r, std::uint32_t id, std::string_view label, bool on, Action tap) {
    const Theme& t = ui.theme;
    const float round = std::min(r.h / 2, 24.0F);
    ui.fill(r, on ? t.accent : t.card, round);
    ui.outline(r, on ? t.accent : fade(t.line, t.outlines ? 1 : 0.7F), round);
    if (ui.focused(id)) ui.focus_ring(r, round);
    ui.type().line(inset(r, 10, 0), label,
                   ui.style(body_size, on ? t.on_accent : t.ink, false, Align::center));
    Node& n = ui.node(Role::checkbox, id, label, r);
    n.checked = on;
    ui.target(id, reach(r), std::move(tap));
}

void choices(Ui& ui, const Rect& r, std::string_view name, const std::vector<Choice>& all) {
    const Theme& t = ui.theme;
    ui.open(Role::group, Ui::id({"choices", name}), name, r);
    ui.fill(r, t.sunk);
    if (t.outlines) ui.outline(r, t.line);
    const int count = int(all.size());
    for (int i = 0; i < count; ++i) {
        const Choice& c = all[std::size_t(i)];
        const Rect part = cell(r, i, count, 0);
        const std::uint32_t id = Ui::id({"choice", name, c.label});
        if (c.on) {
            ui.fill(inset(part, 3), t.card, corner - 2);
            ui.outline(inset(part, 3), t.accent, corner - 2, 2);
        }
        if (ui.focused(id)) ui.focus_ring(inset(part, 3));
        ui.type().line(inset(part, 6, 0), c.label,
                       ui.style(16, c.on ? t.accent : t.ink, c.on, Align::center));
        Node& n = ui.node(Role::radio, id, c.label, part);
        n.checked = c.on;
        ui.target(id, part, c.tap);
    }
    ui.close();
}

void stepper(Ui& ui, const Rect& r, std::string_view name, int value, int low, int high, int step,
             std::string_view unit, std::function<void(Act&, int)> change) {
    ui.open(Role::group, Ui::id({"stepper", name}), name, r);
    Rect rest = r;
    Rect plus = cut_right(rest, touch);
    const Rect number = cut_right(rest, ui.scaled(unit.empty() ? 56 : 92));
    Rect minus = cut_right(rest, touch);
    plus = {plus.x, r.y + (r.h - touch) / 2, touch, touch};
    minus = {minus.x, r.y + (r.h - touch) / 2, touch, touch};
    if (ui.type().width(name, ui.body()) <= rest.w) {
        ui.type().line(rest, name, ui.body());
    } else {
        const float used = ui.type().paragraph({0, 0, rest.w, 0}, name, ui.body(), false);
        ui.type().paragraph({rest.x, r.y + (r.h - used) / 2, rest.w, 0}, name, ui.body());
    }
    const std::string shown = std::to_string(value) + (unit.empty() ? "" : " " + std::string(unit));
    const std::string spoken = std::string(name) + ": " + shown;
    ui.text_line(shown, number, ui.style(body_size, ui.theme.ink, true, Align::center));
    const auto put = [&](const Rect& at, Icon icon, const char* verb, int to) {
        Button b;
        b.id = Ui::id({"step", name, verb});
        b.spoken = std::string(verb) + " " + std::string(name);
        b.icon = icon;
        b.icon_only = true;
        b.disabled = to == value;
        button(ui, at, b, [change, to, id = b.id](Act& act) {
            change(act, to);
            act.view.stays = id;  // text of another size must not move it from under the finger
        });
    };
    put(minus, Icon::minus, "Less", std::max(low, value - step));
    put(plus, Icon::plus, "More", std::min(high, value + step));
    ui.close();
}

float field_height(Ui& ui, bool with_label) {
    return std::max(touch, ui.scaled(44)) + (with_label ? ui.scaled(24) : 0);
}

void text_field(Ui& ui, const Rect& r, const Field& field, TextAction done, TextAction edit) {
    Rect box = r;
    if (!field.hide_label) {
        ui.type().line(cut_top(box, ui.scaled(24)), field.label,
                       ui.style(small_size, ui.theme.ink_soft));
    }
    const std::uint32_t id = Ui::id({"field", field.name});
    ui.fill(box, ui.theme.sunk);
    ui.outline(box, ui.focused(id) ? ui.theme.focus : ui.theme.line, corner,
               ui.focused(id) ? 2.5F : 1.2F);
    Node& n = ui.node(field.area ? Role::text_area : Role::text_field, id, field.label, box);
    n.value = field.value;
    n.hint = field.hint;
    n.keyboard = field.keyboard;
    n.font_size = std::max(16.0F, body_size * ui.text_scale);
    if (!edit) {
        edit = [name = field.name](Act& act, const std::string& text) {
            act.view.drafts[name] = text;
        };
    }
    ui.on_text(id, std::move(edit), std::move(done));
    // The page's own element takes the touches; a press on the frame beside it gives it focus.
    ui.target(id, box, [id](Act& act) { act.fx.emplace_back(Focus{id}); });
}

namespace {

Action empty_draft(std::string_view name) {
    return [name = std::string(name)](Act& act) { act.view.drafts[name].clear(); };
}

}  // namespace

std::string search_field(Ui& ui, Column& column, std::string_view name, std::string_view label,
                         const std::string& text) {
    Rect row = column.row(field_height(ui));
    Field f;
    f.name = std::string(name);
    f.label = std::string(label);
    f.value = text;
    f.keyboard = "search";
    Rect box = cut_left(row, row.w - (text.empty() ? 0 : touch + gap));
    text_field(ui, box, f);
    if (!text.empty()) {
        Button clear;
        clear.id = Ui::id({"empty", name});
        clear.spoken = "Empty the search";
        clear.icon = Icon::close;
        clear.icon_only = true;
        clear.weight = Weight::quiet;
        const Rect at = cut_right(row, touch);
        button(ui, {at.x, at.bottom() - touch, touch, touch}, clear, empty_draft(name));
    }
    column.skip(gap);
    return text;
}

void nothing_found(Ui& ui, Column& column, std::string_view name, const std::string& text) {
    column.y += ui.paragraph("Nothing here has \"" + text + "\" in it. A few letters are enough.",
                             {column.x, column.y, column.w, 0}, ui.body(), Role::status);
    column.skip(gap);
    Button all;
    all.id = Ui::id({"show-all", name});
    all.label = "Show all";
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), all, empty_draft(name));
}

float row_height(Ui& ui, float width, const RowItem& item) {
    float text = width - 2 * pad;
    if (item.icon != Icon::none) text -= ui.scaled(24) + 12;
    if (item.trailing != Icon::none) text -= ui.scaled(24) + gap;
    const Rect box{0, 0, text, 0};
    float h = ui.type().paragraph(box, item.title, ui.body(), false);
    if (!item.detail.empty()) h += ui.type().paragraph(box, item.detail, ui.soft(), false) + 2;
    return std::max(touch + 4, h + 20);
}

void row_item(Ui& ui, const Rect& r, const RowItem& item, Action tap, Action hold) {
    const Theme& t = ui.theme;
    if (ui.visible(r)) {
        ui.card(r, ui.pressed(item.id) ? t.sunk : item.on ? t.accent_soft : t.card);
        if (ui.focused(item.id)) ui.focus_ring(r);
        Rect rest = inset(r, pad, 0);
        const float side = ui.scaled(24);
        if (item.icon != Icon::none) {
            const Rect at = cut_left(rest, side + 12);
            draw_icon(ui, item.icon, {at.x, at.y, side, at.h}, item.on ? t.accent : t.ink_soft);
        }
        if (item.trailing != Icon::none) {
            const Rect at = cut_right(rest, side + gap);
            draw_icon(ui, item.trailing, {at.x + gap, at.y, side, at.h},
                      item.on ? t.accent : t.ink_soft);
        }
        const Rect box{rest.x, 0, rest.w, 0};
        const float title = ui.type().paragraph(box, item.title, ui.body(), false);
        const float detail =
            item.detail.empty() ? 0 : ui.type().paragraph(box, item.detail, ui.soft(), false) + 2;
        const float y = r.y + (r.h - title - detail) / 2;
        ui.type().paragraph({rest.x, y, rest.w, 0}, item.title, ui.body());
        if (!item.detail.empty()) {
            ui.type().paragraph({rest.x, y + title + 2, rest.w, 0}, item.detail, ui.soft());
        }
    }
    std::string spoken = item.spoken;
    if (spoken.empty()) {
        spoken = item.detail.empty() ? item.title : item.title + ", " + item.detail;
    }
    Node& n = ui.node(item.role, item.id, spoken, r);
    n.checked = item.on;
    ui.target(item.id, r, std::move(tap), std::move(hold));
}

float badge(Ui& ui, float x, float y, std::string_view text, ImU32 surface, ImU32 ink) {
    const Style style = ui.style(small_size, ink, true, Align::center);
    const float w = ui.type().width(text, style) + 16;
    const Rect r{x, y, w, ui.scaled(24)};
    ui.fill(r, surface, 6);
    ui.type().line(r, text, style);
    return w;
}

float empty_state(Ui& ui, Column& column, Icon icon, std::string_view title,
                  std::string_view text) {
    const float top = column.y;
    column.skip(ui.scaled(20));
    const Rect at = column.row(ui.scaled(56));
    draw_icon(ui, icon, at, ui.theme.accent, 2.5F);
    const Rect narrow{column.x + column.w * 0.06F, column.y, column.w * 0.88F, 0};
    column.y +=
        ui.heading(2, title, narrow, ui.style(lead_size, ui.theme.ink, true, Align::center)) + gap;
    column.y += ui.paragraph(text, {narrow.x, column.y, narrow.w, 0},
                             ui.style(body_size, ui.theme.ink_soft, false, Align::center));
    column.skip(pad);
    return column.y - top;
}

}  // namespace tallyround::ui
