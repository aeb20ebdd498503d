#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "model/ids.h"

namespace tallyround::model {

/// What a teacher saw in one look.
enum class Level : std::uint8_t { secure, shaky, stuck };
/// How much help the student had while it was seen.
enum class Help : std::uint8_t { none, hint, together };

std::string_view to_text(Level level);
std::string_view to_text(Help help);
std::optional<Level> parse_level(std::string_view text);
std::optional<Help> parse_help(std::string_view text);

/// One look's trace. `event` is the place in the record (for undo).
struct Mark {
    StudentId student;
    SkillId skill;
    CenterId center;
    BlockId block;
    std::int64_t at_ms = 0;  ///< UTC
    std::uint64_t event = 0;
    std::int16_t round = 0;  ///< 1-based; 0 outside a round
    Level level = Level::secure;
    Help help = Help::none;
    friend bool operator==(const Mark&, const Mark&) = default;
};

/// A few words about one student; the teacher's own.
struct Note {
    StudentId student;
    SkillId skill;  ///< may be empty
    BlockId block;
    std::int64_t at_ms = 0;  ///< UTC
    std::uint64_t event = 0;
    std::string text;
    friend bool operator==(const Note&, const Note&) = default;
};

/// A known wrong answer that was seen with a mark; `event` is the mark's.
struct SlipSeen {
    StudentId student;
    SkillId skill;
    std::string slip;
    std::uint64_t event = 0;
    friend bool operator==(const SlipSeen&, const SlipSeen&) = default;
};

/// A student waiting for help.
struct Flag {
    StudentId student;
    std::int64_t raised_ms = 0;
    friend bool operator==(const Flag&, const Flag&) = default;
};

}  // namespace tallyround::model
