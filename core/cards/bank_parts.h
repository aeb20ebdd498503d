#pragma once
#include <vector>

#include "cards/bank.h"

namespace tallyround::cards {

// The bank's data, one file a neighbourhood of strands. Codes: Common Core State Standards for
// Mathematics (2010), from memory; titles and before-links are ours (common practice, no source).
std::vector<SkillInfo> number_skills();    ///< number, decimals
std::vector<SkillInfo> fraction_skills();  ///< fractions, ratio and percent
std::vector<SkillInfo> algebra_skills();   ///< integers, expressions, equations
std::vector<SkillInfo> shape_skills();     ///< geometry, measurement
std::vector<SkillInfo> data_skills();      ///< statistics, probability, functions

}  // namespace tallyround::cards
