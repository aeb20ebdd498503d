#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "model/state.h"

namespace tallyround::session {

/// A known wrong answer of a skill and in how many students' marks it was named.
struct SlipCount {
    std::string slip;
    std::string rule;  ///< what the student does, for the teacher
    int students = 0;
    int times = 0;
};

/// The slips that were seen on a skill, the most frequent first; ties by id.
std::vector<SlipCount> slips_seen(const model::Class& cls, const model::SkillId& skill);

}  // namespace tallyround::session
