#include <algorithm>

#include "session/chart_plan.h"
#include "session/prep.h"
#include "ui/screens/chart_parts.h"

namespace tallyround::ui {

namespace {

using Kind = model::ChartRuleKind;

struct OrderWords {
    model::ChartOrder order;
    const char* title;
    const char* sentence;
};
constexpr OrderWords orders[] = {
    {model::ChartOrder::cyclic, "In a circle",
     "From each center to the next, from the last to the first: easiest to walk."},
    {model::ChartOrder::balanced, "Balanced",
     "Every center follows every other about equally often: fair where the order matters."},
    {model::ChartOrder::any, "Any order", "Only who is where counts, not what comes after what."},
};

std::vector<int> rule_groups(const View& view) {
    return {view.rule_groups.begin(), view.rule_groups.end()};
}

/// The rules with this one added, or taken away if it is there.
model::ChartRules turned(model::ChartRules rules, const model::ChartRule& rule) {
    if (std::erase(rules.rules, rule) == 0) rules.rules.push_back(rule);
    return rules;
}

bool holds(const model::ChartRules& rules, const model::ChartRule& rule) {
    return std::find(rules.rules.begin(), rules.rules.end(), rule) != rules.rules.end();
}

void order_rows(Ui& ui, const Scene& scene, Column& column, const ChartIds& ids) {
    const model::ChartRules& rules = scene.block->chart_rules;
    column.y += ui.heading(3, "Order of the centers", {column.x, column.y, column.w, 0},
                           ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    const float top = column.y;
    ui.open(Role::group, Ui::id({"orders"}), "Order of the centers",
            {column.x, top, column.w, ui.remembered(Ui::id({"orders"}), 240)});
    for (const OrderWords& words : orders) {
        RowItem item;
        item.id = Ui::id({"order", words.title});
        item.title = words.title;
        item.detail = words.sentence;
        item.role = Role::radio;
        item.on = rules.order == words.order;
        item.trailing = item.on ? Icon::check : Icon::none;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [ids, rules, order = words.order](Act& act) {
                     model::ChartRules next = rules;
                     next.order = order;
                     put_rules(act, ids, next, Overlay::chart_rules);
                 });
    }
    ui.close();
    ui.remember(Ui::id({"orders"}), column.y - top);
    column.skip(gap);
}

void rule_rows(Ui& ui, const Scene& scene, Column& column, const ChartIds& ids) {
    const model::ChartRules& rules = scene.block->chart_rules;
    column.y += ui.heading(3, "Rules", {column.x, column.y, column.w, 0},
                           ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    if (rules.rules.empty()) {
        column.y += ui.paragraph(
            "None yet. Tap a center below, or pin a place of the chart by tapping it there.",
            {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(gap);
    }
    for (std::size_t i = 0; i < rules.rules.size(); ++i) {
        RowItem item;
        item.id = Ui::id({"rule", std::to_string(i)});
        item.title = session::rule_text(*scene.block, rules.rules[i]);
        item.spoken = "Take away: " + item.title;
        item.trailing = Icon::trash;
        model::ChartRules rest = rules;
        rest.rules.erase(rest.rules.begin() + std::ptrdiff_t(i));
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [ids, rest](Act& act) { put_rules(act, ids, rest, Overlay::chart_rules); });
    }
    column.skip(gap);
}

/// Pills in as many rows as they need.
class Pills {
  public:
    Pills(Ui& ui, Column& column) : ui_(ui), column_(column), x_(column.x) {}

    void add(std::uint32_t id, const std::string& label, const std::string& spoken, bool on,
             Action tap) {
        const float w = std::min(column_.w, toggle_width(ui_, label));
        const float h = std::max(touch, ui_.scaled(44));
        if (x_ > column_.x && x_ + w > column_.x + column_.w) next_row(h);
        height_ = h;
        toggle(ui_, {x_, column_.y, w, h}, id, label, on, std::move(tap));
        if (!spoken.empty()) ui_.nodes.back().label = spoken;
        x_ += w + 6;
    }
    void end() {
        next_row(height_);
        column_.skip(gap);
    }

  private:
    void next_row(float h) {
        column_.y += h + 6;
        x_ = column_.x;
    }

    Ui& ui_;
    Column& column_;
    float x_;
    float height_ = 0;
};

void label(Ui& ui, Column& column, const char* text) {
    column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(4);
}

void whom_pills(Ui& ui, const Scene& scene, Column& column) {
    if (scene.block->groups.empty()) return;
    label(ui, column, "For whom");
    Pills pills(ui, column);
    const auto& chosen = scene.view.rule_groups;
    pills.add(Ui::id({"whom", "all"}), "Every group", "", chosen.empty(),
              [](Act& act) { act.view.rule_groups.clear(); });
    for (int g = 0; g < int(scene.block->groups.size()); ++g) {
        pills.add(Ui::id({"whom", std::to_string(g)}), std::to_string(g + 1),
                  session::group_name(g), chosen.contains(g), [g](Act& act) {
                      if (act.view.rule_groups.erase(g) == 0) act.view.rule_groups.insert(g);
                  });
    }
    pills.end();
}

/// One pill for a rule that is there or not.
void rule_pill(Pills& pills, const Scene& scene, const ChartIds& ids, const std::string& name,
               const std::string& shown, const std::string& spoken, const model::ChartRule& rule) {
    const model::ChartRules& rules = scene.block->chart_rules;
    pills.add(Ui::id({"rule-pill", name, shown}), shown, spoken, holds(rules, rule),
              [ids, next = turned(rules, rule)](Act& act) {
                  put_rules(act, ids, next, Overlay::center_rules);
              });
}

/// "Only in rounds": one rule whose rounds are turned on and off.
void only_pills(Ui& ui, const Scene& scene, Column& column, const ChartIds& ids,
                const model::ChartRule& base) {
    const model::ChartRules& rules = scene.block->chart_rules;
    const auto it =
        std::find_if(rules.rules.begin(), rules.rules.end(), [&](const model::ChartRule& rule) {
            return rule.kind == Kind::only_in_rounds && rule.center == base.center &&
                   rule.groups == base.groups;
        });
    const bool there = it != rules.rules.end();
    label(ui, column, "Only in rounds");
    Pills pills(ui, column);
    for (int round = 1; round <= session::wished_rounds(*scene.block); ++round) {
        const bool on =
            there && std::find(it->rounds.begin(), it->rounds.end(), round) != it->rounds.end();
        model::ChartRules next = rules;
        model::ChartRule rule = there ? *it : base;
        rule.kind = Kind::only_in_rounds;
        if (there) next.rules.erase(next.rules.begin() + (it - rules.rules.begin()));
        if (std::erase(rule.rounds, round) == 0) rule.rounds.push_back(round);
        std::sort(rule.rounds.begin(), rule.rounds.end());
        if (!rule.rounds.empty()) next.rules.push_back(rule);
        pills.add(Ui::id({"only", std::to_string(round)}), std::to_string(round),
                  "Only in round " + std::to_string(round), on,
                  [ids, next](Act& act) { put_rules(act, ids, next, Overlay::center_rules); });
    }
    pills.end();
}

}  // namespace

void chart_rules_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const ChartIds ids{scene.cls->id, scene.block->id};
    Column column = begin_sheet(ui, "What the chart keeps to", 2000, close_overlay);
    rule_rows(ui, scene, column, ids);
    column.y += ui.heading(3, "Add a rule for a center", {column.x, column.y, column.w, 0},
                           ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    for (const model::Center* c : session::open_centers(*scene.block)) {
        RowItem item;
        item.id = Ui::id({"rules-of", c->id.view()});
        item.title = center_mark(*scene.block, c->id);
        item.trailing = Icon::forward;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [id = c->id](Act& act) {
            act.view.center = id;
            act.view.rule_groups.clear();
            act.view.overlay = Overlay::center_rules;
        });
    }
    column.skip(gap);
    order_rows(ui, scene, column, ids);
    done_button(ui, column);
    end_sheet(ui, column);
}

void center_rules_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Block& block = *scene.block;
    if (model::find_center(block, scene.view.center) == nullptr) return;
    const ChartIds ids{scene.cls->id, block.id};
    const Action back = open_overlay(Overlay::chart_rules);
    Column column = begin_sheet(ui, center_mark(block, scene.view.center), 2000, back);
    whom_pills(ui, scene, column);
    model::ChartRule rule;
    rule.center = scene.view.center;
    rule.groups = rule_groups(scene.view);
    label(ui, column, "How often");
    Pills often(ui, column);
    rule_pill(often, scene, ids, "must", "Must be visited", "", rule);
    rule.kind = Kind::at_most;
    rule_pill(often, scene, ids, "once", "At most once", "", rule);
    often.end();
    label(ui, column, "Not in round");
    Pills not_in(ui, column);
    rule.kind = Kind::not_in_round;
    for (int round = 1; round <= session::wished_rounds(block); ++round) {
        rule.round = round;
        rule_pill(not_in, scene, ids, "not", std::to_string(round),
                  "Not in round " + std::to_string(round), rule);
    }
    not_in.end();
    rule.round = 1;
    only_pills(ui, scene, column, ids, rule);
    label(ui, column, "Only after another center");
    Pills after(ui, column);
    rule.kind = Kind::before;
    rule.then = rule.center;
    for (const model::Center* c : session::open_centers(block)) {
        if (c->id == scene.view.center) continue;
        rule.center = c->id;
        const std::string name = center_mark(block, c->id);
        rule_pill(after, scene, ids, "after", name, "Only after " + name, rule);
    }
    after.end();
    Button b;
    b.id = Ui::id({"center-rules-done"});
    b.label = "Done";
    b.weight = Weight::primary;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, back);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
