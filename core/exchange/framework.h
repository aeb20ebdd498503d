#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace tallyround::exchange {

/// What a package may have at most.
inline constexpr std::size_t max_framework_bytes = std::size_t{32} << 20U;

/// A skill as a framework lists it.
struct FrameworkSkill {
    std::string id;     ///< "f1", "f2" … in the order of the file
    std::string title;  ///< the short statement if there is one, else the full one; one line
    std::string code;   ///< humanCodingScheme, may be empty
    int grade = 6;      ///< first number of educationLevel, 1..12
    std::vector<std::string> before;  ///< ids of skills of this list that come first
};

struct Framework {
    std::string title;
    std::vector<FrameworkSkill> skills;
    std::vector<std::string> warnings;  ///< what was left out and why
};

/// Reads a package of 1EdTech's CASE (Competencies and Academic Standards Exchange 1.0 and 1.1,
/// JSON): CFDocument, CFItems, CFAssociations. (Names of members from memory.)
///   - items that others are children of ("isChildOf") are headings, the rest are skills;
///   - "precedes" makes its origin a skill that comes before its destination;
///   - associations that name an item of another package are left out with a warning.
/// Errors name the place as a JSON pointer: not JSON, not a CASE package, an item without
/// identifier or statement, an identifier that occurs twice, more than 20,000 items, more than 32
/// MiB.
base::Result<Framework> read_framework(std::string_view bytes);

}  // namespace tallyround::exchange
