#pragma once
#include <vector>

#include "cards/draft.h"

namespace tallyround::cards {

// Generators, one function a file; each file holds its slips with their sources beside them.
std::vector<Generator> whole_number_cards();
std::vector<Generator> number_cards();
std::vector<Generator> decimal_cards();
std::vector<Generator> fraction_sum_cards();
std::vector<Generator> fraction_product_cards();

/// All of the above.
std::vector<std::vector<Generator>> all_families();

}  // namespace tallyround::cards
