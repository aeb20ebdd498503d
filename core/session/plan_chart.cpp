#include <algorithm>

#include "base/text.h"
#include "session/chart_work.h"
#include "session/parts.h"
#include "session/planner.h"

namespace tallyround::session {

namespace {

/// A planner's unit is about a seventh of a chart's.
constexpr std::int64_t units_a_step = 7;

class PlanningChart : public Planning {
  public:
    PlanningChart(const MakeChart& wish, const Block& block)
        : wish_(wish),
          was_(block.chart),
          rules_(block.chart_rules),
          work_(block, wish.seed, true) {}

    bool step(std::int64_t work) override {
        return work_.step(std::max<std::int64_t>(1, work / units_a_step));
    }
    double progress() const override { return work_.progress(); }
    base::Result<Decision> finish(const Context&) override {
        const auto charted = work_.finish();
        if (!charted) return pass(charted);
        Decision decision;
        const Chart& chart = charted->chart;
        decision.said = "Chart made: " + base::count_of(chart.size(), "group", "groups") + ", " +
                        base::count_of(chart.front().size(), "round", "rounds") + ". " +
                        charted->said + " " + charted->quality;
        if (chart != was_) {
            decision.events.push_back(record::ChartSet{wish_.cls, wish_.block, chart});
        }
        return decision;
    }
    std::vector<Obstacle> obstacles() const override {
        std::vector<Obstacle> out;
        const auto trouble = work_.trouble();
        if (!trouble) return out;
        for (const std::size_t rule : trouble->rules) {
            SetChartRules rest{wish_.cls, wish_.block, rules_};
            rest.rules.rules.erase(rest.rules.rules.begin() + std::ptrdiff_t(rule));
            std::string text = work_.rule_words(rule);
            if (!text.empty() && text.back() == '.') text.pop_back();
            out.push_back({std::move(text), Command(std::move(rest))});
        }
        return out;
    }

  private:
    MakeChart wish_;
    Chart was_;
    ChartRules rules_;
    ChartWork work_;
};

}  // namespace

Begun begin_planning(const Context& ctx, const MakeChart& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    return std::make_unique<PlanningChart>(wish, *spot->block);
}

Answer on(const Context& ctx, const MakeChart& wish) {
    return plan_at_once(ctx, begin_planning(ctx, wish));
}

}  // namespace tallyround::session
