#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "record/log.h"
#include "session/incoming.h"

namespace tallyround::session {

/// One field that two devices changed, neither knowing of the other: the later change (by the
/// record's clock) holds.
struct Conflict {
    std::string what;  ///< "Name of Ana", "Group of Bo in Fractions", "Round 2 of group 3"
    std::string won;   ///< what holds now, in words
    std::string lost;
    bool ours_won = false;  ///< this device's change is the one that holds
    record::Body take;      ///< makes the other one hold (TakeOther)
};

/// What `ours` (events that the other side did not have) and `theirs` (events that this side did
/// not have) both set, to different values. Only events that count in `merged`, the record that
/// holds both. Marks, notes, flags and the course of a lesson add up and never conflict.
/// In the order of the record; a chart in which more than `most_cells` cells differ is one
/// conflict.
/// What somebody has set anew since, knowing both, is none any more.
std::vector<Conflict> find_conflicts(const record::Log& merged, const Sides& sides);

inline constexpr std::size_t most_cells = 8;

/// False for events that never conflict.
bool sets_fields(const record::Event& event);

/// In what a conflict takes: this text stays as it is. No text that the record keeps is so, control
/// characters are tidied away.
inline constexpr std::string_view unsaid = "\x01";

}  // namespace tallyround::session
