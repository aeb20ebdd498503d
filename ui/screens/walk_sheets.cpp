#include <algorithm>

#include "base/text.h"
#include "ui/screens/insight.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

/// Three buttons for one kind of help.
void help_row(Ui& ui, Column& column, const session::PutMark& base, model::Help help,
              const char* words) {
    column.y += ui.paragraph(words, {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(2);
    const Rect row = column.row(std::max(54.0F, ui.scaled(50)));
    for (int i = 0; i < 3; ++i) {
        session::PutMark mark = base;
        mark.level = levels[i];
        mark.help = help;
        const std::string word(level_word(levels[i]));
        const std::uint32_t id = Ui::id({"help-mark", words, word});
        const Rect r = cell(row, i, 3);
        level_button(ui, r, id, levels[i], std::string(words) + ": " + word);
        ui.target(id, r, [mark](Act& act) {
            if (!act.send(mark)) return;
            act.view.slip.clear();
            close_overlay(act);
        });
    }
}

/// The last notes on a student, and a field for another.
void note_part(Ui& ui, const Scene& scene, Column& column, const model::Student& s,
               const model::Center* center) {
    int shown = 0;
    for (auto it = scene.cls->notes.rbegin(); it != scene.cls->notes.rend() && shown < 2; ++it) {
        if (it->student != s.id) continue;
        ++shown;
        const base::Date day = today({it->at_ms, scene.now.utc_offset_minutes, 0});
        column.y += ui.paragraph(base::short_day(day) + ": " + it->text,
                                 {column.x, column.y, column.w, 0}, ui.soft());
    }
    Field f;
    f.name = "note";
    f.label = "Note";
    f.hint = "Only for you";
    f.value = scene.view.draft(f.name);
    text_field(ui, column.row(field_height(ui)), f,
               [cls = scene.cls->id, b = scene.block->id, student = s.id,
                skill = center == nullptr ? model::SkillId{} : center->skill](
                   Act& act, const std::string& text) {
                   if (base::tidy_line(text).empty()) return;
                   if (act.send(session::WriteNote{cls, b, student, skill, text})) {
                       act.view.drafts.erase("note");
                   }
               });
}

std::string marks_text(const Scene& scene, const model::StudentId& student,
                       const model::SkillId& skill) {
    const session::Standing standing = scene.standings.of(student, skill);
    std::string text(session::word_text(session::word_for(standing)));
    if (standing.marks == 0) return text + ".";
    const base::Date day = today({standing.last_ms, scene.now.utc_offset_minutes, 0});
    return text + ": " + base::count_of(std::size_t(standing.marks), "mark", "marks") +
           ", last on " + base::short_day(day) + ".";
}

}  // namespace

void level_face(Ui& ui, const Rect& r, model::Level level, bool strong) {
    ui.fill(r, level_color(ui.theme, level));
    if (strong || ui.theme.outlines) ui.outline(r, ui.theme.ink, corner, 2);
    const std::string word(level_word(level));
    const Style wish = ui.style(16, ui.theme.on_level, true, Align::center);
    const bool beside = ui.type().width(word, wish) + 26 + 3 * 8 <= r.w;
    Rect inner = inset(r, 6, beside ? 0 : 6);
    const Rect shape = beside ? cut_left(inner, 26) : cut_top(inner, 24);
    draw_level(ui, level,
               {shape.x + (beside ? 2 : shape.w / 2 - 12), shape.y + shape.h / 2 - 12, 24, 24},
               ui.theme.on_level);
    ui.type().line(inner, word, ui.type().fitting(inner, word, wish));
}

void level_button(Ui& ui, const Rect& r, std::uint32_t id, model::Level level,
                  const std::string& spoken) {
    level_face(ui, r, level, ui.pressed(id));
    if (ui.focused(id)) ui.focus_ring(r);
    ui.node(Role::button, id, spoken, r);
}

void mark_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Block& block = *scene.block;
    const model::Student* s = scene.cls->student(scene.view.student);
    if (s == nullptr) return;
    const int group = model::group_of(block, s->id);
    const int round = std::max(block.lesson.first_round, block.lesson.round);
    const model::Center* c = model::find_center(block, model::center_at(block, group, round));
    Column column = begin_sheet(ui, s->name, ui.scaled(440), close_overlay);
    if (c != nullptr) {
        column.y += ui.paragraph(session::skill_title(*scene.cls, c->skill),
                                 {column.x, column.y, column.w, 0},
                                 ui.style(body_size, ui.theme.ink, true));
        column.y += ui.paragraph(marks_text(scene, s->id, c->skill),
                                 {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(gap);
        const session::PutMark base{
            scene.cls->id,        block.id,          s->id,          c->skill, c->id, round,
            model::Level::secure, model::Help::none, scene.view.slip};
        help_row(ui, column, base, model::Help::none, "On their own");
        help_row(ui, column, base, model::Help::hint, "With a hint");
        help_row(ui, column, base, model::Help::together, "Together with you");
        slip_rows(ui, scene, column, c->skill);
    }
    note_part(ui, scene, column, *s, c);
    column.skip(gap);
    const Rect row = column.row(touch);
    const bool up = waiting_minutes(*scene.cls, s->id, scene.now) >= 0;
    toggle(ui, cell(row, 0, 2), Ui::id({"sheet-flag"}), "Waits for help", up,
           [cls = scene.cls->id, id = s->id, up](Act& act) {
               act.send(session::SetFlag{cls, id, !up}, Reply::aloud);
           });
    const bool away = model::is_absent(block, s->id);
    toggle(ui, cell(row, 1, 2), Ui::id({"sheet-absent"}), "Absent", away,
           [cls = scene.cls->id, b = block.id, id = s->id, away](Act& act) {
               act.send(session::SetAbsent{cls, b, id, !away}, Reply::aloud);
           });
    end_sheet(ui, column);
}

void absent_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    Column column = begin_sheet(ui, "Who is absent?", 1400, close_overlay);
    const auto all = session::present_students(*scene.cls);
    const int across = column.w > 420 ? 3 : 2;
    for (std::size_t i = 0; i < all.size(); i += std::size_t(across)) {
        const Rect row = column.row(touch, 6);
        for (int k = 0; k < across && i + std::size_t(k) < all.size(); ++k) {
            const model::Student& s = *all[i + std::size_t(k)];
            const bool away = model::is_absent(*scene.block, s.id);
            toggle(ui, cell(row, k, across, 6), Ui::id({"absent", s.id.view()}), s.name, away,
                   [cls = scene.cls->id, b = scene.block->id, id = s.id, away](Act& act) {
                       act.send(session::SetAbsent{cls, b, id, !away}, Reply::aloud);
                   });
        }
    }
    done_button(ui, column);
    end_sheet(ui, column);
}

namespace {

/// The block's marks, newest first; a tap takes one back.
void block_marks(Ui& ui, const Scene& scene, Column& column) {
    constexpr int first_marks = 40;
    int shown = 0;
    for (auto it = scene.cls->marks.rbegin(); it != scene.cls->marks.rend(); ++it) {
        if (it->block != scene.block->id) continue;
        if (shown == first_marks && !scene.view.all_marks) {
            Button b;
            b.id = Ui::id({"all-marks"});
            b.label = "Show the marks before these";
            button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
                   [](Act& act) { act.view.all_marks = true; });
            return;
        }
        const model::Student* s = scene.cls->student(it->student);
        if (s == nullptr) continue;
        ++shown;
        RowItem item;
        item.id = Ui::id({"take-back", std::to_string(it->event)});
        item.title = s->name + ": " + std::string(level_word(it->level));
        item.detail =
            clock_at(scene.now, it->at_ms) + " · " + session::skill_title(*scene.cls, it->skill);
        item.spoken = "Take back " + item.title + ", " + item.detail;
        item.trailing = Icon::undo;
        row_item(
            ui, column.row(row_height(ui, column.w, item), 6), item,
            [event = it->event](Act& act) { act.send(session::TakeBack{event}, Reply::aloud); });
    }
    if (shown == 0) {
        column.y += ui.paragraph("No marks yet. Tap a shape beside a name.",
                                 {column.x, column.y, column.w, 0}, ui.soft());
    }
}

/// Where the lesson's menu leads.
void menu_places(Ui& ui, Column& column, float h) {
    Button absent;
    absent.id = Ui::id({"menu-absent"});
    absent.label = "Who is absent?";
    Button end;
    end.id = Ui::id({"menu-end"});
    end.label = "End the lesson";
    end.weight = Weight::danger;
    button_pair(ui, column, h, absent, open_overlay(Overlay::absent), end,
                open_overlay(Overlay::confirm_end));
    Button time;
    time.id = Ui::id({"menu-time"});
    time.label = "Time and the bell";
    time.icon = Icon::clock;
    Button procedures;
    procedures.id = Ui::id({"menu-procedures"});
    procedures.label = "Procedures";
    button_pair(ui, column, h, procedures, go(Screen::procedures), time,
                open_overlay(Overlay::late));
    Button chart;
    chart.id = Ui::id({"menu-chart"});
    chart.label = "Change the chart";
    chart.icon = Icon::grid;
    Button board;
    board.id = Ui::id({"menu-board"});
    board.label = "Board for the class";
    button_pair(ui, column, h, chart, go(Screen::chart), board, open_board(Screen::walk));
}

}  // namespace

void marks_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    Column column = begin_sheet(ui, "Lesson menu", 1400, close_overlay);
    const float h = std::max(52.0F, ui.scaled(50));
    menu_places(ui, column, h);
    Button b;
    const std::string undo = scene.undo;
    b.id = Ui::id({"menu-undo"});
    b.label = undo.empty() ? "Nothing to undo" : "Undo: " + undo;
    b.icon = Icon::undo;
    b.disabled = undo.empty();
    button(ui, column.row(h), b, [](Act& act) { act.send(session::Undo{}, Reply::aloud); });
    b = {};
    b.id = Ui::id({"menu-settings"});
    b.label = "Settings and files";
    b.icon = Icon::gear;
    Button help;
    help.id = Ui::id({"menu-verdicts"});
    help.label = "Do centers help?";
    help.icon = Icon::place;
    button_pair(ui, column, h, b, go(Screen::settings), help, open_page(Screen::verdicts));
    column.skip(gap);
    column.y +=
        ui.heading(3, "Marks of this block, newest first", {column.x, column.y, column.w, 0},
                   ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    block_marks(ui, scene, column);
    end_sheet(ui, column);
}

void end_sheet_question(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    Column column = begin_sheet(ui, "End the lesson?", ui.scaled(190), close_overlay);
    column.y += ui.paragraph("The rounds that are left stay for another day. You can undo this.",
                             {column.x, column.y, column.w, 0}, ui.body());
    column.skip(pad);
    const float h = std::max(52.0F, ui.scaled(50));
    Button b;
    b.id = Ui::id({"end-yes"});
    b.label = "End it now";
    b.weight = Weight::primary;
    button(ui, column.row(h), b, [cls = scene.cls->id, id = scene.block->id](Act& act) {
        if (act.send(session::EndLesson{cls, id})) act.go(Screen::review);
    });
    b.id = Ui::id({"end-no"});
    b.label = "Go on teaching";
    b.weight = Weight::plain;
    button(ui, column.row(h), b, close_overlay);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
