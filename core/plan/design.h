#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "base/random.h"
#include "plan/partners.h"

namespace tallyround::plan::detail {

/// Blocks of points 0 .. points-1 in which no pair meets twice; every group has `size` points.
struct Design {
    int points = 0;
    int size = 0;
    std::vector<Block> blocks;
};

/// size = 2: everybody meets everybody, by turning a polygon (the circle method). Even n.
Design round_robin(int points);

/// A resolvable transversal design from a field of order q >= size: points are `size` columns of
/// q, a block is all lines of one slope; the columns themselves add blocks where they split. For
/// q = size it is the affine plane. Nothing if q = points/size is no prime power or too small.
std::optional<Design> lines(int points, int size);

/// Points as orbits of Z_m and `fixed` points that stay; one base block is moved by adding
/// 1 .. m-1 to every orbit. No pair meets twice when every difference occurs at most once.
struct CyclicShape {
    int modulus = 0;
    int orbits = 0;
    int fixed = 0;
    int points() const { return modulus * orbits + fixed; }
};

/// The shapes worth a search for `points` and `size`: as many blocks as the bound allows, then
/// fewer.
std::vector<CyclicShape> cyclic_shapes(int points, int size);

/// Develops a base block; points orbit * modulus + residue, then the fixed ones.
Design develop(const CyclicShape& shape, int size, const Block& base);

/// A base block known from earlier searches, for the shapes in which search takes long.
std::optional<Block> known_base(const CyclicShape& shape, int size);

/// Simulated annealing for a base block whose differences are all different.
class BaseSearch {
  public:
    BaseSearch(const CyclicShape& shape, int size, std::uint64_t seed);

    /// Tries `exchanges` exchanges; true when a base block is found.
    bool step(std::int64_t exchanges);
    Block base() const;
    int cost() const { return cost_; }

  private:
    void restart();
    int change(int pair_class, int by);
    int shift_pairs(int position, int other_group, int by);

    CyclicShape shape_;
    int size_;
    base::Random random_;
    std::vector<int> pair_class_;  ///< points x points
    std::vector<int> room_;        ///< how often a class may occur: 1, or 0 for a half turn
    std::vector<int> count_;
    std::vector<int> at_;  ///< point at each position; group = position / size
    int cost_ = 0;
    double temperature_ = 1.0;
    std::int64_t since_restart_ = 0;
};

/// Takes points away so that `students` remain, choosing them so that as many blocks as possible
/// keep groups of `size` and size-1 only; the other blocks are dropped. Points are renumbered.
std::vector<Block> without_points(const Design& design, int students);

}  // namespace tallyround::plan::detail
