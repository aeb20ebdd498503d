#pragma once
#include <cstdint>
#include <vector>

namespace tallyround::plan::detail {

/// A possible group: items in ascending order and what it costs.
struct CoverColumn {
    std::vector<std::int16_t> items;
    std::int64_t cost = 0;
};

/// The linear relaxation of choosing exactly `groups` columns that cover every item once at least
/// total cost (set partitioning; Balas and Padberg 1976, SIAM Review 18: 710-760), by the revised
/// primal simplex method on a dense inverse. Right-hand sides are shifted a little against stalling
/// (Charnes 1952); that leaves the bound valid. Only basic operations on doubles decide, so every
/// platform takes the same steps.
class CoverLp {
  public:
    /// `dear` is more than any optimal cover costs: the price of leaving an item uncovered.
    CoverLp(const std::vector<CoverColumn>& columns, int items, int groups, std::int64_t dear);

    /// Does up to `pivots` pivots; true when the optimum is reached.
    bool step(int pivots);

    /// A price for each item and, last, for the number of groups, such that no column costs less
    /// than its items' prices and the last one: their total bounds every cover from below. In
    /// 1/1024 of the cost's unit, exact in whole numbers.
    std::vector<std::int64_t> prices() const;
    /// The bound those prices prove, in the cost's unit, rounded up.
    static std::int64_t bound(const std::vector<std::int64_t>& prices, int groups);

    static constexpr std::int64_t scale = 1024;

  private:
    double reduced(std::size_t column) const;
    std::size_t entering();
    void pivot(const std::vector<double>& direction, int leaving, double cost);

    const std::vector<CoverColumn>& columns_;
    int rows_;
    double dear_;
    std::vector<double> inverse_;  ///< rows x rows
    std::vector<double> value_;    ///< of the basic columns
    std::vector<double> cost_;     ///< of the basic columns
    std::vector<double> dual_;
    std::size_t look_from_ = 0;  ///< where partial pricing goes on
};

}  // namespace tallyround::plan::detail
