#include <algorithm>

#include "base/text.h"
#include "cards/bank.h"
#include "model/kinds.h"
#include "ui/screens/chart_parts.h"

namespace tallyround::ui {

namespace {

std::string kind_title(const std::string& kind) {
    const model::CenterKind* k = model::find_center_kind(kind);
    return k == nullptr ? kind : std::string(k->title);
}

/// A first kind for a new center that is not there yet, in the order of the table.
std::string next_kind(const model::Block& block) {
    for (const model::CenterKind& k : model::center_kinds()) {
        const bool used = std::any_of(block.centers.begin(), block.centers.end(),
                                      [&](const model::Center& c) { return c.kind == k.id; });
        if (!used) return std::string(k.id);
    }
    return "cards";
}

void edit(Act& act, const model::Center& c) {
    act.view.center = c.id;
    act.view.drafts["center-title"] = c.title;
    act.view.drafts["center-instructions"] = c.instructions;
    act.view.drafts["center-materials"] = c.materials;
    act.view.overlay = Overlay::center;
}

void center_rows(Ui& ui, const Scene& scene, Column& column) {
    int number = 0;
    for (const model::Center* c : session::open_centers(*scene.block)) {
        ++number;
        RowItem item;
        item.id = Ui::id({"center", c->id.view()});
        item.title = std::to_string(number) + ". " + session::center_title(*c);
        item.detail = session::skill_title(*scene.cls, c->skill);
        item.trailing = Icon::pen;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [center = *c](Act& act) { edit(act, center); });
    }
}

Button wide_button(std::string_view id, std::string label, Icon icon, Weight weight) {
    Button b;
    b.id = Ui::id({id});
    b.label = std::move(label);
    b.icon = icon;
    b.weight = weight;
    return b;
}

void group_hint(Ui& ui, const Scene& scene, Column& column, std::size_t centers) {
    const std::size_t students = session::present_students(*scene.cls).size();
    const std::size_t wanted = (students + 3) / 4;
    std::string text = base::count_of(students, "student", "students") +
                       " in groups of at most four make " +
                       base::count_of(wanted, "group", "groups") + ", so " +
                       std::to_string(wanted) + " centers keep everyone busy.";
    if (centers >= wanted && wanted > 0) text += " You have enough.";
    column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
}

}  // namespace

void centers_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "centers", "Centers",
                               "One place in the room, one skill. Tap a center to change what "
                               "happens there.");
    const float h = std::max(54.0F, ui.scaled(52));
    if (scene.block == nullptr || scene.block->skills.empty()) {
        empty_state(ui, column, Icon::aim, "Choose skills first",
                    "Each center reviews one skill, so the skills come first.");
        button(ui, column.row(h),
               wide_button("go-skills", "Choose skills", Icon::back, Weight::primary),
               go(Screen::skills));
        end_page(ui, column);
        return;
    }
    const auto ids = std::pair{scene.cls->id, scene.block->id};
    const auto centers = session::open_centers(*scene.block);
    const bool all = std::all_of(
        scene.block->skills.begin(), scene.block->skills.end(), [&](const model::SkillId& s) {
            return std::any_of(centers.begin(), centers.end(),
                               [&](const model::Center* c) { return c->skill == s; });
        });
    if (!all) {
        button(ui, column.row(h),
               wide_button("centers-for-skills", "One center for each skill", Icon::plus,
                           Weight::primary),
               [ids](Act& act) {
                   act.send(session::AddCentersForSkills{ids.first, ids.second});
               });
    } else {
        Button next = wide_button("to-time", "Fit into the period", Icon::forward, Weight::primary);
        next.icon_after = true;
        button(ui, column.row(h), next, go(Screen::fit));
    }
    group_hint(ui, scene, column, centers.size());
    center_rows(ui, scene, column);
    column.skip(gap);
    Button add = wide_button("add-center", "Add a center", Icon::plus, Weight::plain);
    button(ui, column.row(h), add,
           [ids, kind = next_kind(*scene.block), skill = scene.block->skills.front()](Act& act) {
               change_chart(act, {ids.first, ids.second},
                            session::AddCenter{ids.first, ids.second, kind, skill},
                            "One center more");
           });
    const bool devices = std::any_of(centers.begin(), centers.end(), [](const model::Center* c) {
        const model::CenterKind* k = model::find_center_kind(c->kind);
        return k != nullptr && k->uses_devices;
    });
    if (devices) {
        column.skip(gap);
        stepper(ui, column.row(std::max(52.0F, ui.scaled(50))), "Devices in the room",
                scene.block->devices, 0, 60, 1, "", [ids](Act& act, int n) {
                    act.send(session::SetDevices{ids.first, ids.second, n}, Reply::aloud);
                });
    }
    column.skip(gap);
    column.y += ui.paragraph(
        "Counters and tiles: no food where there may be allergies; small parts and scissors as "
        "your school allows.",
        {column.x, column.y, column.w, 0}, ui.soft());
    end_page(ui, column);
}

namespace {

/// The center with what is typed so far.
model::Center drafted(const View& view, model::Center c) {
    c.title = base::tidy_line(view.draft("center-title"));
    c.instructions = view.draft("center-instructions");
    c.materials = view.draft("center-materials");
    return c;
}

void kind_choices(Ui& ui, Column& column, const model::Center& c, const model::ClassId& cls,
                  const model::BlockId& block) {
    column.y += ui.paragraph("What the group does", {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(4);
    const auto kinds = model::center_kinds();
    const int across = column.w > 440 ? 3 : 2;
    for (std::size_t i = 0; i < kinds.size(); i += std::size_t(across)) {
        const Rect row = column.row(touch, 6);
        for (int k = 0; k < across && i + std::size_t(k) < kinds.size(); ++k) {
            const model::CenterKind& kind = kinds[i + std::size_t(k)];
            toggle(ui, cell(row, k, across, 6), Ui::id({"kind", kind.id}), kind.title,
                   c.kind == kind.id, [c, cls, block, &kind](Act& act) {
                       model::Center next = c;
                       next.kind = std::string(kind.id);
                       next.instructions = std::string(kind.instructions);
                       next.materials = std::string(kind.materials);
                       next.title = base::tidy_line(act.view.draft("center-title"));
                       if (!act.send(session::EditCenter{cls, block, next}, Reply::plain)) return;
                       act.view.drafts["center-instructions"] = next.instructions;
                       act.view.drafts["center-materials"] = next.materials;
                   });
        }
    }
    if (const model::CenterKind* kind = model::find_center_kind(c.kind)) {
        column.y += ui.paragraph(kind->purpose, {column.x, column.y, column.w, 0}, ui.soft());
    }
    column.skip(gap);
}

}  // namespace

void center_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Center* c = model::find_center(*scene.block, scene.view.center);
    if (c == nullptr) return;
    const auto cls = scene.cls->id;
    const auto block = scene.block->id;
    Column column = begin_sheet(ui, "Center", 2000, close_overlay);
    kind_choices(ui, column, *c, cls, block);
    RowItem skill;
    skill.id = Ui::id({"center-skill"});
    skill.title = session::skill_title(*scene.cls, c->skill);
    skill.detail = "The one skill reviewed here";
    skill.trailing = Icon::forward;
    row_item(ui, column.row(row_height(ui, column.w, skill)), skill,
             open_overlay(Overlay::center_skill));
    const auto field = [&](const char* name, const char* label, const char* hint, bool area,
                           float lines) {
        Field f;
        f.name = name;
        f.label = label;
        f.hint = hint;
        f.value = scene.view.draft(name);
        f.area = area;
        const float h = area ? ui.scaled(24) + lines * ui.scaled(24) + 12 : field_height(ui);
        text_field(ui, column.row(h), f);
    };
    field("center-title", "Name on the sign", kind_title(c->kind).c_str(), false, 1);
    field("center-instructions", "What students do, one step a line", "", true, 4);
    field("center-materials", "Materials for a group, one a line", "", true, 4);
    stepper(ui, column.row(std::max(52.0F, ui.scaled(50))), "Groups at once", c->holds, 1, 6, 1, "",
            [cls, block, center = *c](Act& act, int n) {
                model::Center next = center;
                next.holds = n;
                change_chart(act, {cls, block}, session::EditCenter{cls, block, next},
                             "Groups at once", Overlay::center);
            });
    column.skip(gap);
    const float h = std::max(52.0F, ui.scaled(50));
    button(ui, column.row(h), wide_button("keep-center", "Keep", Icon::check, Weight::primary),
           [cls, block, center = *c](Act& act) {
               const session::EditCenter wish{cls, block, drafted(act.view, center)};
               if (act.send(wish, Reply::plain)) close_overlay(act);
           });
    button(ui, column.row(h),
           wide_button("close-center", "Take this center out", Icon::trash, Weight::danger),
           [cls, block, id = c->id](Act& act) {
               change_chart(act, {cls, block}, session::CloseCenter{cls, block, id, true},
                            "One center fewer");
           });
    end_sheet(ui, column);
}

void center_skill_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Center* c = model::find_center(*scene.block, scene.view.center);
    if (c == nullptr) return;
    const Action back = [](Act& act) { act.view.overlay = Overlay::center; };
    Column column = begin_sheet(ui, "Skill of this center", 600, back);
    for (const model::SkillId& id : scene.block->skills) {
        RowItem item;
        item.id = Ui::id({"pick-skill", id.view()});
        item.title = session::skill_title(*scene.cls, id);
        item.on = c->skill == id;
        item.trailing = item.on ? Icon::check : Icon::none;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [cls = scene.cls->id, block = scene.block->id, center = *c, id](Act& act) {
                     model::Center next = drafted(act.view, center);
                     next.skill = id;
                     if (act.send(session::EditCenter{cls, block, next}, Reply::plain)) {
                         act.view.overlay = Overlay::center;
                     }
                 });
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
