#include <algorithm>
#include <map>
#include <numeric>

#include "plan/accept.h"
#include "plan/design.h"

namespace tallyround::plan::detail {

namespace {

constexpr double hot = 1.0;
constexpr double cold = 0.25;
constexpr double cooling = 0.9999;
constexpr int exchanges_a_degree = 64;
constexpr std::int64_t exchanges_a_restart = 2'000'000;

/// A class of pairs that one pair of the base block uses up for good: (orbit, orbit, difference),
/// or (fixed point, orbit).
std::vector<int> class_key(const CyclicShape& s, int a, int b) {
    if (a > b) std::swap(a, b);
    const int moving = s.modulus * s.orbits;
    if (b >= moving) return {a >= moving ? a : a / s.modulus, b, -1};
    const int row = a / s.modulus;
    const int other = b / s.modulus;
    int difference = (b - a) % s.modulus;
    if (difference < 0) difference += s.modulus;
    if (row == other) difference = std::min(difference, s.modulus - difference);
    return {row, other, difference};
}

}  // namespace

BaseSearch::BaseSearch(const CyclicShape& shape, int size, std::uint64_t seed)
    : shape_(shape), size_(size), random_(seed) {
    const int n = shape.points();
    const int moving = shape.modulus * shape.orbits;
    std::map<std::vector<int>, int> numbers;
    pair_class_.assign(std::size_t(n) * std::size_t(n), 0);
    for (int a = 0; a < n; ++a) {
        for (int b = 0; b < n; ++b) {
            if (a == b) continue;
            const auto key = class_key(shape, a, b);
            const auto [at, fresh] = numbers.emplace(key, int(numbers.size()));
            pair_class_[std::size_t(a) * std::size_t(n) + std::size_t(b)] = at->second;
            if (!fresh) continue;
            const bool both_fixed = std::min(a, b) >= moving;
            const bool half_turn = key[2] >= 0 && key[0] == key[1] && 2 * key[2] == shape.modulus;
            room_.push_back(both_fixed || half_turn ? 0 : 1);
        }
    }
    at_.resize(std::size_t(n));
    std::iota(at_.begin(), at_.end(), 0);
    restart();
}

void BaseSearch::restart() {
    random_.shuffle(at_);
    count_.assign(room_.size(), 0);
    cost_ = 0;
    const int n = shape_.points();
    for (int i = 0; i < n; ++i)
        for (int j = i / size_ * size_; j < i; ++j)
            cost_ += change(pair_class_[std::size_t(at_[i]) * std::size_t(n) + at_[j]], +1);
    temperature_ = hot;
    since_restart_ = 0;
}

/// Counts a pair in or out; returns by how much the cost changes.
int BaseSearch::change(int pair_class, int by) {
    int& count = count_[pair_class];
    const int before = std::max(0, count - room_[pair_class]);
    count += by;
    return std::max(0, count - room_[pair_class]) - before;
}

/// Counts the pairs of the point at `position` with the others of `group`, leaving out positions
/// that hold the same point.
int BaseSearch::shift_pairs(int position, int group, int by) {
    const std::size_t row = std::size_t(at_[position]) * std::size_t(shape_.points());
    int delta = 0;
    for (int other = group * size_; other < (group + 1) * size_; ++other)
        if (other != position) delta += change(pair_class_[row + std::size_t(at_[other])], by);
    return delta;
}

bool BaseSearch::step(std::int64_t exchanges) {
    const auto n = std::uint64_t(shape_.points());
    for (std::int64_t k = 0; k < exchanges && cost_ > 0; ++k) {
        const int i = int(random_.below(n));
        const int j = int(random_.below(n));
        const int home = i / size_;
        const int other = j / size_;
        if (home == other) continue;
        int delta = shift_pairs(i, home, -1) + shift_pairs(j, other, -1);
        std::swap(at_[i], at_[j]);
        delta += shift_pairs(i, home, +1) + shift_pairs(j, other, +1);
        if (accept(delta, temperature_, random_)) {
            cost_ += delta;
        } else {
            shift_pairs(i, home, -1);
            shift_pairs(j, other, -1);
            std::swap(at_[i], at_[j]);
            shift_pairs(i, home, +1);
            shift_pairs(j, other, +1);
        }
        if (++since_restart_ % exchanges_a_degree == 0)
            temperature_ = std::max(cold, temperature_ * cooling);
        if (since_restart_ >= exchanges_a_restart) restart();
    }
    return cost_ == 0;
}

Block BaseSearch::base() const {
    Block block;
    for (std::size_t i = 0; i < at_.size(); ++i) {
        if (i % std::size_t(size_) == 0) block.emplace_back();
        block.back().push_back(at_[i]);
    }
    return block;
}

}  // namespace tallyround::plan::detail
