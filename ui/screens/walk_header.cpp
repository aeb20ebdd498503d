#include <algorithm>

#include "base/text.h"
#include "session/pace.h"
#include "ui/screens/frame.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

std::string phase_text(const model::Block& block) {
    const model::Lesson& l = block.lesson;
    const std::string of =
        std::to_string(l.round) + " of " + std::to_string(session::last_round_today(block));
    switch (l.phase) {
        case model::Phase::opening:
            return "Opening";
        case model::Phase::working:
            return "Round " + of;
        case model::Phase::moving:
            return "Moving to round " + of;
        case model::Phase::closing:
            return "Closing";
        default:
            return "";
    }
}

std::string next_text(const model::Block& block) {
    const model::Lesson& l = block.lesson;
    switch (l.phase) {
        case model::Phase::opening:
            return "Start round " + std::to_string(l.first_round);
        case model::Phase::working:
            return l.round < session::last_round_today(block) ? "Move on" : "Close";
        case model::Phase::moving:
            return "Start round " + std::to_string(l.round);
        default:
            return "End lesson";
    }
}

void clock_face(Ui& ui, const Scene& scene, const Rect& r) {
    const model::Lesson& l = scene.block->lesson;
    const std::int64_t left = session::left_ms(l, scene.now.utc_ms);
    const bool over = left <= 0 && !l.paused();
    const bool soon = left <= 120'000 && l.phase == model::Phase::working;
    const std::string clock = minutes_clock(left);
    Rect top = r;
    const Rect under = cut_bottom(top, ui.scaled(22));
    if (over || soon) {
        // Sight tells it without colour too: a filled plate at zero, a frame in the last minutes.
        const Rect plate = inset(top, 0, 2);
        if (over) ui.fill(plate, ui.theme.alert);
        ui.outline(plate, ui.theme.alert, corner, 2.5F);
    }
    const ImU32 ink = over ? ui.theme.on_alert : ui.theme.ink;
    ui.type().line(top, clock,
                   ui.style(std::min(clock_size, top.h / ui.text_scale), ink, true, Align::center));
    ui.node(Role::timer, Ui::id({"clock"}), over ? "Time is up, " + clock : clock + " left", top);
    ui.text_line(l.paused() ? phase_text(*scene.block) + ", paused" : phase_text(*scene.block),
                 under, ui.style(16, ui.theme.ink, true, Align::center), Role::status);
}

/// The buttons from right to left, so that the most used one is under the thumb.
void buttons(Ui& ui, const Scene& scene, Rect row) {
    const auto cls = scene.cls->id;
    const auto id = scene.block->id;
    const model::Lesson& l = scene.block->lesson;
    Button b;
    b.icon_only = true;
    b.id = Ui::id({"more"});
    b.spoken = "Lesson menu";
    b.icon = Icon::more;
    b.has_popup = true;
    b.weight = Weight::quiet;
    button(ui, cut_right(row, touch), b, [](Act& act) {
        act.view.all_marks = false;
        act.view.overlay = Overlay::marks;
    });
    cut_right(row, 6);
    Button next;
    next.id = Ui::id({"next-phase"});
    next.label = next_text(*scene.block);
    next.weight = Weight::primary;
    const float pause_w = touch;
    const float minute_w = std::min(ui.scaled(74), row.w * 0.24F);
    const Rect next_box = cut_right(row, row.w - 2 * pause_w - minute_w - 18);
    button(ui, next_box, next, [cls, id, last = l.phase == model::Phase::closing](Act& act) {
        act.send(session::NextPhase{cls, id}, Reply::aloud);
        if (last) act.go(Screen::review);
        ask_about_lost_time(act, cls, id);
    });
    cut_right(row, 6);
    Button minute;
    minute.id = Ui::id({"minute"});
    minute.label = "+1 min";
    minute.spoken = "One minute more";
    minute.size = 16;
    button(ui, cut_right(row, minute_w), minute, [cls, id](Act& act) {
        act.send(session::AddTime{cls, id, 60}, Reply::aloud);
    });
    cut_right(row, 6);
    Button pause;
    pause.id = Ui::id({"pause"});
    pause.spoken = l.paused() ? "Go on" : "Pause";
    pause.icon = l.paused() ? Icon::play : Icon::pause;
    pause.icon_only = true;
    const std::string newest = scene.undo;
    Button undo;
    undo.id = Ui::id({"lesson-undo"});
    undo.spoken = newest.empty() ? "Undo" : "Undo: " + newest;
    undo.icon = Icon::undo;
    undo.icon_only = true;
    undo.disabled = newest.empty();
    button(ui, cut_right(row, pause_w), undo,
           [](Act& act) { act.send(session::Undo{}, Reply::aloud); });
    cut_right(row, 6);
    button(ui, cut_right(row, pause_w), pause, [cls, id, paused = l.paused()](Act& act) {
        if (paused) {
            act.send(session::ResumeLesson{cls, id}, Reply::aloud);
        } else {
            act.send(session::PauseLesson{cls, id}, Reply::aloud);
        }
    });
}

/// Whom to look at next and why; a tap opens that student.
void look_next(Ui& ui, const Scene& scene, const Rect& r, std::size_t most) {
    const auto next =
        session::whom_next(*scene.cls, *scene.block, scene.standings, scene.now.utc_ms, most);
    ui.open(Role::region, Ui::id({"look-next"}), "Look next", r);
    for (std::size_t i = 0; i < next.size(); ++i) {
        const model::Student* s = scene.cls->student(next[i].student);
        if (s == nullptr) continue;
        const Rect box = cell(r, int(i), int(most), 6);
        const std::uint32_t id = Ui::id({"next", s->id.view()});
        ui.card(box, ui.pressed(id) ? ui.theme.sunk : ui.theme.accent_soft);
        if (ui.focused(id)) ui.focus_ring(box);
        Rect inner = inset(box, 10, 4);
        ui.type().line(cut_top(inner, inner.h * 0.4F), s->name, ui.style(16, ui.theme.ink, true));
        ui.type().line(inner, next[i].why, ui.style(13, ui.theme.ink_soft));
        ui.node(Role::button, id, "Look next: " + s->name + ". " + next[i].why, box);
        ui.target(id, box, [student = s->id](Act& act) {
            act.view.student = student;
            act.view.overlay = Overlay::mark;
        });
    }
    ui.close();
}

}  // namespace

void lesson_header(Ui& ui, const Scene& scene, Rect& area) {
    const bool one_row = area.w >= 900;
    if (one_row) {
        Rect bar = inset(cut_top(area, std::max(80.0F, ui.scaled(76))), 12, 4);
        home_button(ui, bar);
        clock_face(ui, scene, cut_left(bar, ui.scaled(150)));
        cut_left(bar, 10);
        const Rect right = cut_right(bar, ui.scaled(350));
        Rect column = right;
        Rect under = cut_bottom(column, ui.scaled(22));
        saved_mark(ui, scene, under);
        buttons(ui, scene, {column.x, column.y + (column.h - 50) / 2, column.w, 50});
        cut_right(bar, 10);
        look_next(ui, scene, bar, bar.w > 560 ? 3 : 2);
        return;
    }
    Rect bar = inset(cut_top(area, std::max(96.0F, ui.scaled(76))), 12, 2);
    home_button(ui, bar);
    clock_face(ui, scene, cut_left(bar, std::min(bar.w * 0.42F, ui.scaled(150))));
    cut_left(bar, 10);
    Rect under = cut_bottom(bar, ui.scaled(22));
    saved_mark(ui, scene, under);
    look_next(ui, scene, {bar.x, bar.y + 2, bar.w, bar.h - 4}, bar.w > 420 ? 2 : 1);
    const Rect row = inset(cut_top(area, std::max(60.0F, ui.scaled(44))), 12, 4);
    buttons(ui, scene, row);
}

}  // namespace tallyround::ui
