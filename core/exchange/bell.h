#pragma once
#include <vector>

#include "model/block.h"
#include "plan/fit.h"

namespace tallyround::exchange {

/// What the planner is asked when the rounds of a block are laid into its periods.
plan::FitRequest bell_request(const std::vector<model::Period>& periods,
                              const model::Timing& timing);

}  // namespace tallyround::exchange
