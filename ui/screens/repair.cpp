#include "session/chart_plan.h"
#include "session/preview.h"
#include "ui/screens/chart_parts.h"

namespace tallyround::ui {

namespace {

/// Shows the rules that are in the way of `rules`; false when none are.
bool show_trouble(Act& act, const model::Block& block, const model::ChartRules& rules) {
    model::Block wanted = block;
    wanted.chart_rules = rules;
    const auto trouble = session::chart_trouble(wanted);
    if (!trouble) return false;
    act.view.trouble = *trouble;
    act.view.wanted_rules = rules;
    act.view.overlay = Overlay::chart_trouble;
    act.fx.emplace_back(Announce{trouble->sentence});
    return true;
}

void done(Act& act, Overlay back) {
    act.view.cell_group = 0;
    act.view.proposal.reset();
    act.view.overlay = back;
}

}  // namespace

const model::Block* block_now(const Act& act, const ChartIds& ids) {
    const model::Class* cls = act.state().find_class(ids.cls);
    return cls == nullptr ? nullptr : cls->block(ids.block);
}

void propose(Act& act, const ChartIds& ids, const session::Command& command,
             const std::string& title, Overlay back) {
    const model::Block* block = block_now(act, ids);
    if (block == nullptr) return;
    const auto would = act.would(command);
    if (!would) {
        model::Block wanted = *block;
        if (std::holds_alternative<session::LoseRound>(command)) {
            wanted.timing.rounds = session::wished_rounds(wanted) - 1;
        }
        if (!show_trouble(act, wanted, wanted.chart_rules)) act.say(would.error().text(), true);
        return;
    }
    const model::Block after =
        session::block_after(*act.state().find_class(ids.cls), *block, *would);
    model::Block kept = *block;  // the new centers and rules, the old chart
    kept.centers = after.centers;
    kept.chart_rules = after.chart_rules;
    const auto effects = session::chart_effects(kept, after.chart);
    std::string said = would->said;
    for (const std::string& effect : effects) {  // each has a line of its own
        const std::size_t at = said.find(" " + effect);
        if (at != std::string::npos) said.erase(at, effect.size() + 1);
    }
    act.view.proposal = Proposal{command, title, said, effects, after, *block, back};
    act.view.overlay = Overlay::repair;
    act.fx.emplace_back(Announce{would->said});
}

void change_chart(Act& act, const ChartIds& ids, const session::Command& command,
                  const std::string& title, Overlay back) {
    const model::Block* block = block_now(act, ids);
    if (block == nullptr) return;
    act.view.toast.clear();
    if (session::has_begun(*block)) {
        const auto would = act.would(command);
        const model::Class& cls = *act.state().find_class(ids.cls);
        if (would && session::block_after(cls, *block, *would).chart != block->chart) {
            return propose(act, ids, command, title, back);
        }
    }
    if (act.send(command)) done(act, back);
}

namespace {

/// Does what the wish says, or names those of `rules` that are in the way of it.
void change_or_name(Act& act, const ChartIds& ids, const session::Command& wish,
                    const model::ChartRules& rules, const std::string& title, Overlay back) {
    const model::Block* block = block_now(act, ids);
    if (block == nullptr) return;
    change_chart(act, ids, wish, title, back);
    const bool refused = act.view.toast_bad && !act.view.toast.empty();
    if (refused && show_trouble(act, *block, rules)) {
        act.view.toast.clear();  // the sheet says it
    }
}

}  // namespace

void put_rules(Act& act, const ChartIds& ids, const model::ChartRules& rules, Overlay back) {
    change_or_name(act, ids, session::SetChartRules{ids.cls, ids.block, rules}, rules,
                   "What the chart keeps to", back);
}

void make_chart(Act& act, const ChartIds& ids, std::uint64_t seed) {
    const model::Block* block = block_now(act, ids);
    if (block == nullptr) return;
    change_or_name(act, ids, session::MakeChart{ids.cls, ids.block, seed}, block->chart_rules,
                   "Make the rounds left anew", Overlay::none);
}

void repair_sheet(Ui& ui, const Scene& scene) {
    const auto& proposal = scene.view.proposal;
    if (!proposal || scene.block == nullptr) return;
    const Action leave = [back = proposal->back](Act& act) { done(act, back); };
    Column column = begin_sheet(ui, proposal->title, 2000, leave);
    const auto say = [&](const std::string& text, const Style& style) {
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, style);
        column.skip(gap);
    };
    say(proposal->said, ui.body());
    for (const std::string& effect : proposal->effects)
        say("! " + effect, ui.style(body_size, ui.theme.ink, true));
    const float h = std::max(54.0F, ui.scaled(52));
    Button leave_it;
    leave_it.id = Ui::id({"repair-leave"});
    leave_it.label = "Leave it";
    Button make;
    make.id = Ui::id({"repair-make"});
    make.label = "Make this change";
    make.weight = Weight::primary;
    button_pair(ui, column, h, leave_it, leave, make,
                [command = proposal->command, back = proposal->back](Act& act) {
                    if (act.send(command)) done(act, back);
                });
    column.skip(gap);
    if (!proposal->after.chart.empty()) {
        chart_grid(ui, scene, column, {proposal->after, &proposal->was, false});
        chart_legend(ui, scene, column, proposal->after);
    }
    end_sheet(ui, column);
}

void chart_trouble_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const View& v = scene.view;
    const ChartIds ids{scene.cls->id, scene.block->id};
    Column column = begin_sheet(ui, "These do not go together", ui.scaled(400), close_overlay);
    column.y += ui.paragraph("No chart keeps them all. " + v.trouble.remedy,
                             {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    model::Block wanted = *scene.block;
    wanted.chart_rules = v.wanted_rules;
    for (const std::size_t rule : v.trouble.rules) {
        if (rule >= v.wanted_rules.rules.size()) continue;
        RowItem item;
        item.id = Ui::id({"drop-rule", std::to_string(rule)});
        item.title = session::rule_text(wanted, v.wanted_rules.rules[rule]);
        item.detail = "Tap to take this rule away";
        item.spoken = "Take away: " + item.title;
        item.trailing = Icon::trash;
        model::ChartRules rest = v.wanted_rules;
        rest.rules.erase(rest.rules.begin() + std::ptrdiff_t(rule));
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [ids, rest](Act& act) {
            put_rules(act, ids, rest);
            const model::Block* block = block_now(act, ids);
            const bool waits = act.view.overlay == Overlay::none && block != nullptr &&
                               block->chart.empty() && !block->groups.empty();
            if (waits) make_chart(act, ids, 1);
        });
    }
    Button b;
    b.id = Ui::id({"trouble-leave"});
    b.label = "Leave it as it was";
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, close_overlay);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
