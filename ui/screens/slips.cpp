#include "session/slips.h"
#include "base/text.h"
#include "cards/generate.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

void slip_rows(Ui& ui, const Scene& scene, Column& column, const model::SkillId& skill) {
    const auto& known = cards::skill_slips(skill.view());
    if (known.empty()) return;
    column.skip(gap);
    column.y += ui.paragraph("Wrong answer seen? Tap what the key says, then the mark.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(4);
    for (const cards::SlipInfo* slip : known) {
        const std::string id(slip->id);
        RowItem item;
        item.id = Ui::id({"slip", id});
        item.title = slip->rule;
        item.on = scene.view.slip == id;
        item.trailing = item.on ? Icon::check : Icon::none;
        item.role = Role::checkbox;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [id, on = item.on](Act& act) { act.view.slip = on ? "" : id; });
    }
}

void slip_picture(Ui& ui, const Scene& scene, Column& column) {
    bool any = false;
    for (const model::SkillId& skill : scene.insight->picture(scene.view.picture_order).skills) {
        const auto seen = session::slips_seen(*scene.cls, skill);
        if (seen.empty()) continue;
        if (!any) {
            column.y += ui.heading(2, "Wrong answers seen", {column.x, column.y, column.w, 0},
                                   ui.style(lead_size, ui.theme.ink, true));
            any = true;
        }
        column.skip(4);
        column.y +=
            ui.paragraph(session::skill_title(*scene.cls, skill), {column.x, column.y, column.w, 0},
                         ui.style(body_size, ui.theme.ink, true));
        for (const session::SlipCount& slip : seen) {
            column.y +=
                ui.paragraph(base::count_of(std::size_t(slip.students), "student", "students") +
                                 ": " + slip.rule,
                             {column.x, column.y, column.w, 0}, ui.body());
        }
    }
    if (any) column.skip(pad);
}

}  // namespace tallyround::ui
