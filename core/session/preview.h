#pragma once
#include "session/session.h"

namespace tallyround::session {

/// A block of the class as it will be after the decision.
model::Block block_after(const model::Class& cls, const model::Block& block,
                         const Decision& decision);

}  // namespace tallyround::session
