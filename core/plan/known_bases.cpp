#include "plan/design.h"

namespace tallyround::plan::detail {

namespace {

struct Known {
    CyclicShape shape;
    int size;
    Block base;
};

}  // namespace

std::optional<Block> known_base(const CyclicShape& shape, int size) {
    // Found by BaseSearch and kept because a search takes longer than developing them.
    static const std::vector<Known> all{
        {{7, 3, 3},
         4,
         {{5, 11, 14, 23},
          {3, 13, 18, 22},
          {4, 9, 15, 21},
          {0, 17, 19, 20},
          {7, 8, 12, 16},
          {1, 2, 6, 10}}},
        {{9, 3, 1},
         4,
         {{4, 11, 22, 27},
          {1, 3, 7, 26},
          {12, 19, 24, 25},
          {6, 15, 21, 23},
          {0, 8, 10, 20},
          {5, 9, 13, 18},
          {2, 14, 16, 17}}},
        {{11, 3, 3},
         4,
         {{14, 27, 28, 30},
          {1, 9, 10, 23},
          {5, 18, 20, 24},
          {4, 21, 22, 34},
          {6, 13, 32, 35},
          {0, 11, 31, 33},
          {15, 16, 19, 26},
          {3, 7, 12, 17},
          {2, 8, 25, 29}}},
    };
    for (const Known& known : all) {
        const bool same = known.size == size && known.shape.modulus == shape.modulus &&
                          known.shape.orbits == shape.orbits && known.shape.fixed == shape.fixed;
        if (same) return known.base;
    }
    return std::nullopt;
}

}  // namespace tallyround::plan::detail
