#include <algorithm>

#include "base/text.h"
#include "session/seating.h"
#include "ui/screens/groups.h"
#include "ui/screens/progress.h"

namespace tallyround::ui {

namespace {

std::string change_words(const model::Class& cls, const session::SeatChange& change) {
    const model::Student* s = cls.student(change.student);
    const std::string name = s == nullptr ? "" : s->name;
    if (change.to < 0) return name + " loses the seat in " + session::group_name(change.from);
    if (change.from < 0) return name + " joins " + session::group_name(change.to);
    return name + " moves from " + session::group_name(change.from) + " to " +
           session::group_name(change.to);
}

}  // namespace

const model::Groups* groups_of(const session::Decision& decision) {
    for (const record::Body& body : decision.events) {
        if (const auto* set = std::get_if<record::GroupsSet>(&body)) return &set->groups;
    }
    return nullptr;
}

void draw_planning(Ui& ui, const Scene& scene) {
    const auto& running = scene.plans->running;
    if (!running || running->end == PlanEnd::show) return;
    if (scene.now.steady_ms < running->began_ms + PlanDesk::quiet_ms) return;
    const int percent = int(100 * running->job.progress());
    progress_box(
        ui, scene,
        {"cancel-plan", "Planning, " + std::to_string(percent) + " of 100", Role::status, percent},
        [](Act& act) { act.cancel_plan(); });
}

void proposal_sheet(Ui& ui, const Scene& scene) {
    const auto& asked = scene.plans->asked;
    if (!asked || scene.block == nullptr) return;
    const model::Groups* groups = groups_of(asked->decision);
    if (groups == nullptr) return;
    Column column = begin_sheet(ui, "Change the groups?", ui.scaled(280), close_overlay);
    column.y +=
        ui.paragraph("The least change that seats everybody who is here. " + asked->decision.said,
                     {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    ui.open(Role::list, Ui::id({"changes"}), "Who would sit elsewhere",
            {column.x, column.y, column.w, 10});
    for (const auto& change : session::changes_of(*scene.cls, *scene.block, *groups)) {
        const std::string words = change_words(*scene.cls, change);
        ui.open(Role::list_item, Ui::id({"change", change.student.view()}), "",
                {column.x, column.y, column.w, touch});
        const Rect row = column.row(0, 0);
        const float w = column.w - 34;
        draw_icon(ui, change.from < 0 ? Icon::plus : Icon::forward,
                  {row.x, row.y + 2, 22, ui.scaled(22)}, ui.theme.accent);
        column.y += std::max(ui.scaled(26), ui.paragraph(words, {row.x + 34, row.y, w, 0},
                                                         ui.style(body_size, ui.theme.ink, true)));
        column.skip(6);
        ui.close();
    }
    ui.close();
    column.skip(gap);
    const float h = std::max(52.0F, ui.scaled(50));
    Button yes;
    yes.id = Ui::id({"change-yes"});
    yes.label = "Make this change";
    yes.weight = Weight::primary;
    Button no;
    no.id = Ui::id({"change-no"});
    no.label = "Leave it";
    button_pair(ui, column, h, no, close_overlay, yes, [](Act& act) {
        close_overlay(act);
        act.accept_plan();
    });
    end_sheet(ui, column);
}

void obstacles_sheet(Ui& ui, const Scene& scene) {
    const auto& stuck = scene.plans->stuck;
    if (!stuck) return;
    Column column = begin_sheet(ui, "This cannot all be", ui.scaled(320), close_overlay);
    column.y += ui.paragraph(stuck->text, {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    column.y += ui.paragraph("Tap a rule to take it away and try again.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(6);
    for (const session::Obstacle& rule : stuck->obstacles) {
        if (!rule.remove) continue;
        RowItem item;
        item.id = Ui::id({"obstacle", rule.text});
        item.title = rule.text;
        item.spoken = "Take away: " + rule.text;
        item.trailing = Icon::trash;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [remove = *rule.remove, again = stuck->command, end = stuck->end](Act& act) {
                     if (!act.send(remove)) return;
                     close_overlay(act);
                     act.plan(again, end);
                 });
    }
    column.skip(gap);
    Button b;
    b.id = Ui::id({"obstacles-leave"});
    b.label = "Leave it";
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, close_overlay);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
