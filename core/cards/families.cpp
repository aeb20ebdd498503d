#include "cards/families.h"

namespace tallyround::cards {

std::vector<std::vector<Generator>> all_families() {
    return {whole_number_cards(), number_cards(),       decimal_cards(),
            decimal_form_cards(), fraction_sum_cards(), fraction_product_cards(),
            ratio_cards(),        percent_cards(),      integer_cards(),
            expression_cards(),   power_cards(),        equation_cards(),
            function_cards(),     area_cards(),         volume_cards(),
            grid_cards(),         pythagoras_cards(),   measure_cards(),
            data_cards(),         chance_cards()};
}

}  // namespace tallyround::cards
