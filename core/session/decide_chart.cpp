#include <algorithm>

#include "base/text.h"
#include "session/chart_plan.h"
#include "session/derived.h"
#include "session/parts.h"
#include "session/prep.h"

namespace tallyround::session {

namespace {

/// The chart with the cells to come of centers that are no longer open left empty.
Chart without_closed(const Block& block) {
    Chart chart = block.chart;
    for (auto& row : chart) {
        for (std::size_t r = std::size_t(begun_rounds(block)); r < row.size(); ++r) {
            const Center* center = find_center(block, row[r]);
            if (center == nullptr || center->closed) row[r] = CenterId{};
        }
    }
    return chart;
}

/// Appends the chart that was planned anew and says what became of it.
void put_chart(Decision& decision, const ClassId& cls, const Block& wanted,
               const Charted& charted) {
    if (charted.chart == wanted.chart) return;
    decision.events.push_back(record::ChartSet{cls, wanted.id, charted.chart});
    if (has_begun(wanted)) {
        decision.said += " The rounds left are planned anew: " +
                         base::count_of(std::size_t(charted.changed), "place", "places") +
                         " changed" + (charted.fewest ? "; fewer is not possible." : ".");
    } else {
        decision.said += " The chart is made anew.";
    }
    decision.said += " " + charted.said;
}

/// The chart that keeps the block's rules where the one that is there does not. Errors when there
/// is none, so that nothing happens.
base::Result<bool> mend(Decision& decision, const ClassId& cls, const Block& wanted, bool anew) {
    if (wanted.chart.empty()) return true;
    const bool begun = has_begun(wanted);
    if (!begun && !anew && chart_holds(wanted)) return true;
    const auto charted = chart_for(wanted, 1, !begun);
    if (!charted) return pass(charted);
    put_chart(decision, cls, wanted, *charted);
    return true;
}

}  // namespace

void keep_chart_true(Decision& decision, const ClassId& cls, const Block& wanted) {
    const auto good = mend(decision, cls, wanted, false);
    if (good) return;
    decision.said += " " + good.error().message;
    const Chart left = has_begun(wanted) ? without_closed(wanted) : Chart{};
    if (left != wanted.chart) decision.events.push_back(record::ChartSet{cls, wanted.id, left});
}

base::Result<bool> keep_rules(Decision& decision, const ClassId& cls, const Block& was,
                              const Block& wanted) {
    const bool other_order = was.chart_rules.order != wanted.chart_rules.order;
    return mend(decision, cls, wanted, other_order);
}

Answer on(const Context& ctx, const SwapCells& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    if (wish.round < 1 || wish.round > int(round_count(block))) {
        return base::fail("Chart", "There is no round " + std::to_string(wish.round) + ".");
    }
    for (const int group : {wish.group_a, wish.group_b}) {
        if (group < 0 || std::size_t(group) >= block.chart.size() ||
            std::size_t(wish.round) > block.chart[std::size_t(group)].size()) {
            return base::fail("Chart", "There is no " + group_name(group) + " in the chart.");
        }
    }
    if (wish.round <= block.rounds_done) {
        return base::fail(
            "Chart", "Round " + std::to_string(wish.round) + " is over. Change a later round.");
    }
    const Chart chart = with_swap(block, wish.round, wish.group_a, wish.group_b);
    if (chart == block.chart) return Decision{};
    std::string said = group_name(wish.group_a) + " and " + group_name(wish.group_b) +
                       " change places in round " + std::to_string(wish.round) + ".";
    for (const std::string& effect : chart_effects(block, chart))
        said += " " + effect;
    return Decision{{record::ChartSet{wish.cls, wish.block, chart}}, said, {}};
}

Answer on(const Context& ctx, const LoseRound& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    Block wanted = *spot->block;
    const int left = wished_rounds(wanted) - 1;
    if (left < std::max(1, begun_rounds(wanted))) {
        return base::fail("Rounds", "The last round has begun: there is none left to lose.");
    }
    wanted.timing.rounds = left;
    Decision decision;
    decision.events.push_back(record::TimeSet{wish.cls, wish.block, wanted.periods, wanted.timing});
    decision.said =
        "One round is lost: " + base::count_of(std::size_t(left), "round", "rounds") + " in all.";
    const auto good = mend(decision, wish.cls, wanted, false);
    if (!good) return pass(good);
    return decision;
}

}  // namespace tallyround::session
