#pragma once
#include <vector>

#include "ui/screens/chart_parts.h"

/// What the two halves of the time screen share.
namespace tallyround::ui {

/// Sends the times; once a lesson has begun, another number of rounds is shown before it is made.
void set_time(Act& act, const ChartIds& ids, const std::vector<model::Period>& periods,
              const model::Timing& timing);
/// Every day with its picture, clock times and minutes left over, and a button for one more.
void day_rows(Ui& ui, const Scene& scene, Column& column, const ChartIds& ids);
/// Action: one more day like the last.
Action add_day(const model::Block& block, const ChartIds& ids);

}  // namespace tallyround::ui
