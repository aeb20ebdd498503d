#pragma once
#include <string_view>

namespace tallyround::cards {

/// A known error pattern: what a student does, and who described it.
struct SlipInfo {
    std::string_view id;      ///< [a-z0-9-]
    std::string_view rule;    ///< what the student does, for the teacher, at most 90 characters
    std::string_view source;  ///< author and year; empty with `practice`
    std::string_view status;  ///< how far the source was checked: one of the three below
};

// How far a source was checked.
inline constexpr std::string_view abstract_read = "abstract read";
inline constexpr std::string_view from_memory = "from memory";
inline constexpr std::string_view practice = "common practice, no source";

// Works cited more than once (bibliographic details from memory unless marked otherwise).
inline constexpr std::string_view ashlock = "Ashlock, Error Patterns in Computation";
inline constexpr std::string_view hart = "Hart (ed.) 1981, Children's Understanding of Mathematics";
inline constexpr std::string_view matz = "Matz 1982, in Intelligent Tutoring Systems";
inline constexpr std::string_view kuchemann = "Küchemann 1981, in Hart (ed.)";
inline constexpr std::string_view booth = "Booth 1984, Algebra: Children's Strategies and Errors";
inline constexpr std::string_view payne = "Payne and Squibb 1990, Cognitive Science 14:445";

}  // namespace tallyround::cards
