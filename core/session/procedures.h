#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "model/state.h"

namespace tallyround::session {

/// Rules for working at centers, one a line, for a class that has none of its own.
/// Common practice, no source.
std::string_view usual_procedures();
/// The class's own, or the usual ones.
std::string_view procedures_of(const model::Class& cls);

/// "45 seconds", "1 minute", "2 min 5 s"; to the nearest second.
std::string length_text(std::int64_t ms);

/// Whether moves get faster: the median of the last five against the five before.
struct MoveTrend {
    int moves = 0;               ///< all that were timed
    std::int64_t recent_ms = 0;  ///< median of the last five (or of all, if fewer)
    std::int64_t before_ms = 0;  ///< median of the five before those; 0 if there are none
    std::string sentence;        ///< in plain words
};
MoveTrend move_trend(const model::Class& cls);

}  // namespace tallyround::session
