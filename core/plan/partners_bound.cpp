#include <algorithm>

#include "plan/partners.h"

namespace tallyround::plan {

namespace {

std::int64_t pairs(std::int64_t n) {
    return n * (n - 1) / 2;
}

std::int64_t pairs_a_block(const std::vector<int>& sizes) {
    std::int64_t total = 0;
    for (const int size : sizes)
        total += pairs(size);
    return total;
}

/// Pairs of one block's groups that any other block must have together again.
std::int64_t forced(const std::vector<int>& sizes) {
    const auto groups = std::int64_t(sizes.size());
    std::int64_t total = 0;
    for (const int size : sizes) {
        const std::int64_t each = size / groups;
        const std::int64_t more = size % groups;
        total += more * pairs(each + 1) + (groups - more) * pairs(each);
    }
    return total;
}

}  // namespace

std::vector<int> block_sizes(int students, int size) {
    const int groups = (students + size - 1) / size;
    std::vector<int> sizes(std::size_t(groups), students / groups);
    for (int g = 0; g < students % groups; ++g)
        ++sizes[g];
    return sizes;
}

int bound_blocks(int students, int size) {
    const auto sizes = block_sizes(students, size);
    if (sizes.front() < 2) return most_partner_blocks;
    if (forced(sizes) > 0) return 1;
    return int(pairs(students) / pairs_a_block(sizes));
}

int bound_repeats(int students, int size, int blocks) {
    if (blocks < 2) return 0;
    const auto sizes = block_sizes(students, size);
    const std::int64_t by_counting = blocks * pairs_a_block(sizes) - pairs(students);
    // Over all pairs of blocks at least forced * blocks(blocks-1)/2 pairs coincide; a pair that
    // meets m <= blocks times gives m(m-1)/2 <= (m-1) * blocks/2 of these.
    const std::int64_t by_spreading = forced(sizes) * (blocks - 1);
    return int(std::max<std::int64_t>({0, by_counting, by_spreading}));
}

}  // namespace tallyround::plan
