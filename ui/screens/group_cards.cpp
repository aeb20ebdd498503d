#include <algorithm>

#include "ui/screens/groups.h"

namespace tallyround::ui {

namespace {

using session::SeatEffect;

/// Told apart by shape: a cross, two ways, a plus, a minus, a tick.
Icon icon_of(SeatEffect::Kind kind) {
    switch (kind) {
        case SeatEffect::Kind::breaks:
            return Icon::close;
        case SeatEffect::Kind::parts:
            return Icon::swap;
        case SeatEffect::Kind::more_repeats:
            return Icon::plus;
        case SeatEffect::Kind::fewer_repeats:
            return Icon::minus;
        case SeatEffect::Kind::same:
            break;
    }
    return Icon::check;
}

/// The few words that fit, or the fewest.
std::string fitting(Ui& ui, const SeatEffect& effect, const Style& style, float width) {
    if (ui.type().width(effect.brief, style) <= width) return effect.brief;
    if (effect.kind == SeatEffect::Kind::breaks) return "against a rule";
    if (effect.kind == SeatEffect::Kind::parts) return "parts a pair";
    return effect.brief;
}

/// Room for a name and, under it, what a swap would do; the same whether it is said or not, so
/// that nothing jumps under a finger.
float chip_height(const Ui& ui) {
    return std::max(touch, ui.scaled(54));
}

void pick(Act& act, const model::StudentId& id) {
    act.view.picked = id;
    act.view.toast.clear();  // an old message would lie over whom to swap with
}

void swap_or_pick(Act& act, const model::ClassId& cls, const model::BlockId& block,
                  const model::StudentId& id) {
    const model::StudentId first = act.view.picked;
    if (first.empty()) {
        pick(act, id);
        return;
    }
    act.view.picked = {};
    if (first != id) act.send(session::SwapStudents{cls, block, first, id});
}

void chip_text(Ui& ui, const Rect& r, const std::string& name, const SeatEffect* effect,
               ImU32 ink) {
    Rect inner = inset(r, 12, 4);
    if (effect == nullptr) {
        ui.type().line(inner, name, ui.style(body_size, ink));
        return;
    }
    const Rect icon = cut_right(inner, 24);
    draw_icon(ui, icon_of(effect->kind), {icon.x, icon.y + icon.h / 2 - 10, 20, 20}, ink, 2.2F);
    cut_right(inner, 6);
    const Style small = ui.style(small_size, ink);
    const Rect above = cut_top(inner, inner.h * 0.54F);
    ui.type().line(above, name, ui.style(body_size, ink));
    ui.type().line(inner, fitting(ui, *effect, small, inner.w), small);
}

/// A student: tap one, then another, and they change places; or hold and drag.
void chip(Ui& ui, const Scene& scene, const Rect& r, const model::StudentId& id) {
    const model::Student* s = scene.cls->student(id);
    if (s == nullptr) return;
    const bool picked = scene.view.picked == id;
    const bool away = model::is_absent(*scene.block, id);
    const std::uint32_t node = Ui::id({"chip", id.view()});
    const SeatEffect* effect = scene.groups->swap_with(id);
    const bool under = ui.dropping_on(node);
    const ImU32 surface = picked                      ? ui.theme.accent
                          : under || ui.pressed(node) ? ui.theme.accent_soft
                                                      : ui.theme.sunk;
    ui.fill(r, surface);
    if (ui.theme.outlines) ui.outline(r, ui.theme.line);
    if (under) ui.outline(r, ui.theme.accent, corner, 2.5F);
    if (ui.focused(node)) ui.focus_ring(r);
    const ImU32 ink = picked                       ? ui.theme.on_accent
                      : away && !ui.theme.outlines ? ui.theme.ink_soft
                                                   : ui.theme.ink;
    chip_text(ui, r, s->name + (away ? " (absent)" : ""), effect, ink);
    Node& n = ui.node(Role::checkbox, node, s->name + (away ? ", absent" : ""), r);
    n.checked = picked;
    if (effect != nullptr) n.value = effect->text;
    const auto cls = scene.cls->id;
    const auto block = scene.block->id;
    ui.target(
        node, r, [cls, block, id](Act& act) { swap_or_pick(act, cls, block, id); },
        [id](Act& act) { pick(act, id); });
    ui.carry(id.str(), s->name);
    ui.take_drops([cls, block, id](Act& act, const std::string& carried) {
        const model::StudentId other(carried);
        if (other == id) return;
        act.view.picked = {};
        act.send(session::SwapStudents{cls, block, other, id});
    });
}

session::SetGroupRules with_lock(const Scene& scene, int group, bool locked) {
    session::SetGroupRules wish{scene.cls->id, scene.block->id, scene.block->group_rules};
    std::erase(wish.rules.locked, group);
    if (locked) wish.rules.locked.push_back(group);
    std::sort(wish.rules.locked.begin(), wish.rules.locked.end());
    return wish;
}

/// Name, and either what can be asked of the group or a way in for the picked student.
void card_head(Ui& ui, const Scene& scene, const Rect& r, int group, bool can_take) {
    const std::string name = session::group_name(group);
    Rect head = r;
    if (can_take) {
        const model::StudentId picked = scene.view.picked;
        const SeatEffect* effect = scene.groups->move_to(group);
        Button b;
        b.id = Ui::id({"move-here", name});
        b.label = "Move here";
        b.spoken = "Move to " + name + (effect == nullptr ? "" : ": " + effect->brief);
        b.icon = effect == nullptr ? Icon::none : icon_of(effect->kind);
        button(ui, cut_right(head, std::min(head.w * 0.6F, ui.scaled(150))), b,
               [cls = scene.cls->id, block = scene.block->id, picked, group](Act& act) {
                   if (act.send(session::MoveStudent{cls, block, picked, group})) {
                       act.view.picked = {};
                   }
               });
    } else {
        const auto& all = scene.block->group_rules.locked;
        const bool locked = std::find(all.begin(), all.end(), group) != all.end();
        Button b;
        b.id = Ui::id({"lock", name});
        b.spoken = (locked ? "Unlock " : "Lock ") + name;
        b.icon = locked ? Icon::lock : Icon::unlock;
        b.icon_only = true;
        b.weight = locked ? Weight::primary : Weight::quiet;
        button(ui, cut_right(head, touch), b,
               [wish = with_lock(scene, group, !locked)](Act& act) { act.send(wish); });
        cut_right(head, 4);
        b = {};
        b.id = Ui::id({"why-group", name});
        b.label = "Why?";
        b.spoken = "Why " + name + " is as it is";
        b.weight = Weight::quiet;
        b.has_popup = true;
        button(ui, cut_right(head, ui.scaled(64)), b, [group](Act& act) {
            act.view.index = group;
            act.view.overlay = Overlay::group_why;
        });
    }
    ui.type().line(head, name, ui.style(body_size, ui.theme.ink, true));
}

void group_card(Ui& ui, const Scene& scene, const Rect& r, int group, float row_h) {
    const auto& students = scene.block->groups[std::size_t(group)];
    const std::string name = session::group_name(group);
    const std::uint32_t id = Ui::id({"group", name});
    ui.card(r);
    const model::StudentId picked = scene.view.picked;
    const bool can_take =
        !picked.empty() && students.size() < 4 && model::group_of(*scene.block, picked) != group;
    ui.open(Role::group, id, name, r);
    if (students.size() < 4) {
        // Dropping on somebody swaps: chips come later, on top.
        ui.drop_zone(
            id, r,
            [cls = scene.cls->id, block = scene.block->id, group](Act& act,
                                                                  const std::string& carried) {
                act.view.picked = {};
                act.send(session::MoveStudent{cls, block, model::StudentId(carried), group});
            });
    }
    if (ui.dropping_on(id)) ui.outline(r, ui.theme.accent, corner, 2.5F);
    Rect inner = inset(r, 10, 6);
    card_head(ui, scene, cut_top(inner, touch), group, can_take);
    cut_top(inner, 4);
    for (const model::StudentId& student : students) {
        chip(ui, scene, cut_top(inner, row_h), student);
        cut_top(inner, 6);
    }
    ui.close();
}

}  // namespace

void group_cards(Ui& ui, const Scene& scene, Column& column) {
    const auto& groups = scene.block->groups;
    std::size_t most = 1;
    for (const auto& g : groups)
        most = std::max(most, g.size());
    const float row_h = chip_height(ui);
    const auto height = [&](std::size_t students) {
        return 16 + touch + 4 + float(students) * (row_h + 6);
    };
    const int across = column.w > ui.scaled(760) ? 3 : column.w > ui.scaled(480) ? 2 : 1;
    for (std::size_t i = 0; i < groups.size(); i += std::size_t(across)) {
        const Rect row = column.row(height(across == 1 ? groups[i].size() : most), 10);
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
    column.y += ui.paragraph("Tap a name, then “Move here” in a group; or drag it there.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(6);
    const int across = column.w > ui.scaled(480) ? 3 : column.w > ui.scaled(300) ? 2 : 1;
    for (std::size_t i = 0; i < out.size(); i += std::size_t(across)) {
        const Rect row = column.row(chip_height(ui), 6);
        for (int k = 0; k < across && i + std::size_t(k) < out.size(); ++k) {
            chip(ui, scene, cell(row, k, across, 6), out[i + std::size_t(k)]->id);
        }
    }
    column.skip(gap);
}

}  // namespace tallyround::ui
