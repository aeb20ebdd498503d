#pragma once
#include <string_view>
#include <vector>

#include "model/ids.h"
#include "model/kinds.h"

namespace tallyround::session {

/// Kinds of center that suit a skill, best first, without the teacher center (there is one teacher,
/// so it is chosen apart). By the skill's strand; own skills as numbers. Common practice, no
/// source.
std::vector<std::string_view> kinds_for(const model::SkillId& skill);

/// Whether one more center of this kind has a device for each of four students, with `used` of the
/// kind there already.
bool devices_suffice(const model::CenterKind& kind, int used, int devices);

}  // namespace tallyround::session
