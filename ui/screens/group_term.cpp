#include <algorithm>

#include "ui/screens/groups.h"

namespace tallyround::ui {

namespace {

session::PlanTerm wish_of(const Scene& scene) {
    session::PlanTerm wish{scene.cls->id, scene.block->id};
    wish.blocks = scene.view.term_blocks;
    wish.size = scene.view.group_size;
    return wish;
}

bool same(const session::PlanTerm& a, const session::PlanTerm& b) {
    return a.cls == b.cls && a.block == b.block && a.blocks == b.blocks && a.size == b.size;
}

/// The plan that has been made for what is chosen, if any.
const PlanDesk::Made* made_for(const Scene& scene, const session::PlanTerm& wish) {
    const auto& shown = scene.plans->shown;
    if (!shown || shown->events != scene.session.log().events().size()) return nullptr;
    const auto* made = std::get_if<session::PlanTerm>(&shown->command);
    return made != nullptr && same(*made, wish) ? &*shown : nullptr;
}

void first_groups(Ui& ui, const Scene& scene, Column& column, const session::Decision& decision) {
    const model::Groups* groups = groups_of(decision);
    if (groups == nullptr) return;
    ui.open(Role::list, Ui::id({"term-groups"}), "Groups for this block",
            {column.x, column.y, column.w, 10});
    for (std::size_t g = 0; g < groups->size(); ++g) {
        std::string text = session::group_name(int(g)) + ": ";
        for (std::size_t i = 0; i < (*groups)[g].size(); ++i) {
            const model::Student* s = scene.cls->student((*groups)[g][i]);
            text += (i > 0 ? ", " : "") + (s == nullptr ? std::string() : s->name);
        }
        ui.open(Role::list_item, Ui::id({"term-group", text}), "",
                {column.x, column.y, column.w, 10});
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.body());
        column.skip(6);
        ui.close();
    }
    ui.close();
}

}  // namespace

void group_term_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    Column column = begin_sheet(ui, "Partners over a term", ui.scaled(420), close_overlay);
    const auto line = [&](const std::string& text, const Style& style, Role role = Role::text) {
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, style, role);
        column.skip(gap);
    };
    line(
        "Plans this block and the next ones together, so that as few students as can be meet "
        "again. Earlier blocks count. Who sits apart or together is kept; seats, helpers and "
        "company are looked at when groups are made block by block.",
        ui.soft());
    const session::PlanTerm wish = wish_of(scene);
    const float h = std::max(52.0F, ui.scaled(50));
    stepper(ui, column.row(h), "Blocks to plan", wish.blocks, 1, 20, 1, "",
            [](Act& act, int n) { act.view.term_blocks = n; });
    stepper(ui, column.row(h), "Students in a group", wish.size, 2, 4, 1, "",
            [](Act& act, int n) { act.view.group_size = n; });
    const PlanDesk::Made* made = made_for(scene, wish);
    const auto& running = scene.plans->running;
    Button b;
    b.weight = Weight::primary;
    if (made == nullptr) {
        if (running) {
            line("Planning, " + std::to_string(int(100 * running->job.progress())) + " of 100",
                 ui.body(), Role::status);
            b.id = Ui::id({"term-cancel"});
            b.label = "Cancel";
            b.weight = Weight::plain;
            button(ui, column.row(h), b, [](Act& act) { act.cancel_plan(); });
        } else {
            if (!scene.plans->shown_trouble.empty()) {
                line(scene.plans->shown_trouble, ui.body(), Role::status);
            }
            b.id = Ui::id({"term-plan"});
            b.label = "Plan the term";
            button(ui, column.row(h), b, [wish](Act& act) { act.plan(wish, PlanEnd::show); });
        }
        end_sheet(ui, column);
        return;
    }
    line(made->decision.said, ui.style(body_size, ui.theme.ink, true), Role::status);
    first_groups(ui, scene, column, made->decision);
    b.id = Ui::id({"term-use"});
    b.label = "Use these groups for this block";
    b.disabled = made->decision.events.empty();
    button(ui, column.row(h), b, [](Act& act) {
        close_overlay(act);
        act.accept_plan(PlanEnd::show);
    });
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
