#include <algorithm>

#include "base/text.h"
#include "cards/generate.h"
#include "model/kinds.h"
#include "session/kinds_for.h"
#include "ui/screens/insight.h"
#include "ui/screens/prep_parts.h"

namespace tallyround::ui {

namespace {

using session::SkillProposal;
using Parts = std::vector<session::MakeBlockFrom::Part>;

std::string kind_title(std::string_view kind) {
    const model::CenterKind* found = model::find_center_kind(kind);
    return std::string(found == nullptr ? kind : found->title);
}

bool wanted(const Scene& scene, const model::SkillId& skill) {
    return scene.view.next_left_out.count(skill) == 0;
}

/// The kind proposed for a skill, or the one chosen in its place.
std::string kind_of(const Scene& scene, const SkillProposal& p) {
    const auto it = scene.view.next_kinds.find(p.skill);
    return it == scene.view.next_kinds.end() ? p.kind : it->second;
}

/// Chooses a kind; there is one teacher, so the skill that had the teacher center gets another.
Action choose_kind(const session::NextBlock& next, const model::SkillId& skill,
                   const std::string& kind) {
    std::vector<std::pair<model::SkillId, std::string>> proposed;
    for (const SkillProposal& p : next.skills)
        proposed.emplace_back(p.skill, p.kind);
    return [proposed, skill, kind](Act& act) {
        auto& kinds = act.view.next_kinds;
        for (const auto& [other, usual] : proposed) {
            const auto it = kinds.find(other);
            const std::string& now = it == kinds.end() ? usual : it->second;
            if (kind == "teacher" && other != skill && now == "teacher") {
                kinds[other] = std::string(session::kinds_for(other).front());
            }
        }
        kinds[skill] = kind;
        act.view.next_left_out.erase(skill);
        close_overlay(act);
    };
}

/// Levels of cards by their dots: chosen, or those that the marks propose.
std::vector<int> tiers_of(const Scene& scene, const SkillProposal& p) {
    const auto it = scene.view.next_tiers.find(p.skill);
    return it == scene.view.next_tiers.end() ? scene.insight->tiers(scene.block->id, p.skill).dots()
                                             : it->second;
}

Parts parts_of(const Scene& scene, const session::NextBlock& next) {
    Parts parts;
    for (const SkillProposal& p : next.skills) {
        if (wanted(scene, p.skill))
            parts.push_back({p.skill, kind_of(scene, p), tiers_of(scene, p)});
    }
    return parts;
}

void level_row(Ui& ui, const Scene& scene, Column& column, const SkillProposal& p) {
    if (!cards::has_generator(p.skill.view())) return;
    const bool chosen = scene.view.next_tiers.count(p.skill) > 0;
    RowItem item;
    item.id = Ui::id({"next-levels", p.skill.view()});
    item.title = "Cards: " + levels_text(tiers_of(scene, p), "levels chosen when printed");
    item.detail = chosen ? "Your choice." : p.why_tier;
    item.spoken =
        item.title + " for " + session::skill_title(*scene.cls, p.skill) + ", " + item.detail;
    item.trailing = Icon::pen;
    row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [skill = p.skill](Act& act) {
        act.view.skill = skill;
        act.view.overlay = Overlay::next_levels;
    });
}

void proposal(Ui& ui, const Scene& scene, Column& column, const SkillProposal& p) {
    const bool on = wanted(scene, p.skill);
    RowItem item;
    item.id = Ui::id({"next-skill", p.skill.view()});
    item.title = session::skill_title(*scene.cls, p.skill);
    item.detail = p.why_skill;
    item.on = on;
    item.role = Role::checkbox;
    item.icon = on ? Icon::check : Icon::plus;
    const float h = row_height(ui, column.w - touch - gap, item);
    Rect row = column.row(h, 6);
    Button page;
    page.id = Ui::id({"next-page", p.skill.view()});
    page.spoken = "Marks on " + item.title;
    page.icon = Icon::forward;
    page.icon_only = true;
    const Rect at = cut_right(row, touch);
    button(ui, {at.x, at.y + (at.h - touch) / 2, touch, touch}, page, open_skill_page(p.skill));
    cut_right(row, gap);
    row_item(ui, row, item, [skill = p.skill, on](Act& act) {
        auto& out = act.view.next_left_out;
        if (on) {
            out.insert(skill);
        } else {
            out.erase(skill);
        }
    });
    if (!on) return;
    Column inner{column.x + pad, column.y, column.w - pad};
    const std::string kind = kind_of(scene, p);
    RowItem center;
    center.id = Ui::id({"next-kind", p.skill.view()});
    center.title = "Center: " + kind_title(kind);
    center.detail = kind == p.kind ? p.why_kind : "Your choice.";
    center.spoken = center.title + " for " + item.title + ", " + center.detail;
    center.trailing = Icon::pen;
    row_item(ui, inner.row(row_height(ui, inner.w, center), 6), center,
             [skill = p.skill](Act& act) {
                 act.view.skill = skill;
                 act.view.overlay = Overlay::next_kind;
             });
    level_row(ui, scene, inner, p);
    column.y = inner.y + pad;
}

void teacher_part(Ui& ui, const Scene& scene, Column& column, const session::NextBlock& next) {
    if (next.teacher.empty()) return;
    section(ui, column, "With you at the teacher center");
    text_row(ui, column, "Choose whose skill it reviews. Names stay on this screen.", ui.soft());
    column.skip(gap);
    for (const session::TeacherGroup& group : next.teacher) {
        std::vector<std::string> names;
        for (const model::StudentId& id : group.students) {
            if (const model::Student* s = scene.cls->student(id)) names.push_back(s->name);
        }
        const auto it =
            std::find_if(next.skills.begin(), next.skills.end(),
                         [&](const SkillProposal& p) { return p.skill == group.skill; });
        const bool on = it != next.skills.end() && wanted(scene, group.skill) &&
                        kind_of(scene, *it) == "teacher";
        RowItem item;
        item.id = Ui::id({"next-teacher", group.skill.view(), group.students.front().view()});
        item.title = base::list_of(names);
        item.detail = group.why;
        item.on = on;
        item.role = Role::checkbox;
        item.icon = Icon::people;
        item.trailing = on ? Icon::check : Icon::none;
        const std::string to =
            on ? std::string(session::kinds_for(group.skill).front()) : std::string("teacher");
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 choose_kind(next, group.skill, to));
    }
}

void make_bar(Ui& ui, const Scene& scene, const session::NextBlock& next, const Rect& bar) {
    const Parts parts = parts_of(scene, next);
    ui.fill(bar, ui.theme.sunk, 0);
    Button b;
    b.id = Ui::id({"make-next"});
    b.label = parts.empty() ? "Tick a skill" : "Make this block";
    b.spoken = parts.empty()
                   ? b.label
                   : b.label + " with " + base::count_of(parts.size(), "center", "centers");
    b.icon = parts.empty() ? Icon::none : Icon::forward;
    b.icon_after = true;
    b.weight = Weight::primary;
    b.disabled = parts.empty();
    button(ui, inset(bar, pad, gap), b,
           [cls = scene.cls->id, like = scene.block->id, parts](Act& act) {
               if (!act.send(session::MakeBlockFrom{cls, "", like, parts})) return;
               act.view.next_left_out.clear();
               act.view.next_kinds.clear();
               act.view.next_tiers.clear();
               act.go(Screen::centers);
           });
}

}  // namespace

void next_block_screen(Ui& ui, const Scene& scene, const Rect& area) {
    if (scene.block == nullptr) return review_screen(ui, scene, area);
    const session::NextBlock& next = scene.insight->next_block();
    Rect rest = area;
    const Rect bar = cut_bottom(rest, std::max(54.0F, ui.scaled(52)) + 2 * gap);
    ui.bottom_bar = bar.h;
    Column column = begin_page(ui, rest, "next block", "The next block",
                               next.why + " Take out or change what does not suit you.");
    for (const SkillProposal& p : next.skills)
        proposal(ui, scene, column, p);
    teacher_part(ui, scene, column, next);
    ui.end_scroll(column.y + 96);
    make_bar(ui, scene, next, bar);
    ui.close();
}

void next_kind_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const session::NextBlock& next = scene.insight->next_block();
    const auto it = std::find_if(next.skills.begin(), next.skills.end(),
                                 [&](const auto& p) { return p.skill == scene.view.skill; });
    if (it == next.skills.end()) return;
    Column column = begin_sheet(ui, "What kind of center?", 700, close_overlay);
    text_row(ui, column, session::skill_title(*scene.cls, it->skill),
             ui.style(body_size, ui.theme.ink, true));
    column.skip(gap);
    const std::string now = kind_of(scene, *it);
    for (const model::CenterKind& kind : model::center_kinds()) {
        RowItem item;
        item.id = Ui::id({"next-kind-of", kind.id});
        item.title = std::string(kind.title);
        item.detail = std::string(kind.purpose);
        item.on = now == kind.id;
        item.trailing = item.on ? Icon::check : Icon::none;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 choose_kind(next, it->skill, std::string(kind.id)));
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
