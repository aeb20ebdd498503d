#pragma once
#include <span>
#include <vector>

#include "model/state.h"
#include "record/event.h"

namespace tallyround::record {

/// Applies one event to a state. Retracted and Foreign change nothing here (see `in_force`).
/// `place` is the event's index in the record; marks keep it.
void apply(model::State& state, const Event& event, std::uint64_t place);

/// Which events of an ordered record count: everything but retractions' targets, where a
/// retraction counts only if no later one that counts takes it back. A retraction reaches only
/// earlier events. True = counts. Linear in the record plus the number of targets (with a log).
std::vector<bool> in_force(std::span<const Event> ordered);

/// The state of an ordered record.
model::State fold(std::span<const Event> ordered);

}  // namespace tallyround::record
