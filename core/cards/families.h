#pragma once
#include <vector>

#include "cards/draft.h"

namespace tallyround::cards {

// Generators, one function a file; each file holds its slips with their sources beside them.
std::vector<Generator> whole_number_cards();
std::vector<Generator> number_cards();
std::vector<Generator> decimal_cards();
std::vector<Generator> decimal_form_cards();
std::vector<Generator> fraction_sum_cards();
std::vector<Generator> fraction_product_cards();
std::vector<Generator> ratio_cards();
std::vector<Generator> percent_cards();
std::vector<Generator> integer_cards();
std::vector<Generator> expression_cards();
std::vector<Generator> power_cards();
std::vector<Generator> equation_cards();
std::vector<Generator> function_cards();
std::vector<Generator> area_cards();
std::vector<Generator> volume_cards();
std::vector<Generator> grid_cards();
std::vector<Generator> pythagoras_cards();
std::vector<Generator> measure_cards();
std::vector<Generator> data_cards();
std::vector<Generator> chance_cards();

/// All of the above.
std::vector<std::vector<Generator>> all_families();

}  // namespace tallyround::cards
