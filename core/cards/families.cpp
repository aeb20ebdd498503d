#include "cards/families.h"

namespace tallyround::cards {

std::vector<std::vector<Generator>> all_families() {
    return {fraction_sum_cards(), fraction_product_cards()};
}

}  // namespace tallyround::cards
