#pragma once
#include "plan/chart_model.h"

namespace tallyround::plan::detail {

/// A center that group `g` could be at in round `r` instead of where it is, all other cells
/// staying: there is room and there are devices for it and no rule of the group is against it.
/// With `fresh` only centers the group has not visited before count. -1 if there is none.
int free_center(const ChartModel& model, const Cells& cells, int g, int r, bool fresh);

/// Second visits of groups while a center they have not visited was free for them.
int early_repeats(const ChartModel& model, const Cells& cells);

/// As plan::measure, for a model that stands already.
ChartScore measure(const ChartProblem& problem, const ChartModel& model, const Cells& cells);

/// Moves groups out of idleness and out of early second visits into free centers, round by round,
/// as far as that keeps every rule and makes the score better.
void settle(const ChartProblem& problem, const ChartModel& model, Cells& cells);

}  // namespace tallyround::plan::detail
