#include "ui/screens/progress.h"

#include <algorithm>

#include "ui/file_desk.h"

namespace tallyround::ui {

void progress_box(Ui& ui, const Scene& scene, const Progress& progress, const Action& cancel) {
    const Surface& s = ui.surface;
    const float w = std::min(560.0F, s.width - 2 * pad);
    const float h = std::max(touch + 24, ui.scaled(72));
    const bool steps_below = !ui.wide() && scene.cls != nullptr;
    const float lowest = s.height - s.safe_bottom - (steps_below ? 64 : 0);
    const Rect box{(s.width - w) / 2, lowest - float(progress.above + 1) * (pad + h), w, h};
    ui.block(box);
    ui.fill(box, ui.theme.card, 12);
    ui.outline(box, ui.theme.line, 12, ui.theme.outlines ? 2.0F : 1.0F);
    Rect inner = inset(box, pad, gap);
    Button no;
    no.id = Ui::id({progress.cancel});
    no.label = "Cancel";
    const Rect at = cut_right(inner, ui.scaled(96));
    button(ui, {at.x, box.y + (h - touch) / 2, at.w, touch}, no, cancel);
    cut_right(inner, pad);
    Rect bar = cut_bottom(inner, 14);
    ui.text_line(progress.words, inner, ui.body(), progress.role);
    bar = {bar.x, bar.y + 2, bar.w, 8};
    ui.fill(bar, ui.theme.sunk, 4);
    ui.outline(bar, ui.theme.line, 4);
    ui.fill({bar.x, bar.y, bar.w * float(progress.percent) / 100, bar.h}, ui.theme.accent, 4);
}

void draw_file_progress(Ui& ui, const Scene& scene) {
    int boxes = scene.plans->running ? 1 : 0;
    // No live regions: that a file is being made, or read, was said aloud once.
    const auto box = [&](const char* cancel, const std::string& what, int percent,
                         const Action& action) {
        progress_box(
            ui, scene,
            {cancel, what + ": " + std::to_string(percent) + " %", Role::text, percent, boxes++},
            action);
    };
    const double long_ago = scene.now.steady_ms - PlanDesk::quiet_ms;
    if (const auto& saving = scene.files->saving; saving && saving->began_ms <= long_ago) {
        const std::size_t all = std::max<std::size_t>(1, scene.session.log().events().size());
        box("cancel-file", "Making the plan file",
            int(100 * double(saving->writer->count()) / double(all)),
            [](Act& act) { act.cancel_file(); });
    }
    if (const auto& reading = scene.files->reading; reading && reading->began_ms <= long_ago) {
        box("cancel-reading", "Reading the plan file", reading->percent(),
            [](Act& act) { act.cancel_reading(); });
    }
    if (const auto& bringing = scene.files->bringing; bringing && bringing->began_ms <= long_ago) {
        box("cancel-bringing", "Putting the file's entries in place",
            int(100 * bringing->work.progress()), [](Act& act) { act.cancel_bringing(); });
    }
}

}  // namespace tallyround::ui
