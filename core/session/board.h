#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "model/state.h"

namespace tallyround::session {

/// What students see on the wall: who is where now and next, and the time left. No marks, no flags.
struct BoardPicture {
    struct Row {
        int group = 0;
        model::CenterId now;   ///< empty: no center in this round
        model::CenterId next;  ///< empty when nothing follows today
        std::vector<std::string> names;
    };
    std::string title;      ///< "Round 2 of 6", "Move to round 3"
    std::string doing;      ///< what a group does at `now`: "go to"; empty while it works there
    bool counting = false;  ///< the clock runs (or is paused)
    bool paused = false;
    bool by_plan = false;      ///< told by the bell times, not by a running lesson
    std::int64_t left_ms = 0;  ///< of what is going on; below zero: over time
    bool has_next = false;     ///< a round follows today
    std::vector<Row> rows;
};

/// Without a running lesson the block's bell times tell where the groups are, so that a device
/// that only has the plan file shows the right round. Empty rows: there is no chart yet.
BoardPicture board_picture(const model::Class& cls, const model::Block& block, std::int64_t now_ms,
                           int utc_offset_minutes);

}  // namespace tallyround::session
