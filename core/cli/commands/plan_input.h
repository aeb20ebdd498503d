#pragma once
#include <optional>
#include <string>

#include "cli/cli.h"
#include "exchange/plan_file.h"
#include "model/state.h"

namespace tallyround::cli {

/// The plan file of that name. On failure `failure` holds the outcome to return.
std::optional<exchange::PlanFile> plan_from(const Invocation& call, const std::string& file,
                                            Outcome& failure);

/// The state that a plan file's events fold to; orders the events.
model::State state_of(exchange::PlanFile& plan);

}  // namespace tallyround::cli
