#include "cards/families.h"

namespace tallyround::cards {

std::vector<std::vector<Generator>> all_families() {
    return {whole_number_cards(), number_cards(), decimal_cards(), fraction_sum_cards(),
            fraction_product_cards()};
}

}  // namespace tallyround::cards
