#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/civil.h"
#include "model/ids.h"
#include "model/wishes.h"

namespace tallyround::model {

/// One place in the room where a group reviews one skill.
struct Center {
    CenterId id;
    std::string kind;  ///< id of a CenterKind
    SkillId skill;
    std::string title;         ///< empty: the kind's title
    std::string instructions;  ///< one step a line
    std::string materials;     ///< one a line
    bool closed = false;       ///< taken out; its marks stay
    int holds = 1;             ///< groups at once
    /// Levels of its cards by their number of dots, 1 to 3, rising; empty: those of the whole box.
    std::vector<int> tiers = {};
    friend bool operator==(const Center&, const Center&) = default;
};

/// Part of a period that cannot be used (an assembly, lunch), local time.
struct Break {
    int start_minute = 0;  ///< after midnight
    int end_minute = 0;
    friend bool operator==(const Break&, const Break&) = default;
};

/// One lesson's bell times on one day, local time.
struct Period {
    base::Date date;
    int start_minute = 0;  ///< after midnight
    int end_minute = 0;
    std::vector<Break> breaks = {};
    friend bool operator==(const Period&, const Period&) = default;
};

/// How the time of a period is cut up, in minutes.
struct Timing {
    int rounds = 0;
    int round_minutes = 12;
    int move_minutes = 2;
    int opening_minutes = 3;
    int closing_minutes = 4;
    int rounds_a_day = 0;  ///< at most so many on one date; 0: no limit
    friend bool operator==(const Timing&, const Timing&) = default;
};

/// One row a group, one column a round; an empty id is a round without a center.
using Chart = std::vector<std::vector<CenterId>>;
/// Students of each group, in seating order.
using Groups = std::vector<std::vector<StudentId>>;

enum class Phase : std::uint8_t { ready, opening, working, moving, closing, ended };

/// Where a lesson is. Time is kept as wall-clock anchors, so that a reload or a sleep costs
/// nothing.
struct Lesson {
    Phase phase = Phase::ready;
    int round = 0;                   ///< 1-based round being worked or moved to; 0 before the first
    int first_round = 1;             ///< first round of this day
    int last_round = 0;              ///< last round of this day
    std::int64_t started_ms = 0;     ///< UTC, of this day's lesson
    std::int64_t phase_ends_ms = 0;  ///< UTC; meaningless while paused
    std::int64_t paused_left_ms = -1;  ///< time left when paused, otherwise -1
    std::int64_t phase_began_ms = 0;   ///< UTC; after a pause, when the lesson went on
    std::int64_t phase_spent_ms = 0;   ///< of this phase before the pauses
    std::int64_t round_ms = 0;         ///< length of the rounds left today; 0: as planned
    bool paused() const { return paused_left_ms >= 0; }
    bool running() const { return phase != Phase::ready && phase != Phase::ended; }
    friend bool operator==(const Lesson&, const Lesson&) = default;
};

/// The one or more periods that a rotation takes.
struct Block {
    BlockId id;
    std::string title;
    std::vector<SkillId> skills;
    std::vector<Center> centers;
    std::vector<Period> periods;
    Timing timing;
    int devices = 8;
    Groups groups;
    Chart chart;
    GroupRules group_rules;
    ChartRules chart_rules;
    std::vector<StudentId> absent;
    Lesson lesson;
    std::vector<std::string> ready;  ///< keys of what is prepared, in the order it was ticked off
    int rounds_done = 0;             ///< rounds finished on the days before and today

    friend bool operator==(const Block&, const Block&) = default;
};

}  // namespace tallyround::model
