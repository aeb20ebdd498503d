#include <algorithm>

#include "base/text.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

using session::Word;

/// The same shapes as the marks, smaller: kite full, half, barred; a dot for too early; empty.
void word_shape(Ui& ui, Word word, const Rect& r) {
    const float side = std::min({r.w, r.h, ui.scaled(30)}) - 4;
    const Rect box{r.x + (r.w - side) / 2, r.y + (r.h - side) / 2, side, side};
    const auto plate = [&](model::Level level) {
        ui.fill(inset(box, -3), level_color(ui.theme, level), 6);
        draw_level(ui, level, inset(box, 3), ui.theme.on_level);
    };
    switch (word) {
        case Word::likely_has_it:
            plate(model::Level::secure);
            break;
        case Word::on_the_way:
            plate(model::Level::shaky);
            break;
        case Word::needs_time:
            plate(model::Level::stuck);
            break;
        case Word::early:
            ui.list().AddCircleFilled({r.x + r.w / 2, r.y + r.h / 2}, 4, ui.theme.ink_soft);
            break;
        case Word::no_marks:
            break;
    }
}

void picture_cell(Ui& ui, const Scene& scene, const Rect& r, const model::Student& s,
                  const model::SkillId& skill) {
    const session::Standing standing = scene.standings.of(s.id, skill);
    const Word word = session::word_for(standing);
    const std::uint32_t id = Ui::id({"cell", s.id.view(), skill.view()});
    ui.outline(r, fade(ui.theme.line, ui.theme.outlines ? 1 : 0.25F), 4);
    if (ui.focused(id)) ui.focus_ring(r, 4);
    word_shape(ui, word, r);
    ui.node(Role::button, id,
            s.name + ", " + session::skill_title(*scene.cls, skill) + ": " +
                std::string(session::word_text(word)),
            r);
    ui.target(id, r, [student = s.id, skill](Act& act) {
        act.view.student = student;
        act.view.skill = skill;
        act.view.overlay = Overlay::why;
    });
}

void key(Ui& ui, Column& column) {
    const Word words[] = {Word::likely_has_it, Word::on_the_way, Word::needs_time, Word::early};
    const int across = column.w > 620 ? 4 : 2;
    for (int i = 0; i < 4; i += across) {
        const Rect row = column.row(ui.scaled(34), 2);
        for (int k = 0; k < across; ++k) {
            Rect r = cell(row, k, across);
            const Rect shape = cut_left(r, 40);
            word_shape(ui, words[i + k], shape);
            ui.text_line(session::word_text(words[i + k]), r, ui.soft());
        }
    }
    column.skip(gap);
}

/// Skill × student: a row a student, a column a skill.
void picture(Ui& ui, const Scene& scene, Column& column) {
    const auto& skills = scene.block->skills;
    const float name_w = std::min(ui.scaled(190), column.w * 0.36F);
    const float w = std::min(ui.scaled(72), (column.w - name_w) / float(skills.size()));
    const float h = touch;
    ui.text_line("What each has: tap a shape for the marks behind it.", column.row(ui.scaled(22)),
                 ui.soft());
    key(ui, column);
    for (std::size_t k = 0; k < skills.size(); ++k) {
        const std::string text =
            std::to_string(k + 1) + "  " + session::skill_title(*scene.cls, skills[k]);
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.soft());
    }
    column.skip(gap);
    Rect head = column.row(ui.scaled(28), 2);
    cut_left(head, name_w);
    for (std::size_t k = 0; k < skills.size(); ++k) {
        ui.type().line(cut_left(head, w), std::to_string(k + 1),
                       ui.style(16, ui.theme.ink, true, Align::center));
    }
    for (const model::Student* s : session::present_students(*scene.cls)) {
        Rect row = column.row(h, 2);
        ui.text_line(s->name, cut_left(row, name_w), ui.style(16, ui.theme.ink));
        for (const model::SkillId& skill : skills) {
            picture_cell(ui, scene, inset(cut_left(row, w), 1), *s, skill);
        }
    }
    column.skip(pad);
}

void what_next(Ui& ui, const Scene& scene, Column& column) {
    column.y += ui.heading(2, "What to review next", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(4);
    int place = 0;
    for (const session::ReviewNext& r :
         session::review_next(*scene.cls, *scene.block, scene.standings)) {
        ++place;
        column.y +=
            ui.paragraph(std::to_string(place) + ". " + session::skill_title(*scene.cls, r.skill),
                         {column.x, column.y, column.w, 0}, ui.body());
        column.y += ui.paragraph(r.why, {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(gap);
    }
    column.skip(gap);
}

void centers_helped(Ui& ui, const Scene& scene, Column& column) {
    column.y += ui.heading(2, "Did each center help?", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(4);
    for (const session::CenterVerdict& v :
         session::judge_centers(*scene.cls, *scene.block, scene.standings)) {
        const model::Center* c = model::find_center(*scene.block, v.center);
        if (c == nullptr) continue;
        column.y += ui.paragraph(session::center_title(*c) + " · " +
                                     session::skill_title(*scene.cls, c->skill) + ": " + v.verdict,
                                 {column.x, column.y, column.w, 0}, ui.body());
        column.y += ui.paragraph(v.why, {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(gap);
    }
    column.skip(gap);
}

void after(Ui& ui, const Scene& scene, Column& column) {
    const float h = std::max(54.0F, ui.scaled(52));
    Button save;
    save.id = Ui::id({"review-save"});
    save.label = "Save plan file";
    save.icon = Icon::file;

    Button next;
    next.id = Ui::id({"next-block"});
    next.label = "Plan the next block";
    next.icon = Icon::forward;
    next.icon_after = true;
    next.weight = Weight::primary;
    button_pair(
        ui, column, h, save, [](Act& act) { act.save_plan(); }, next,
        [cls = scene.cls->id, like = scene.block->id](Act& act) {
            if (act.send(session::MakeBlock{cls, "Review block", like})) act.go(Screen::skills);
        });
    column.skip(gap);
}

}  // namespace

void review_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "review", "Who has what", "");
    const bool marks = scene.block != nullptr && !scene.cls->marks.empty();
    if (!marks || scene.block->skills.empty()) {
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
    after(ui, scene, column);
    what_next(ui, scene, column);
    picture(ui, scene, column);
    slip_picture(ui, scene, column);
    centers_helped(ui, scene, column);
    column.y += ui.paragraph(
        "These are a teacher's own notes on practice, not an evaluation of a child. Decisions on "
        "support belong to your school's team and its licensed staff.",
        {column.x, column.y, column.w, 0}, ui.soft());
    end_page(ui, column);
}

void why_sheet(Ui& ui, const Scene& scene) {
    const model::Student* s =
        scene.cls == nullptr ? nullptr : scene.cls->student(scene.view.student);
    if (s == nullptr) return;
    Column column = begin_sheet(ui, s->name, 700, close_overlay);
    const session::Standing standing = scene.standings.of(s->id, scene.view.skill);
    column.y +=
        ui.paragraph(session::skill_title(*scene.cls, scene.view.skill),
                     {column.x, column.y, column.w, 0}, ui.style(body_size, ui.theme.ink, true));
    column.y += ui.paragraph(session::word_text(session::word_for(standing)),
                             {column.x, column.y, column.w, 0}, ui.body());
    if (standing.marks > 0) {
        const auto percent = [](double p) { return std::to_string(int(p * 100 + 0.5)) + " %"; };
        column.y +=
            ui.paragraph("Chance of having it: " + percent(standing.p) + ", between " +
                             percent(standing.low) + " and " + percent(standing.high) + " on " +
                             base::count_of(std::size_t(standing.marks), "mark", "marks") + ".",
                         {column.x, column.y, column.w, 0}, ui.soft());
    }
    column.skip(gap);
    for (auto it = scene.cls->marks.rbegin(); it != scene.cls->marks.rend(); ++it) {
        if (it->student != s->id || it->skill != scene.view.skill) continue;
        Rect row = column.row(ui.scaled(40), 4);
        const Rect shape = cut_left(row, 40);
        ui.fill(inset(shape, 4), level_color(ui.theme, it->level), 6);
        draw_level(ui, it->level, inset(shape, 8), ui.theme.on_level);
        const base::Date day = today({it->at_ms, scene.now.utc_offset_minutes, 0});
        std::string text = base::short_day(day) + ": " + std::string(level_word(it->level));
        if (it->help == model::Help::hint) text += ", with a hint";
        if (it->help == model::Help::together) text += ", together with you";
        ui.text_line(text, row, ui.body());
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
