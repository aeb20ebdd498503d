#pragma once
#include <vector>

#include "advise/review.h"
#include "session/insight.h"

namespace tallyround::session {

// What the files behind insight.h share. Only insight_*.cpp and derived_*.cpp include this.

/// Present students by skills, numbered in the order given; days count back from `now_ms`.
std::vector<advise::Holding> holdings_of(const model::Class& cls, const Standings& standings,
                                         const std::vector<model::SkillId>& skills,
                                         std::int64_t now_ms);

}  // namespace tallyround::session
