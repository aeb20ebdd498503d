#include <algorithm>

#include "base/text.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

session::MakeGroups wish(const Scene& scene, std::uint64_t seed) {
    session::MakeGroups m{scene.cls->id, scene.block->id};
    m.policy = session::GroupPolicy(scene.view.group_policy);
    m.size_max = scene.view.group_size;
    m.seed = seed;
    return m;
}

/// A student chip: tap one, then another, and they change places.
void chip(Ui& ui, const Scene& scene, const Rect& r, const model::StudentId& id) {
    const model::Student* s = scene.cls->student(id);
    if (s == nullptr) return;
    const bool picked = scene.view.picked == id;
    const bool away = model::is_absent(*scene.block, id);
    const std::uint32_t node = Ui::id({"chip", id.view()});
    ui.fill(r, picked ? ui.theme.accent : ui.pressed(node) ? ui.theme.accent_soft : ui.theme.sunk);
    if (ui.theme.outlines) ui.outline(r, ui.theme.line);
    if (ui.focused(node)) ui.focus_ring(r);
    const ImU32 ink = picked ? ui.theme.on_accent : away ? ui.theme.ink_soft : ui.theme.ink;
    ui.type().line(inset(r, 12, 0), s->name + (away ? " (absent)" : ""), ui.style(body_size, ink));
    Node& n = ui.node(Role::checkbox, node, s->name + (away ? ", absent" : ""), r);
    n.checked = picked;
    ui.target(node, r, [cls = scene.cls->id, block = scene.block->id, id](Act& act) {
        const model::StudentId first = act.view.picked;
        if (first.empty()) {
            act.view.picked = id;
            return;
        }
        act.view.picked = {};
        if (first != id) act.send(session::SwapStudents{cls, block, first, id});
    });
}

void group_card(Ui& ui, const Scene& scene, const Rect& r, int group, float row_h) {
    const auto& students = scene.block->groups[std::size_t(group)];
    const std::string name = session::group_name(group);
    ui.card(r);
    ui.open(Role::group, Ui::id({"group", name}), name, r);
    Rect inner = inset(r, 10, 8);
    const Rect head = cut_top(inner, ui.scaled(32));
    ui.type().line(head, name, ui.style(body_size, ui.theme.ink, true));
    for (const model::StudentId& id : students) {
        chip(ui, scene, cut_top(inner, row_h), id);
        cut_top(inner, 6);
    }
    const model::StudentId picked = scene.view.picked;
    const bool can_take = !picked.empty() && model::group_of(*scene.block, picked) != group;
    if (can_take && int(students.size()) < scene.view.group_size) {
        Button b;
        b.id = Ui::id({"move-here", name});
        b.label = "Move here";
        b.spoken = "Move to " + name;
        button(ui, cut_top(inner, row_h), b,
               [cls = scene.cls->id, block = scene.block->id, picked, group](Act& act) {
                   if (act.send(session::MoveStudent{cls, block, picked, group})) {
                       act.view.picked = {};
                   }
               });
    }
    ui.close();
}

void group_cards(Ui& ui, const Scene& scene, Column& column) {
    const auto& groups = scene.block->groups;
    std::size_t most = 1;
    for (const auto& g : groups)
        most = std::max(most, g.size());
    const float row_h = std::max(touch, ui.scaled(44));
    const bool room = !scene.view.picked.empty();
    const std::size_t rows = room ? std::max(most, std::size_t(scene.view.group_size)) : most;
    const float h = 16 + ui.scaled(32) + float(rows) * (row_h + 6);
    const int across = column.w > 760 ? 3 : column.w > 480 ? 2 : 1;
    const bool single = across == 1;
    for (std::size_t i = 0; i < groups.size(); i += std::size_t(across)) {
        float card_h = h;
        if (single && !room) {
            card_h = 16 + ui.scaled(32) + float(groups[i].size()) * (row_h + 6);
        }
        const Rect row = column.row(card_h, 10);
        for (int k = 0; k < across && i + std::size_t(k) < groups.size(); ++k) {
            group_card(ui, scene, cell(row, k, across, 10), int(i) + k, row_h);
        }
    }
}

void without_group(Ui& ui, const Scene& scene, Column& column) {
    std::vector<const model::Student*> out;
    for (const model::Student* s : session::present_students(*scene.cls)) {
        if (model::group_of(*scene.block, s->id) < 0) out.push_back(s);
    }
    if (out.empty() || scene.block->groups.empty()) return;
    column.y += ui.heading(2, "Not in a group yet", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.y += ui.paragraph("Tap a name, then “Move here” in a group.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(6);
    const int across = column.w > 480 ? 3 : 2;
    for (std::size_t i = 0; i < out.size(); i += std::size_t(across)) {
        const Rect row = column.row(touch, 6);
        for (int k = 0; k < across && i + std::size_t(k) < out.size(); ++k) {
            chip(ui, scene, cell(row, k, across, 6), out[i + std::size_t(k)]->id);
        }
    }
    column.skip(gap);
}

void controls(Ui& ui, const Scene& scene, Column& column) {
    const View& v = scene.view;
    std::vector<Choice> policies;
    static constexpr const char* names[] = {"Mixed", "Similar", "Any"};
    for (int i = 0; i < 3; ++i) {
        policies.push_back(
            {names[i], v.group_policy == i, [i](Act& act) { act.view.group_policy = i; }});
    }
    choices(ui, column.row(touch), "How to group", policies);
    stepper(ui, column.row(std::max(52.0F, ui.scaled(50))), "At most in a group", v.group_size, 2,
            4, 1, "", [](Act& act, int n) { act.view.group_size = n; });
}

}  // namespace

void groups_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool none = scene.block == nullptr || scene.block->groups.empty();
    const char* lead =
        none ? "Groups of at most four. Mixed puts stronger and weaker standings together, similar "
               "puts students with like needs together."
             : "Tap two students to swap them.";
    Column column = begin_page(ui, area, "groups", "Groups", lead);
    const float h = std::max(54.0F, ui.scaled(52));
    if (scene.block == nullptr) {
        empty_state(ui, column, Icon::aim, "Choose skills first",
                    "Groups belong to a block of centers; start it by choosing skills.");
        Button b;
        b.id = Ui::id({"go-skills"});
        b.label = "Choose skills";
        b.icon = Icon::back;
        b.weight = Weight::primary;
        button(ui, column.row(h), b, go(Screen::skills));
        end_page(ui, column);
        return;
    }
    Button make;
    make.id = Ui::id({"make-groups"});
    make.label = none ? "Make groups" : "Mix again";
    make.icon = none ? Icon::groups : Icon::shuffle;
    make.weight = none ? Weight::primary : Weight::plain;
    const auto wished = wish(scene, scene.view.group_seed);
    const Action mix = [wished](Act& act) {
        if (act.send(wished)) ++act.view.group_seed;
        act.view.picked = {};
    };
    if (none) {
        controls(ui, scene, column);
        button(ui, column.row(h), make, mix);
        end_page(ui, column);
        return;
    }

    Button next;
    next.id = Ui::id({"to-chart"});
    next.label = "Rotation chart";
    next.icon = Icon::forward;
    next.icon_after = true;
    next.weight = Weight::primary;
    button_pair(ui, column, h, make, mix, next, go(Screen::chart));
    column.skip(gap);
    without_group(ui, scene, column);
    group_cards(ui, scene, column);
    column.skip(gap);
    controls(ui, scene, column);
    end_page(ui, column);
}

}  // namespace tallyround::ui
