#include <algorithm>

#include "base/text.h"
#include "session/procedures.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

constexpr std::size_t shown_moves = 10;

void lines_of_rules(Ui& ui, const Scene& scene, Column& column) {
    Field f;
    f.name = "procedures";
    f.label = "Rules, one a line";
    f.area = true;
    const auto draft = scene.view.drafts.find(f.name);
    f.value = draft != scene.view.drafts.end() ? draft->second
                                               : std::string(session::procedures_of(*scene.cls));
    const auto lines = std::size_t(std::count(f.value.begin(), f.value.end(), '\n')) + 2;
    // A rule takes about two lines on a phone.
    const float per_rule = column.w < 560 ? 2.0F : 1.3F;
    const float h = ui.scaled(24) + float(lines) * per_rule * ui.scaled(24) + 12;
    text_field(ui, column.row(h), f, [cls = scene.cls->id](Act& act, const std::string& text) {
        if (act.send(session::SetProcedures{cls, text}, Reply::plain)) {
            act.view.drafts.erase("procedures");
        }
    });
    if (scene.cls->procedures.empty()) return;
    Button b;
    b.id = Ui::id({"procedures-usual"});
    b.label = "Back to the usual rules";
    b.icon = Icon::undo;
    button(ui, column.row(std::max(touch, ui.scaled(48))), b, [cls = scene.cls->id](Act& act) {
        act.view.drafts.erase("procedures");
        act.send(session::SetProcedures{cls, ""});
    });
}

/// The clock of a practice move: started at "Go", stopped when everyone sits.
void practice(Ui& ui, const Scene& scene, Column& column) {
    const std::int64_t began = scene.view.practice_began_ms;
    const std::int64_t ms = began == 0 ? 0 : std::max<std::int64_t>(0, scene.now.utc_ms - began);
    column.y += ui.paragraph(
        "Let the groups walk to the next center and sit down. Say what went well, then again.",
        {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    const float h = std::max(56.0F, ui.scaled(54));
    Rect row = column.row(h);
    if (began != 0) {
        const Rect face = cut_left(row, ui.scaled(120));
        const std::int64_t seconds = ms / 1000;
        const std::string clock = std::to_string(seconds / 60) + ":" +
                                  (seconds % 60 < 10 ? "0" : "") + std::to_string(seconds % 60);
        ui.type().line(face, clock, ui.style(34, ui.theme.ink, true));
        ui.node(Role::timer, Ui::id({"practice-clock"}), clock, face);
        cut_left(row, gap);
    }
    Button b;
    b.id = Ui::id({"practice"});
    b.label = began == 0 ? "Start a practice move" : "Everyone sits";
    b.icon = began == 0 ? Icon::play : Icon::check;
    b.weight = Weight::primary;
    button(ui, row, b, [cls = scene.cls->id, began](Act& act) {
        if (began == 0) {
            act.view.practice_began_ms = act.now.utc_ms;
            return;
        }
        act.view.practice_began_ms = 0;
        act.send(session::PractiseMove{cls, act.now.utc_ms - began}, Reply::aloud);
    });
}

void move_rows(Ui& ui, const Scene& scene, Column& column) {
    const auto& moves = scene.cls->moves;
    const session::MoveTrend trend = session::move_trend(*scene.cls);
    column.y += ui.paragraph(trend.sentence, {column.x, column.y, column.w, 0}, ui.body());
    if (moves.empty()) return;
    column.skip(gap);
    const std::size_t from = moves.size() > shown_moves ? moves.size() - shown_moves : 0;
    std::int64_t longest = 1;
    for (std::size_t i = from; i < moves.size(); ++i)
        longest = std::max(longest, moves[i].took_ms);
    const float label_w = ui.scaled(150);
    const float value_w = ui.scaled(96);
    for (std::size_t i = moves.size(); i > from; --i) {
        const model::Move& m = moves[i - 1];
        Rect row = column.row(std::max(26.0F, ui.scaled(26)), 4);
        const base::Date day = today({m.at_ms, scene.now.utc_offset_minutes, 0});
        const std::string what = base::short_day(day) + (m.practice ? ", practice" : ", lesson");
        const std::string length = session::length_text(m.took_ms);
        ui.node(Role::text, Ui::id({"move", std::to_string(i)}), what + ": " + length, row);
        ui.type().line(cut_left(row, label_w), what, ui.soft());
        ui.type().line(cut_right(row, value_w), length,
                       ui.style(small_size, ui.theme.ink, true, Align::right));
        row = inset(row, gap, 5);
        const float share = float(double(m.took_ms) / double(longest));
        // Practice is hollow, a lesson's move filled.
        const Rect bar{row.x, row.y, std::max(4.0F, row.w * share), row.h};
        if (!m.practice) ui.fill(bar, ui.theme.accent, 4);
        ui.outline(bar, ui.theme.accent, 4, 1.5F);
    }
}

}  // namespace

void procedures_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "procedures", "Procedures",
                               "How centers work here. Teach them, show them, practise them, and "
                               "only then add the maths.");
    const auto title = [&](const char* text) {
        column.skip(pad);
        column.y += ui.heading(2, text, {column.x, column.y, column.w, 0},
                               ui.style(lead_size, ui.theme.ink, true));
        column.skip(6);
    };
    lines_of_rules(ui, scene, column);
    title("Practise a move");
    practice(ui, scene, column);
    title("How long moves take");
    move_rows(ui, scene, column);
    column.skip(pad);
    Button b;
    b.id = Ui::id({"procedures-walk"});
    b.label = "To the lesson";
    b.icon = Icon::walk;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, go(Screen::walk));
    end_page(ui, column);
}

}  // namespace tallyround::ui
