#pragma once
#include <string_view>
#include <vector>

#include "model/ids.h"

namespace tallyround::session {

/// Kinds of center that suit a skill, best first, without the teacher center (there is one teacher,
/// so it is chosen apart). By the skill's strand; own skills as numbers. Common practice, no
/// source.
std::vector<std::string_view> kinds_for(const model::SkillId& skill);

}  // namespace tallyround::session
