#pragma once
#include <span>
#include <string_view>

#include "cards/bank.h"

namespace tallyround::cards {

/// A skill as it stands in the tables; `before` holds ids with blanks between.
struct SkillRow {
    std::string_view id;
    int grade;
    std::string_view title;
    Strand strand;
    std::string_view code;
    std::string_view before;
};

// The bank's data, one file a neighbourhood of strands. Codes: Common Core State Standards for
// Mathematics (2010), from memory; titles and before-links are ours (common practice, no source).
std::span<const SkillRow> number_skills();    ///< number, decimals
std::span<const SkillRow> fraction_skills();  ///< fractions, ratio and percent
std::span<const SkillRow> algebra_skills();   ///< integers, expressions, equations
std::span<const SkillRow> shape_skills();     ///< geometry, measurement
std::span<const SkillRow> data_skills();      ///< statistics, probability, functions

}  // namespace tallyround::cards
