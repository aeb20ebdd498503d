#pragma once
#include "session/session.h"

namespace tallyround::session {

/// The block's centers, time, devices, groups, chart and rules as they will be after the decision.
model::Block block_after(const model::Block& block, const Decision& decision);

/// Places of the rounds not begun in which the two charts differ, new rounds not counted.
int places_changed(const model::Block& before, const model::Chart& after);

}  // namespace tallyround::session
