#include <algorithm>
#include <map>

#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

using session::PathPoint;

constexpr std::size_t marks_shown = 30;

std::string about(const Scene& scene, const model::Student& s, const std::vector<PathPoint>& path) {
    std::string text = base::count_of(path.size(), "mark", "marks");
    const int group = scene.block == nullptr ? -1 : model::group_of(*scene.block, s.id);
    if (group >= 0) text += " · " + session::group_name(group);
    return text +
           ". Shapes are marks; the line is the chance of having the skill after each, the "
           "upright bars how sure that is.";
}

std::string due_text(const Scene& scene, const session::Due& due) {
    if (due.due_ms <= scene.now.utc_ms) return "Due for another look now.";
    return "Due again on " + base::short_day(day_of(scene, due.due_ms)) + ".";
}

void skill_part(Ui& ui, const Scene& scene, Column& column, const model::Student& s,
                const model::SkillId& skill, const std::vector<PathPoint>& path) {
    const session::Standing standing = scene.standings.of(s.id, skill);
    const session::Word word = session::word_for(standing);
    RowItem item;
    item.id = Ui::id({"student-skill", skill.view()});
    item.title = session::skill_title(*scene.cls, skill);
    item.detail = std::string(session::word_text(word)) + ". " + chance_text(scene, standing);
    for (const session::Due& due : scene.insight->due()) {
        if (due.student == s.id && due.skill == skill) item.detail += " " + due_text(scene, due);
    }
    item.trailing = Icon::forward;
    word_row(ui, column, word, item, open_skill_page(skill));
    path_chart(ui, scene, column, path, item.title);
    column.skip(gap);
}

void notes_part(Ui& ui, const Scene& scene, Column& column, const model::Student& s) {
    section(ui, column, "Notes");
    bool any = false;
    for (auto it = scene.cls->notes.rbegin(); it != scene.cls->notes.rend(); ++it) {
        if (it->student != s.id) continue;
        any = true;
        text_row(ui, column, base::short_day(day_of(scene, it->at_ms)) + ": " + it->text,
                 ui.body());
    }
    if (!any) {
        text_row(ui, column, "None yet. Write what you saw, not what you think of it.", ui.soft());
    }
    column.skip(gap);
    Field f;
    f.name = "note";
    f.label = "A new note";
    f.hint = "Only for you";
    f.value = scene.view.draft(f.name);
    text_field(ui, column.row(field_height(ui)), f,
               [cls = scene.cls->id, block = scene.block->id, student = s.id](
                   Act& act, const std::string& text) {
                   if (base::tidy_line(text).empty()) return;
                   if (act.send(session::WriteNote{cls, block, student, {}, text})) {
                       act.view.drafts.erase("note");
                   }
               });
}

void marks_part(Ui& ui, const Scene& scene, Column& column, const std::vector<PathPoint>& path) {
    section(ui, column, "Marks, newest first");
    const bool all = scene.view.all_marks || path.size() <= marks_shown;
    mark_rows(ui, scene, column, path, true, all ? path.size() : marks_shown);
    if (all) return;
    Button b;
    b.id = Ui::id({"all-marks"});
    b.label = "All " + base::count_of(path.size(), "mark", "marks");
    button(ui, column.row(std::max(touch, ui.scaled(48))), b,
           [](Act& act) { act.view.all_marks = true; });
}

}  // namespace

void student_page(Ui& ui, const Scene& scene, const Rect& area) {
    const model::Student* s = scene.cls->student(scene.view.student);
    if (s == nullptr || scene.block == nullptr) return review_screen(ui, scene, area);
    const std::vector<PathPoint>& path = scene.insight->path(s->id);
    Column column = begin_page(ui, area, "student " + s->id.str(), s->name, about(scene, *s, path));
    std::map<model::SkillId, std::vector<PathPoint>> by_skill;
    for (const PathPoint& p : path)
        by_skill[p.skill].push_back(p);
    std::vector<std::string> unseen;
    for (const model::SkillId& skill : scene.insight->picture(scene.view.picture_order).skills) {
        const auto it = by_skill.find(skill);
        if (it == by_skill.end()) {
            unseen.push_back(session::skill_title(*scene.cls, skill));
        } else {
            skill_part(ui, scene, column, *s, skill, it->second);
        }
    }
    if (!unseen.empty()) {
        text_row(ui, column, "Not seen yet: " + base::list_of(unseen) + ".", ui.soft());
    }
    notes_part(ui, scene, column, *s);
    marks_part(ui, scene, column, path);
    evidence_caution(ui, column);
    end_page(ui, column);
}

}  // namespace tallyround::ui
