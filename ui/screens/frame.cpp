#include "ui/screens/frame.h"

#include <algorithm>

#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

using session::Step;

}  // namespace

void bar_button(Ui& ui, const Rect& at, const char* name, const char* spoken, Icon icon,
                const Action& action) {
    Button b;
    b.id = Ui::id({name});
    b.spoken = spoken;
    b.icon = icon;
    b.icon_only = true;
    b.weight = Weight::quiet;
    button(ui, at, b, action);
}

void home_button(Ui& ui, Rect& bar) {
    const Rect at = cut_left(bar, touch);
    bar_button(ui, {at.x, at.y + (at.h - touch) / 2, touch, touch}, "home", "All classes",
               Icon::home, go(Screen::home));
}

namespace {

void settings_button(Ui& ui, Rect& bar) {
    const Rect at = cut_right(bar, touch);
    bar_button(ui, {at.x, at.y + (at.h - touch) / 2, touch, touch}, "settings",
               "Settings and files", Icon::gear, go(Screen::settings));
}

}  // namespace

void saved_mark(Ui& ui, const Scene& scene, Rect& bar) {
    const bool good = scene.saved == Saved::saved;
    const bool busy = scene.saved == Saved::saving;
    const char* word = good                              ? "Saved"
                       : busy                            ? "Saving"
                       : scene.saved == Saved::read_only ? "Read only"
                                                         : "Not saved";
    const ImU32 color = good || busy ? ui.theme.ink_soft : ui.theme.alert;
    const Style style = ui.style(small_size, color, !good && !busy);
    const float w = ui.type().width("Not saved", style) + 26;
    Rect at = cut_right(bar, w);
    const Icon icon = good ? Icon::check : busy ? Icon::more : Icon::close;
    const Rect mark = cut_left(at, 20);
    draw_icon(ui, icon, {mark.x, mark.y + mark.h / 2 - 8, 16, 16}, color);
    ui.type().line(at, word, style);
    ui.node(Role::status, Ui::id({"saved"}), saved_text(scene), {mark.x, mark.y, w, mark.h});
}

namespace {

/// Pages about the evidence lead back to where they were opened.
Button back_button() {
    Button b;
    b.id = Ui::id({"page-back"});
    b.label = "Back";
    b.icon = Icon::back;
    return b;
}

Rect top_bar(Ui& ui, const Scene& scene, Rect& area) {
    Rect bar = cut_top(area, std::max(56.0F, ui.scaled(52)) + ui.surface.safe_top);
    ui.open(Role::banner, Ui::id({"banner"}), "", bar);
    cut_top(bar, ui.surface.safe_top);
    bar = inset(bar, gap, 0);
    if (scene.view.screen != Screen::home) home_button(ui, bar);
    if (is_insight_page(scene.view.screen) && ui.wide()) {
        Button b = back_button();
        const Rect at = cut_left(bar, ui.scaled(110));
        button(ui, {at.x, at.y + (at.h - touch) / 2, at.w, touch}, b, go_back);
    }
    if (scene.view.screen != Screen::settings) settings_button(ui, bar);
    saved_mark(ui, scene, bar);
    bar = inset(bar, gap, 0);
    std::string title = "Tallyround";
    if (scene.cls != nullptr && scene.view.screen != Screen::home) title = scene.cls->name;
    ui.type().line(bar, title, ui.style(lead_size, ui.theme.ink, true));
    ui.node(Role::text, Ui::id({"bar-title"}), title, bar);
    ui.close();
    return bar;
}

/// A strip across the top that stays until its cause is gone.
void strip(Ui& ui, Rect& area, const std::string& text, const char* label, Action act) {
    const Style style = ui.style(16, ui.theme.on_alert);
    const float action = ui.scaled(130);
    const float text_w = area.w - action - 3 * pad;
    const float used = ui.type().paragraph({0, 0, text_w, 0}, text, style, false);
    const Rect whole = cut_top(area, std::max(touch + gap, used + pad));
    ui.fill(whole, ui.theme.alert, 0);
    ui.open(Role::region, Ui::id({"strip"}), "Storage", whole);
    Rect inner = inset(whole, pad, 0);
    const Rect at = cut_right(inner, action);
    ui.paragraph(text, {inner.x, whole.y + (whole.h - used) / 2, text_w, 0}, style);
    Button b;
    b.id = Ui::id({"strip-action"});
    b.label = label;
    button(ui, {at.x, whole.y + (whole.h - touch) / 2, at.w, touch}, b, std::move(act));
    ui.close();
}

void trouble_strip(Ui& ui, const Scene& scene, Rect& area) {
    if (scene.saved == Saved::read_only) {
        strip(ui, area, saved_text(scene), "Take over",
              [](Act& act) { act.fx.emplace_back(TakeOver{}); });
    } else if (scene.saved != Saved::saved && scene.saved != Saved::saving) {
        strip(ui, area, saved_text(scene), "Save a file", [](Act& act) { act.save_plan(); });
    } else if (scene.damaged > 0) {
        strip(ui, area,
              base::count_of(scene.damaged, "stored entry was", "stored entries were") +
                  " damaged and set aside. Everything else is here. Save a file of it all for "
                  "whoever helps you.",
              "Save a file", [](Act& act) { act.save_stored(); });
    }
}

bool step_done(const Scene& scene, Step step) {
    return scene.cls != nullptr && step < session::next_step(*scene.cls);
}

void side_steps(Ui& ui, const Scene& scene, Rect& area) {
    Rect side = cut_left(area, 188 * std::min(ui.text_scale, 1.3F));
    ui.fill(side, ui.theme.sunk, 0);
    ui.open(Role::navigation, Ui::id({"steps"}), "Steps", side);
    Column column{side.x + gap, side.y + pad, side.w - 2 * gap};
    const float h = std::clamp((side.h - 2 * pad) / 8 - 4, touch, 60.0F);
    int number = 0;
    for (const StepWords& s : path()) {
        ++number;
        const Rect r = column.row(h, 4);
        const bool here = scene.view.screen == s.screen ||
                          (s.screen == Screen::review && is_insight_page(scene.view.screen));
        const bool done = step_done(scene, s.step);
        const std::uint32_t id = Ui::id({"step", s.title});
        if (here) ui.fill(r, ui.theme.accent);
        if (ui.pressed(id) && !here) ui.fill(r, ui.theme.accent_soft);
        if (ui.focused(id)) ui.focus_ring(r);
        const ImU32 ink = here ? ui.theme.on_accent : ui.theme.ink;
        Rect inner = inset(r, 12, 0);
        const Rect icon = cut_left(inner, 34);
        draw_icon(ui, s.icon, {icon.x, icon.y + icon.h / 2 - 12, 24, 24}, ink);
        if (done) {
            const Rect tick = cut_right(inner, 20);
            draw_icon(ui, Icon::check, {tick.x, tick.y + tick.h / 2 - 9, 18, 18}, ink);
        }
        ui.type().line(inner, s.title, ui.style(body_size, ink, here));
        Node& n = ui.node(Role::tab, id,
                          std::to_string(number) + ". " + s.title + (done ? ", done" : ""), r);
        n.checked = here;
        ui.target(id, r, go(s.screen));
    }
    ui.close();
}

void bottom_steps(Ui& ui, const Scene& scene, Rect& area) {
    Rect bar = cut_bottom(area, 64 + ui.surface.safe_bottom);
    ui.fill(bar, ui.theme.sunk, 0);
    ui.open(Role::navigation, Ui::id({"steps"}), "Steps", bar);
    cut_bottom(bar, ui.surface.safe_bottom);
    bar = inset(bar, gap, gap);
    const auto& steps = path();
    const auto it = std::find_if(steps.begin(), steps.end(),
                                 [&](const StepWords& s) { return s.screen == scene.view.screen; });
    const std::size_t at = std::size_t(it - steps.begin());
    Button b;
    if (it == steps.end()) {
        b.id = Ui::id({"step-list"});
        b.label = "All steps";
        b.has_popup = true;
        if (is_insight_page(scene.view.screen)) {
            button(ui, cell(bar, 0, 2), back_button(), go_back);
            bar = cell(bar, 1, 2);
        }
        button(ui, bar, b, open_overlay(Overlay::steps));
        ui.close();
        return;
    }
    b.weight = Weight::plain;
    const Rect left = cell(bar, 0, 3);
    const Rect middle = cell(bar, 1, 3);
    const Rect right = cell(bar, 2, 3);
    if (at > 0) {
        b.id = Ui::id({"step-back"});
        b.label = steps[at - 1].title;
        b.spoken = "Back: " + b.label;
        b.icon = Icon::back;
        button(ui, left, b, go(steps[at - 1].screen));
    }
    b.id = Ui::id({"step-list"});
    b.label = "Step " + std::to_string(at + 1) + " of 8";
    b.spoken = b.label + ", all steps";
    b.icon = Icon::none;
    b.weight = Weight::quiet;
    b.has_popup = true;
    button(ui, middle, b, open_overlay(Overlay::steps));
    if (at + 1 < steps.size()) {
        b.id = Ui::id({"step-next"});
        b.label = steps[at + 1].title;
        b.spoken = "Next: " + b.label;
        b.icon = Icon::forward;
        b.icon_after = true;
        b.has_popup = false;
        b.weight = step_done(scene, steps[at].step) ? Weight::primary : Weight::plain;
        button(ui, right, b, go(steps[at + 1].screen));
    }
    ui.close();
}

}  // namespace

std::string saved_text(const Scene& scene) {
    switch (scene.saved) {
        case Saved::saved:
            return "Saved on this device";
        case Saved::saving:
            return "Saving";
        case Saved::not_saved:
            return "Not saved: " + scene.trouble + " Keep going; save a file to be safe.";
        case Saved::memory_only:
            return "Nothing is kept on this device: " + scene.trouble + " Save a file when done.";
        case Saved::read_only:
            return "This class is open in another tab, so this one only shows it.";
    }
    return "";
}

Rect draw_frame(Ui& ui, const Scene& scene) {
    Rect area{0, 0, ui.surface.width, ui.surface.height};
    ui.fill(area, ui.theme.paper, 0);
    cut_left(area, ui.surface.safe_left);
    cut_right(area, ui.surface.safe_right);
    if (scene.view.screen == Screen::board || scene.view.screen == Screen::locked) {
        cut_top(area, ui.surface.safe_top);
        cut_bottom(area, ui.surface.safe_bottom);
        return area;
    }
    // The lesson needs the whole screen; its own bar has the way back and the save state.
    const bool lesson = scene.view.screen == Screen::walk && scene.block != nullptr &&
                        scene.block->lesson.running();
    if (lesson) {
        cut_top(area, ui.surface.safe_top);
    } else {
        top_bar(ui, scene, area);
    }
    trouble_strip(ui, scene, area);
    const bool on_path = scene.view.screen != Screen::home &&
                         scene.view.screen != Screen::settings &&
                         scene.view.screen != Screen::privacy && scene.cls != nullptr;
    if (on_path) {
        if (ui.wide() && !lesson) {
            side_steps(ui, scene, area);
        } else if (!lesson) {
            bottom_steps(ui, scene, area);
        }
    }
    return area;
}

namespace {

/// Where the message goes: into the place that the screen keeps for it; else above what lies at
/// the bottom; over a sheet, to the top, where the sheet leaves room.
Rect toast_box(Ui& ui, const Scene& scene, float w, float h) {
    const Surface& s = ui.surface;
    const float x = (s.width - w) / 2;
    if (ui.dialog != 0) return {x, s.safe_top + gap, w, h};
    if (!ui.message_place.empty()) {
        const Rect& place = ui.message_place;
        return {x, place.bottom() - std::max(h, place.h), w, std::max(h, place.h)};
    }
    const bool steps_below = !ui.wide() && scene.cls != nullptr;
    const float bottom = s.height - s.safe_bottom - (steps_below ? 64 : 0) - ui.bottom_bar - pad;
    return {x, bottom - h, w, h};
}

void toast_undo(Ui& ui, const Rect& at, ImU32 ink) {
    const std::uint32_t id = Ui::id({"toast-undo"});
    ui.outline(at, ink, corner, 1.5F);
    if (at.w > touch) {
        ui.type().line(at, "Undo", ui.style(body_size, ink, true, Align::center));
    } else {
        draw_icon(ui, Icon::undo, inset(at, 12), ink, 2.2F);
    }
    if (ui.focused(id)) ui.focus_ring(at);
    ui.node(Role::button, id, "Undo", at);
    ui.target(id, at, [](Act& act) { act.send(session::Undo{}, Reply::plain); });
}

}  // namespace

void draw_toast(Ui& ui, const Scene& scene) {
    const View& v = scene.view;
    if (v.toast.empty() || scene.now.steady_ms >= v.toast_until) return;
    if (v.screen == Screen::board) return;  // nothing for students to read
    const bool kept = ui.dialog == 0 && !ui.message_place.empty();
    const float undo_w = ui.text_scale > 1.3F ? touch : ui.scaled(92);
    const float action = v.toast_undo ? undo_w + gap : 0;
    const ImU32 surface = v.toast_bad ? ui.theme.alert : ui.theme.ink;
    const ImU32 ink = v.toast_bad ? ui.theme.on_alert : ui.theme.paper;
    const float most = kept ? ui.message_place.w : std::min(560.0F, ui.surface.width - 2 * pad);
    const float text_most = most - 2 * pad - action;
    const Style style = ui.type().fitting({0, 0, text_most, touch}, v.toast, ui.style(16, ink), 14);
    const float wish = ui.type().width(v.toast, style) + 2 * pad + action + 4;
    const float w = kept ? most : std::min(most, wish);
    const float text_w = w - 2 * pad - action;
    const float used = ui.type().paragraph({0, 0, text_w, 0}, v.toast, style, false);
    const Rect box = toast_box(ui, scene, w, std::max(touch + 8, used + gap));
    if (ui.dialog != 0) ui.reopen(ui.dialog);
    // A tap on it takes it away.
    ui.block(box, [](Act& act) { act.view.toast.clear(); });
    ui.fill(box, surface, kept ? 0 : 12);
    if (ui.theme.outlines) ui.outline(box, ui.theme.line, kept ? 0 : 12, 2);
    ui.type().paragraph({box.x + pad, box.y + (box.h - used) / 2, text_w, 0}, v.toast, style);
    if (v.toast_undo) {
        toast_undo(ui, {box.right() - undo_w - gap, box.y + (box.h - touch) / 2, undo_w, touch},
                   ink);
    }
    if (ui.dialog != 0) ui.close();
}

}  // namespace tallyround::ui
