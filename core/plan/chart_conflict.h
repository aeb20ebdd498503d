#pragma once
#include <cstdint>

#include "plan/chart_model.h"

namespace tallyround::plan::detail {

/// Fewest idle cells in all: round by round (room, devices), and over the whole lesson (a maximum
/// flow from groups through the visits they are allowed to the places of each center).
int idle_bound(const ChartModel& model);

/// Fewest second visits by counting: rounds to fill against centers not yet visited, when
/// `idle_cells` of them stay empty.
int repeat_bound(const ChartModel& model, int idle_cells);

/// A small set of groups and rules that conflict, found by leaving things out of a problem known
/// to be infeasible. Not minimal when the search ran out of `nodes`.
ChartConflict explain_conflict(const ChartProblem& problem, std::int64_t nodes);

}  // namespace tallyround::plan::detail
