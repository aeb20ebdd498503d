#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "model/state.h"

namespace tallyround::session {

/// When one of the rounds left will run, UTC.
struct RoundAhead {
    int number = 0;
    std::int64_t start_ms = 0;
    std::int64_t end_ms = 0;
};

/// Today's lesson against its bell. Overtime, pauses and added minutes make it late; the minutes
/// lost can be shared over the rounds left.
struct Pace {
    bool known = false;             ///< a lesson runs and one of the block's periods is today
    std::int64_t bell_ms = 0;       ///< UTC, end of today's period
    std::int64_t ends_ms = 0;       ///< UTC, when it will end as things go
    std::vector<RoundAhead> ahead;  ///< rounds after the one that runs
    /// Length of the rounds ahead with which it ends on the bell, rounded down to five seconds;
    /// 0 when there are none or nothing would be left of them.
    std::int64_t shared_round_ms = 0;
    std::int64_t late_ms() const { return known && ends_ms > bell_ms ? ends_ms - bell_ms : 0; }
};
/// `utc_offset_minutes`: how far local time is ahead of UTC.
Pace pace(const model::Block& block, std::int64_t now_ms, int utc_offset_minutes);
/// The same, were the rounds ahead `round_ms` long.
Pace pace_with(const model::Block& block, std::int64_t now_ms, int utc_offset_minutes,
               std::int64_t round_ms);

/// The last round of today: never past the chart, should it have become shorter meanwhile.
int last_round_today(const model::Block& block);

/// Length of a round: as shared while a lesson runs, otherwise as planned.
std::int64_t round_length_ms(const model::Block& block);

}  // namespace tallyround::session
