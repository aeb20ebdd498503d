#include <algorithm>

#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

constexpr std::size_t shown_next = 3;

void pages(Ui& ui, Column& column) {
    std::vector<std::pair<Button, Action>> all;
    const auto page = [&](const char* label, Icon icon, Screen screen) {
        Button b;
        b.id = Ui::id({"review-page", label});
        b.label = label;
        b.icon = icon;
        all.emplace_back(b, open_page(screen));
    };
    page("Next block", Icon::forward, Screen::next_block);
    page("Did centers help?", Icon::place, Screen::verdicts);
    page("Ready by a date", Icon::clock, Screen::ready);
    page("How sure is this?", Icon::aim, Screen::sureness);
    page("Files of marks", Icon::file, Screen::share);
    Button save;
    save.id = Ui::id({"review-save"});
    save.label = "Save plan file";
    save.icon = Icon::file;
    all.emplace_back(save, [](Act& act) { act.save_plan(); });
    button_grid(ui, column, std::move(all));
}

void what_next(Ui& ui, const Scene& scene, Column& column) {
    section(ui, column, "What to review next");
    std::size_t place = 0;
    for (const session::ReviewNext& r : scene.insight->review_next()) {
        if (++place > shown_next) break;
        RowItem item;
        item.id = Ui::id({"review-next", r.skill.view()});
        item.title = session::skill_title(*scene.cls, r.skill);
        item.detail = r.why;
        item.trailing = Icon::forward;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item, open_skill_page(r.skill));
    }
}

}  // namespace

void review_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "review", "Who has what", "");
    if (scene.block == nullptr || scene.cls->marks.empty()) {
        empty_state(
            ui, column, Icon::chart, "Nothing seen yet",
            "Marks from the lesson show here who has which skill, and what to review next.");
        Button b;
        b.id = Ui::id({"review-walk"});
        b.label = "To the lesson";
        b.icon = Icon::walk;
        b.weight = Weight::primary;
        button(ui, column.row(std::max(54.0F, ui.scaled(52))), b, go(Screen::walk));
        end_page(ui, column);
        return;
    }
    pages(ui, column);
    column.skip(gap);
    class_picture(ui, scene, column);
    what_next(ui, scene, column);
    slip_picture(ui, scene, column);
    evidence_caution(ui, column);
    end_page(ui, column);
}

void why_sheet(Ui& ui, const Scene& scene) {
    const model::Student* s =
        scene.cls == nullptr ? nullptr : scene.cls->student(scene.view.student);
    if (s == nullptr) return;
    const model::SkillId& skill = scene.view.skill;
    Column column = begin_sheet(ui, s->name, 700, close_overlay);
    const session::Standing standing = scene.standings.of(s->id, skill);
    const session::Word word = session::word_for(standing);
    text_row(ui, column, session::skill_title(*scene.cls, skill),
             ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    word_line(ui, column, word, session::word_text(word), ui.body());
    text_row(ui, column, chance_text(scene, standing), ui.soft());
    column.skip(gap);
    std::vector<session::PathPoint> marks;
    for (const session::PathPoint& p : scene.insight->path(s->id)) {
        if (p.skill == skill) marks.push_back(p);
    }
    mark_rows(ui, scene, column, marks, false, marks.size());
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
