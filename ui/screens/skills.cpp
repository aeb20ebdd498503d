#include <algorithm>

#include "base/search.h"
#include "base/text.h"
#include "cards/bank.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

bool is_chosen(const Scene& scene, const model::SkillId& id) {
    return scene.block != nullptr &&
           std::find(scene.block->skills.begin(), scene.block->skills.end(), id) !=
               scene.block->skills.end();
}

/// Chooses or drops a skill; makes the first block on the way if there is none.
Action choose(const Scene& scene, const model::SkillId& skill, bool on) {
    return [cls = scene.cls->id, skill, on](Act& act) {
        const model::Class* c = act.state().find_class(cls);
        if (c == nullptr) return;
        if (c->current_block() == nullptr &&
            !act.send(session::MakeBlock{cls, "Review block", {}}, Reply::plain)) {
            return;
        }
        c = act.state().find_class(cls);
        act.send(session::ChooseSkill{cls, c->current_block()->id, skill, on}, Reply::aloud);
    };
}

std::string builds_on(const model::Class& cls, const cards::SkillInfo& skill) {
    std::vector<std::string> titles;
    for (const std::string_view id : skill.before) {
        titles.push_back(session::skill_title(cls, model::SkillId(id)));
    }
    return titles.empty() ? "" : "Builds on: " + base::list_of(titles);
}

void skill_row(Ui& ui, const Scene& scene, Column& column, const model::SkillId& id,
               const std::string& title, const std::string& detail) {
    const bool on = is_chosen(scene, id);
    RowItem item;
    item.id = Ui::id({"skill", id.view()});
    item.title = title;
    item.detail = detail;
    item.role = Role::checkbox;
    item.on = on;
    item.trailing = on ? Icon::check : Icon::plus;
    row_item(ui, column.row(row_height(ui, column.w, item), 6), item, choose(scene, id, !on));
}

void grade_choices(Ui& ui, Column& column, int grade) {
    std::vector<Choice> grades;
    for (int g = 5; g <= 8; ++g) {
        const std::string label = column.w > 480 ? "Grade " + std::to_string(g) : std::to_string(g);
        grades.push_back({label, grade == g, [g](Act& act) { act.view.skill_grade = g; }});
    }
    choices(ui, column.row(touch), "Grade", grades);
    column.skip(gap);
}

/// The skills of a grade, or, where something is looked for, those of all grades that have it.
/// Returns whether there are any.
bool bank_rows(Ui& ui, const Scene& scene, Column& column, int grade, const std::string& text) {
    const cards::Strand* last = nullptr;
    for (const cards::SkillInfo& s : cards::skill_bank()) {
        const std::string where =
            std::string(s.title) + " " + std::string(cards::strand_title(s.strand));
        if (text.empty() ? s.grade != grade : !base::finds(where, text)) continue;
        if (last == nullptr || *last != s.strand) {
            column.skip(gap);
            column.y +=
                ui.heading(2, cards::strand_title(s.strand), {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
            column.skip(6);
        }
        last = &s.strand;
        const std::string before = builds_on(*scene.cls, s);
        const std::string of_grade = "Grade " + std::to_string(s.grade);
        skill_row(ui, scene, column, model::SkillId(s.id), std::string(s.title),
                  text.empty()     ? before
                  : before.empty() ? of_grade
                                   : of_grade + ". " + before);
    }
    return last != nullptr;
}

bool own_rows(Ui& ui, const Scene& scene, Column& column, const std::string& text) {
    std::vector<const model::OwnSkill*> shown;
    for (const model::OwnSkill& s : scene.cls->own_skills) {
        if (base::finds(s.title, text)) shown.push_back(&s);
    }
    if (!shown.empty()) {
        column.skip(gap);
        column.y += ui.heading(2, "Your own", {column.x, column.y, column.w, 0},
                               ui.style(lead_size, ui.theme.ink, true));
        column.skip(6);
    }
    for (const model::OwnSkill* s : shown)
        skill_row(ui, scene, column, s->id, s->title, "Grade " + std::to_string(s->grade));
    return !shown.empty();
}

void own_skill_button(Ui& ui, Column& column) {
    Button b;
    b.id = Ui::id({"own-skill"});
    b.label = "Write a skill of your own";
    b.icon = Icon::pen;
    b.has_popup = true;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, [](Act& act) {
        act.view.drafts["own-skill"].clear();
        act.view.overlay = Overlay::own_skill;
    });
}

/// Always in the same place, so that nothing moves under the finger while skills are chosen.
void chosen_bar(Ui& ui, const Scene& scene, const Rect& bar) {
    const std::size_t count = scene.block == nullptr ? 0 : scene.block->skills.size();
    ui.fill({bar.x, bar.y, bar.w, 1}, fade(ui.theme.line, 0.4F), 0);
    Button next;
    next.id = Ui::id({"to-centers"});
    next.label = count == 0 ? "No skill chosen yet"
                            : "Make centers for " + base::count_of(count, "skill", "skills");
    next.icon = count == 0 ? Icon::none : Icon::forward;
    next.icon_after = true;
    next.weight = Weight::primary;
    next.disabled = count == 0;
    button(ui, inset(bar, pad, gap), next, go(Screen::centers));
}

void chosen_list(Ui& ui, const Scene& scene, Column& column) {
    if (scene.block == nullptr || scene.block->skills.empty()) return;
    column.skip(gap);
    column.y += ui.heading(2, "Chosen", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    for (const model::SkillId& id : scene.block->skills) {
        column.y += ui.paragraph(session::skill_title(*scene.cls, id),
                                 {column.x, column.y, column.w, 0}, ui.body());
    }
}

}  // namespace

void skills_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Rect rest = area;
    const Rect bar = cut_bottom(rest, std::max(54.0F, ui.scaled(52)) + 2 * gap);
    ui.bottom_bar = bar.h;
    Column column =
        begin_page(ui, rest, "skills", "What should they master?",
                   "Choose the skills to review: one for each center. Review only what has been "
                   "taught.");
    const int grade = scene.view.skill_grade == 0 ? scene.cls->grade : scene.view.skill_grade;
    const std::string text = search_field(ui, column, "find-skill", "Find a skill in all grades",
                                          scene.view.draft("find-skill"));
    if (text.empty()) grade_choices(ui, column, grade);
    const bool in_bank = bank_rows(ui, scene, column, grade, text);
    const bool own = own_rows(ui, scene, column, text);
    if (!in_bank && !own) nothing_found(ui, column, "find-skill", text);
    own_skill_button(ui, column);
    chosen_list(ui, scene, column);
    ui.end_scroll(column.y + 96);
    chosen_bar(ui, scene, bar);
    ui.close();
}

void own_skill_sheet(Ui& ui, const Scene& scene) {
    if (scene.cls == nullptr) return;
    Column column = begin_sheet(ui, "A skill of your own", ui.scaled(330), close_overlay);
    Field f;
    f.name = "own-skill";
    f.label = "One specific skill";
    f.hint = "Round to the nearest hundredth";
    f.value = scene.view.draft("own-skill");
    text_field(ui, column.row(field_height(ui), pad), f);
    Button bring;
    bring.id = Ui::id({"bring-framework"});
    bring.label = "Bring in a framework file";
    bring.icon = Icon::file;
    Button b;
    b.id = Ui::id({"add-own-skill"});
    b.label = "Add and choose it";
    b.weight = Weight::primary;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
           [cls = scene.cls->id, grade = scene.cls->grade](Act& act) {
               if (!act.send(session::AddOwnSkill{cls, act.view.draft("own-skill"), grade})) return;
               const model::SkillId id(act.made().front());
               const model::Class* c = act.state().find_class(cls);
               if (c->current_block() == nullptr &&
                   !act.send(session::MakeBlock{cls, "Review block", {}}, Reply::plain)) {
                   return;
               }
               c = act.state().find_class(cls);
               act.send(session::ChooseSkill{cls, c->current_block()->id, id, true});
               close_overlay(act);
           });
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), bring, [](Act& act) {
        act.fx.emplace_back(PickFile{"framework", ".json,application/json"});
        close_overlay(act);
    });
    column.y += ui.paragraph(
        "A framework file in 1EdTech's CASE format: its statements become skills of your own, with "
        "their codes.",
        {column.x, column.y, column.w, 0}, ui.soft());
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
