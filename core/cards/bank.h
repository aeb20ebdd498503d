#pragma once
#include <string_view>
#include <vector>

namespace tallyround::cards {

/// Where a skill belongs when a list is ordered or filtered.
enum class Strand {
    number,
    fractions,
    decimals,
    ratio_percent,
    integers,
    expressions,
    equations,
    geometry,
    measurement,
    statistics,
    probability,
    functions,
};

/// One specific thing a student can do, small enough for one center.
struct SkillInfo {
    std::string_view id;     ///< 1..23 bytes of [a-z0-9-]; never changes once published
    int grade = 5;           ///< 5..8: the grade of the standard it serves
    std::string_view title;  ///< at most 60 characters, our own words
    Strand strand = Strand::number;
    std::string_view code;                 ///< the Common Core code it serves, as a reference only
    std::vector<std::string_view> before;  ///< ids of skills that help first; same or lower grade
};

/// Every built-in skill, by strand, then in teaching order. Ids are unique and before-links
/// acyclic.
const std::vector<SkillInfo>& skill_bank();

/// The built-in skill with this id, or nullptr.
const SkillInfo* find_skill(std::string_view id);

/// Up to `limit` ids whose spelling is nearest to `id` (Levenshtein distance, ties in bank order):
/// for "did you mean".
std::vector<std::string_view> nearest_skills(std::string_view id, std::size_t limit = 3);

/// "Ratio and percent": the name of a strand as a heading.
std::string_view strand_title(Strand strand);
/// "ratio-percent": the name of a strand in files.
std::string_view strand_id(Strand strand);

/// The notice that goes with the codes wherever they are shown together: codes are references to
/// the Common Core State Standards; no text of the standards is used.
std::string_view standards_notice();

}  // namespace tallyround::cards
