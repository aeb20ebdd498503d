#pragma once
#include <string>
#include <vector>

#include "ui/screens/scene.h"

/// What the chart screen, its sheets and the board share.
namespace tallyround::ui {

/// A chart to show: the block's own, or one that it would have.
struct ChartView {
    const model::Block& block;          ///< its centers, rounds and chart
    const model::Block* was = nullptr;  ///< before the change: places that differ are marked
    bool touchable = true;
};

/// Rows are groups, columns rounds. Columns narrower than a finger are not touched one by one: a
/// row then opens that group's rounds.
void chart_grid(Ui& ui, const Scene& scene, Column& column, const ChartView& chart);
/// All groups of one round, or all rounds of one group, a row each (View::chart_side, chart_at).
void chart_list(Ui& ui, const Scene& scene, Column& column);
/// Number, picture, title and skill of each open center.
void chart_legend(Ui& ui, const Scene& scene, Column& column, const model::Block& block);
/// "3 Number line": how a center is called where its number stands beside it.
std::string center_mark(const model::Block& block, const model::CenterId& id);
/// Columns of the chart so narrow that a finger would miss.
bool narrow_columns(Ui& ui, float width, const model::Block& block);

/// What is done with the cell tapped first (View::cell_group, cell_round): a bar of its own at the
/// bottom of `area`, taken off it; nothing when no cell is picked.
void picked_bar(Ui& ui, const Scene& scene, Rect& area);
/// A cell was tapped: picked, let go, or swapped with the one picked before.
Action tap_cell(const Scene& scene, int group, int round);
/// A rule of the block that pins this cell.
bool is_pinned(const model::Block& block, int group, int round);

/// The ids a chart's actions need.
struct ChartIds {
    model::ClassId cls;
    model::BlockId block;
};
/// The block as it is when the action runs, or nothing.
const model::Block* block_now(const Act& act, const ChartIds& ids);

/// Does what the command says; once a lesson has begun and the chart changes, shows it first.
/// `back`: what lies over the screen afterwards.
void change_chart(Act& act, const ChartIds& ids, const session::Command& command,
                  const std::string& title, Overlay back = Overlay::none);
/// Shows what the command would come to, with what is not as it should be.
void propose(Act& act, const ChartIds& ids, const session::Command& command,
             const std::string& title, Overlay back = Overlay::none);
/// Puts these rules in place of the block's; where no chart keeps them, names those in the way.
void put_rules(Act& act, const ChartIds& ids, const model::ChartRules& rules,
               Overlay back = Overlay::none);
/// Makes the chart anew, or names the rules in the way.
void make_chart(Act& act, const ChartIds& ids, std::uint64_t seed);

}  // namespace tallyround::ui
