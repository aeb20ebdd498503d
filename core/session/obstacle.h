#pragma once
#include <optional>
#include <string>

#include "session/command.h"

namespace tallyround::session {

/// Something that a plan keeps to or that stands in its way, and the wish that takes it away.
struct Obstacle {
    std::string text;               ///< "Ana and Bo sit apart", without a full stop
    std::optional<Command> remove;  ///< nothing when no single wish takes it away
};

}  // namespace tallyround::session
