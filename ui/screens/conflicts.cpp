#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

void take(Act& act, std::size_t place) {
    if (place >= act.view.conflicts.size()) return;
    const session::Conflict c = act.view.conflicts[place];
    if (!act.send(session::TakeOther{c.take, c.what + " is now " + c.lost + "."})) return;
    act.view.conflicts_taken.insert(place);
}

void conflict_row(Ui& ui, const Scene& scene, Column& column, std::size_t place) {
    const session::Conflict& c = scene.view.conflicts[place];
    const bool taken = scene.view.conflicts_taken.contains(place);
    column.y += ui.heading(3, c.what, {column.x, column.y, column.w, 0},
                           ui.style(body_size, ui.theme.ink, true));
    const char* winner = c.ours_won ? "This device" : "The other device";
    const char* other = c.ours_won ? "The other device" : "This device";
    text_row(ui, column,
             std::string(taken ? "Before: " : "Holds, because it is later: ") + c.won + " (" +
                 winner + ")",
             ui.body());
    text_row(ui, column,
             std::string(taken ? "Holds now: " : "Not taken: ") + c.lost + " (" + other + ")",
             ui.body());
    Button b;
    b.id = Ui::id({"take-other", std::to_string(place)});
    b.label = taken ? "Taken" : "Take " + c.lost;
    b.spoken = c.what + ": take " + c.lost;
    b.icon = taken ? Icon::check : Icon::swap;
    b.disabled = taken;
    if (!button_fits(ui, column.w, b)) b.label = taken ? "Taken" : "Take the other one";
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
           [place](Act& act) { take(act, place); });
    column.skip(gap);
}

}  // namespace

void conflicts_sheet(Ui& ui, const Scene& scene) {
    const std::size_t n = scene.view.conflicts.size();
    Column column =
        begin_sheet(ui, "What two devices changed", ui.scaled(150 + 190 * float(n)), close_overlay);
    if (n == 0) {
        text_row(ui, column,
                 "Nothing was changed on both. After you open another device's plan file, what "
                 "both had changed is shown here.",
                 ui.body());
    } else {
        text_row(ui, column,
                 "Both devices changed " + base::count_of(n, "thing", "things") +
                     " without knowing of each other. The later change holds; marks and notes of "
                     "both are all kept.",
                 ui.body());
        column.skip(gap);
    }
    for (std::size_t i = 0; i < n; ++i)
        conflict_row(ui, scene, column, i);
    done_button(ui, column);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
