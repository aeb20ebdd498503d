#pragma once
#include <vector>

#include "advise/review.h"
#include "session/derived.h"

namespace tallyround::session {

// What the files behind insight.h share. Only insight_*.cpp and derived_*.cpp include this.

/// Skills of the block being planned, then every other one with marks, in that order.
std::vector<model::SkillId> skills_of(const model::Class& cls);

/// `judge_centers` for every block of the class, in their order, at the cost of one.
std::vector<std::vector<CenterVerdict>> judge_blocks(const model::Class& cls,
                                                     const Standings& standings);

/// Present students by skills, numbered in the order given; days count back from `now_ms`.
std::vector<advise::Holding> holdings_of(const model::Class& cls, const Standings& standings,
                                         const std::vector<model::SkillId>& skills,
                                         std::int64_t now_ms);

}  // namespace tallyround::session
