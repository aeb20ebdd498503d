#pragma once
#include <cstdint>

namespace tallyround::cards {

// Written subtraction as students with a known slip do it, column by column from the right.
// Rules and worked values: Brown and Burton 1978, Cognitive Science 2:155; Brown and VanLehn 1980,
// Cognitive Science 4:379 (abstracts read). Requires 0 <= bottom <= top.

/// Takes the smaller digit from the larger one in every column: 73 − 58 → 25.
std::int64_t smaller_from_larger(std::int64_t top, std::int64_t bottom);
/// Adds ten to a column but takes nothing off the next one: 143 − 28 → 125.
std::int64_t borrow_no_decrement(std::int64_t top, std::int64_t bottom);
/// A column with 0 on top gives the bottom digit: 140 − 21 → 121.
std::int64_t zero_gives_bottom(std::int64_t top, std::int64_t bottom);
/// Borrowing from a 0 makes it 9 and stops there: 103 − 45 → 158.
std::int64_t borrow_from_zero(std::int64_t top, std::int64_t bottom);
/// Borrowing passes over a 0 to the next column that has something: 507 − 49 → 368.
std::int64_t borrow_across_zero(std::int64_t top, std::int64_t bottom);
/// Always borrows from the leftmost column: 583 − 237 → 256 (common practice, no source).
std::int64_t borrow_from_left(std::int64_t top, std::int64_t bottom);

}  // namespace tallyround::cards
