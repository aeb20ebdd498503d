#pragma once
#include <string>
#include <vector>

#include "model/ids.h"

namespace tallyround::model {

struct Student {
    StudentId id;
    std::string name;       ///< as the teacher wrote it, any script
    std::string source_id;  ///< id in the school's own list, may be empty
    bool left = false;      ///< no longer in the class; marks stay
    friend bool operator==(const Student&, const Student&) = default;
};

enum class PairRule : std::uint8_t { none, apart, together };

/// What two students must be to each other in every grouping. `a` < `b`.
struct Pair {
    StudentId a;
    StudentId b;
    PairRule rule = PairRule::apart;
    friend bool operator==(const Pair&, const Pair&) = default;
};

/// A student who needs one of `partners` in the group, whichever it is: somebody who shares a
/// language, a reader, a friend.
struct Company {
    StudentId student;
    std::vector<StudentId> partners;
    friend bool operator==(const Company&, const Company&) = default;
};

/// A picture for cards from the teacher's device, made small before it came here.
struct CardPicture {
    PictureId id;
    int width = 0;  ///< pixels, as the file says
    int height = 0;
    std::string data;  ///< base64 (RFC 4648, section 4) of a PNG, JPEG or WebP file
    friend bool operator==(const CardPicture&, const CardPicture&) = default;
};

/// A problem that the teacher wrote, with its answer.
struct OwnCard {
    std::string prompt;
    std::string answer;
    PictureId picture = {};  ///< one of the class's, or none
    std::string shows = {};  ///< what the picture shows, in words
    friend bool operator==(const OwnCard&, const OwnCard&) = default;
};

/// A skill the teacher wrote or brought in from a framework; bank skills need no entry.
struct OwnSkill {
    SkillId id;
    std::string title;
    int grade = 6;
    std::string code;             ///< the framework's own code, may be empty
    std::vector<SkillId> before;  ///< skills that help first
    std::vector<OwnCard> cards;
    friend bool operator==(const OwnSkill&, const OwnSkill&) = default;
};

/// How long one change of places took: in a lesson, or practised.
struct Move {
    std::int64_t at_ms = 0;  ///< UTC, when it was over
    std::int64_t took_ms = 0;
    bool practice = false;
    friend bool operator==(const Move&, const Move&) = default;
};

/// What the class owns of something: "whiteboards", 32.
struct Stock {
    std::string item;
    int count = 0;
    friend bool operator==(const Stock&, const Stock&) = default;
};

}  // namespace tallyround::model
