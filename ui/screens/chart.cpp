#include <algorithm>

#include "base/text.h"
#include "session/chart_plan.h"
#include "session/prep.h"
#include "sheets/sheet.h"
#include "ui/screens/chart_parts.h"

namespace tallyround::ui {

namespace {

/// The poster for the wall, as a page of its own.
void print_poster(Act& act, const ChartIds& ids) {
    const model::Class* cls = act.state().find_class(ids.cls);
    const model::Block* block = cls == nullptr ? nullptr : cls->block(ids.block);
    if (block == nullptr) return;
    const auto out = print_out(*cls, *block, {sheets::find_sheet_kind("chart")}, act.view.print);
    if (!out) return act.say(out.error().text(), true);
    act.fx.emplace_back(out->page);
}

/// The block's rule that pins this cell, or the end.
std::vector<model::ChartRule>::const_iterator pin_of(const model::Block& block, int group,
                                                     int round) {
    const auto& rules = block.chart_rules.rules;
    const model::CenterId at = model::center_at(block, group, round);
    return std::find_if(rules.begin(), rules.end(), [&](const model::ChartRule& rule) {
        const bool ours = rule.groups.empty() || std::find(rule.groups.begin(), rule.groups.end(),
                                                           group) != rule.groups.end();
        return rule.kind == model::ChartRuleKind::visit_in_round && rule.round == round &&
               rule.center == at && ours;
    });
}

model::ChartRule pin(const model::CenterId& center, int group, int round) {
    model::ChartRule rule;
    rule.kind = model::ChartRuleKind::visit_in_round;
    rule.center = center;
    rule.round = round;
    rule.groups = {group};
    return rule;
}

/// The rules with this cell pinned, or let go if it was.
model::ChartRules pin_turned(const model::Block& block, int group, int round) {
    model::ChartRules rules = block.chart_rules;
    const auto it = pin_of(block, group, round);
    if (it == block.chart_rules.rules.end()) {
        rules.rules.push_back(pin(model::center_at(block, group, round), group, round));
        return rules;
    }
    const auto place = it - block.chart_rules.rules.begin();
    std::erase(rules.rules[std::size_t(place)].groups, group);
    if (rules.rules[std::size_t(place)].groups.empty())
        rules.rules.erase(rules.rules.begin() + place);
    return rules;
}

void no_chart(Ui& ui, const Scene& scene, Column& column) {
    const float h = std::max(54.0F, ui.scaled(52));
    const std::string needs = session::step_needs(*scene.cls, session::Step::chart);
    Button b;
    b.weight = Weight::primary;
    if (!needs.empty()) {
        empty_state(ui, column, Icon::grid, "Not quite yet", needs);
        if (const StepWords* next = next_words(*scene.cls)) {
            b.id = Ui::id({"go-step"});
            b.label = std::string("Go to ") + next->title;
            b.icon = Icon::back;
            button(ui, column.row(h), b, go(next->screen));
        }
        return;
    }
    empty_state(ui, column, Icon::grid, "Ready to make the chart",
                "Every group visits the centers in order, one a round.");
    b.id = Ui::id({"make-chart"});
    b.label = "Make the chart";
    b.icon = Icon::grid;
    const ChartIds ids{scene.cls->id, scene.block->id};
    button(ui, column.row(h), b, [ids](Act& act) { make_chart(act, ids, 1); });
    b = {};
    b.id = Ui::id({"chart-rules"});
    b.label = "Rules for the chart";
    b.icon = Icon::pen;
    b.has_popup = true;
    button(ui, column.row(h), b, open_overlay(Overlay::chart_rules));
}

/// How the chart is looked at, where all of it is too small to touch.
void side_choice(Ui& ui, const Scene& scene, Column& column) {
    const auto side = [](int n) {
        return [n](Act& act) {
            act.view.chart_side = n;
            act.view.chart_at = n == 1 ? std::max(1, act.view.cell_round) : 1;
            act.view.cell_group = 0;
        };
    };
    const int now = scene.view.chart_side;
    choices(ui, column.row(std::max(touch, ui.scaled(46))), "Show",
            {{"All", now == 0, side(0)},
             {"By round", now == 1, side(1)},
             {"By group", now == 2, side(2)}});
}

/// What the chart is worth.
void verdict(Ui& ui, const Scene& scene, Column& column) {
    const model::Block& block = *scene.block;
    column.y += ui.paragraph(session::chart_facts(block, block.chart),
                             {column.x, column.y, column.w, 0}, ui.body());
    const session::ChartCheck* check = scene.chart_check;
    if (check != nullptr) {
        column.y += ui.paragraph(
            check->done() ? check->words() : "Looking whether a better chart is possible …",
            {column.x, column.y, column.w, 0},
            check->better() ? ui.style(body_size, ui.theme.ink, true) : ui.soft());
    }
    column.skip(gap);
}

void chart_buttons(Ui& ui, const Scene& scene, Column& column) {
    const ChartIds ids{scene.cls->id, scene.block->id};
    const model::Block& block = *scene.block;
    const float h = std::max(52.0F, ui.scaled(50));
    Button rules;
    rules.id = Ui::id({"chart-rules"});
    const std::size_t count = block.chart_rules.rules.size();
    rules.label = count == 0 ? "Rules" : "Rules (" + std::to_string(count) + ")";
    rules.spoken = "Rules for the chart";
    rules.icon = Icon::pen;
    rules.has_popup = true;
    Button anew;
    anew.id = Ui::id({"make-chart"});
    anew.label = "Make it anew";
    anew.icon = Icon::shuffle;
    button_pair(ui, column, h, rules, open_overlay(Overlay::chart_rules), anew,
                [ids](Act& act) { make_chart(act, ids, std::uint64_t(act.now.utc_ms)); });
    Button board;
    board.id = Ui::id({"board"});
    board.label = "Board for the class";
    board.icon = Icon::grid;
    Button window;
    window.id = Ui::id({"board-window"});
    window.label = "Board in a new window";
    window.spoken = "Board in a new window, for a projector";
    if (ui.surface.width >= 700) {
        button_pair(
            ui, column, h, window, [](Act& act) { act.fx.emplace_back(BoardWindow{}); }, board,
            open_board(Screen::chart));
    } else {
        button(ui, column.row(h), board, open_board(Screen::chart));
    }
    const bool left = session::begun_rounds(block) < int(session::round_count(block));
    if (!session::has_begun(block) || !left) return;
    Button lost;
    lost.id = Ui::id({"lose-round"});
    lost.label = "A round is lost";
    lost.icon = Icon::minus;
    lost.has_popup = true;
    button(ui, column.row(h), lost, [ids](Act& act) {
        propose(act, ids, session::LoseRound{ids.cls, ids.block}, "A round is lost");
    });
}

}  // namespace

bool is_pinned(const model::Block& block, int group, int round) {
    return pin_of(block, group, round) != block.chart_rules.rules.end();
}

Action tap_cell(const Scene& scene, int group, int round) {
    const ChartIds ids{scene.cls->id, scene.block->id};
    return [ids, group, round](Act& act) {
        View& v = act.view;
        v.toast.clear();  // an old message would lie over the groups to swap with
        const bool same = v.cell_group == group + 1 && v.cell_round == round;
        const model::Block* block = block_now(act, ids);
        if (v.cell_group == 0 || v.cell_round != round || same || block == nullptr) {
            v.cell_group = same ? 0 : group + 1;
            v.cell_round = round;
            if (v.chart_side == 2 && !same) {  // those to swap with are in the round's list
                v.chart_side = 1;
                v.chart_at = round;
            }
            return;
        }
        const int other = v.cell_group - 1;
        v.cell_group = 0;
        const session::SwapCells wish{ids.cls, ids.block, round, other, group};
        const auto effects =
            session::chart_effects(*block, session::with_swap(*block, round, other, group));
        if (effects.empty()) {
            act.send(wish);
        } else {
            propose(act, ids, wish, "Swap two groups");
        }
    };
}

void picked_bar(Ui& ui, const Scene& scene, Rect& area) {
    const model::Block& block = *scene.block;
    const int group = scene.view.cell_group - 1;
    const int round = scene.view.cell_round;
    if (group < 0 || group >= int(block.chart.size()) || round < 1 ||
        round > int(session::round_count(block))) {
        return;
    }
    const ChartIds ids{scene.cls->id, scene.block->id};
    const model::CenterId at = model::center_at(block, group, round);
    const std::string text = session::group_name(group) + ", round " + std::to_string(round) +
                             ": " + center_mark(block, at) +
                             ". Tap another group in this round to swap.";
    const float w = std::min(area.w - 2 * pad, 900.0F);
    const float used = ui.type().paragraph({0, 0, w, 0}, text, ui.body(), false);
    const float h = std::max(touch, ui.scaled(48));
    const Rect bar = cut_bottom(area, used + h + 3 * gap);
    ui.bottom_bar = bar.h;
    ui.block(bar);
    ui.fill(bar, ui.theme.accent_soft, 0);
    ui.outline(bar, ui.theme.accent, 0, 1.5F);
    ui.open(Role::region, Ui::id({"picked"}), "Picked", bar);
    const float x = area.x + (area.w - w) / 2;
    ui.paragraph(text, {x, bar.y + gap, w, 0}, ui.body(), Role::status);
    const Rect row{x, bar.y + used + 2 * gap, w, h};
    const bool open = round > session::begun_rounds(block);
    const bool pinned = is_pinned(block, group, round);
    Button b;
    b.id = Ui::id({"pin-cell"});
    b.label = pinned ? "Unpin" : "Pin it";
    b.disabled = !open || at.empty();
    button(ui, cell(row, 0, 3, 6), b, [ids, group, round](Act& act) {
        const model::Block* now = block_now(act, ids);
        if (now != nullptr) put_rules(act, ids, pin_turned(*now, group, round));
        act.view.cell_group = 0;
    });
    b = {};
    b.id = Ui::id({"stay-on"});
    b.label = "Stay on";
    b.spoken = "Stay on: " + session::group_name(group) + " is there in round " +
               std::to_string(round + 1) + " too";
    const bool next =
        round < int(session::round_count(block)) && round + 1 > session::begun_rounds(block);
    b.disabled = !next || at.empty();
    button(ui, cell(row, 1, 3, 6), b, [ids, group, round, at](Act& act) {
        const model::Block* now = block_now(act, ids);
        if (now == nullptr) return;
        model::ChartRules rules = now->chart_rules;
        rules.rules.push_back(pin(at, group, round + 1));
        put_rules(act, ids, rules);
        act.view.cell_group = 0;
    });
    b = {};
    b.id = Ui::id({"unpick"});
    b.label = "Cancel";
    button(ui, cell(row, 2, 3, 6), b, [](Act& act) { act.view.cell_group = 0; });
    ui.close();
}

void chart_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool none = scene.block == nullptr || scene.block->chart.empty();
    Rect page = area;
    if (!none) picked_bar(ui, scene, page);
    Column column = begin_page(ui, page, "chart", "Rotation chart",
                               none ? "" : "Which group is at which center in each round.");
    if (none) {
        no_chart(ui, scene, column);
        end_page(ui, column);
        return;
    }
    const float h = std::max(52.0F, ui.scaled(50));
    const ChartIds ids{scene.cls->id, scene.block->id};
    Button b;
    b.id = Ui::id({"print-chart"});
    b.label = "Print";
    b.spoken = "Print the chart";
    b.icon = Icon::print;
    Button walk;
    walk.id = Ui::id({"to-walk"});
    walk.label = "To the lesson";
    walk.icon = Icon::forward;
    walk.icon_after = true;
    walk.weight = Weight::primary;
    button_pair(
        ui, column, h, b, [ids](Act& act) { print_poster(act, ids); }, walk, go(Screen::walk));
    b = {};
    b.id = Ui::id({"to-prep"});
    b.label = "Print and prepare";
    b.spoken = "Print and prepare: cards, keys, signs and lists";
    b.icon = Icon::file;
    button(ui, column.row(h), b, go(Screen::prep));
    const bool narrow = narrow_columns(ui, column.w, *scene.block);
    if (narrow || !ui.wide()) side_choice(ui, scene, column);
    if (scene.view.chart_side == 0 || ui.wide()) {
        chart_grid(ui, scene, column, {*scene.block});
        column.y += ui.paragraph(narrow ? "Tap a row to change something in it."
                                        : "Tap two groups in one round to swap their centers.",
                                 {column.x, column.y, column.w, 0}, ui.soft());
    } else {
        chart_list(ui, scene, column);
    }
    column.skip(gap);
    verdict(ui, scene, column);
    chart_buttons(ui, scene, column);
    chart_legend(ui, scene, column, *scene.block);
    end_page(ui, column);
}

}  // namespace tallyround::ui
