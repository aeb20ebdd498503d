#pragma once
#include <optional>

#include "session/chart_plan.h"

namespace tallyround::ui {

/// Looks, a slice a frame, whether the chart on screen could be better.
class ChartDesk {
  public:
    /// A slice for this block's chart. True while there is more to do.
    bool update(const model::Block* block);
    /// Of the chart that `update` saw last; nothing without a chart.
    const session::ChartCheck* check() const { return check_ ? &*check_ : nullptr; }

  private:
    std::optional<model::Block> seen_;
    std::optional<session::ChartCheck> check_;
};

}  // namespace tallyround::ui
