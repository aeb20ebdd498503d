#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "plan/cover_lp.h"
#include "plan/group_place.h"

namespace tallyround::plan::detail {

/// Proves how few repeated meetings a class can have, or finds a grouping with fewer: all groups
/// that could be part of a better grouping are columns of a set partitioning problem; its linear
/// relaxation gives prices and a bound, and what the prices leave is searched depth first, for the
/// bound, the bound and a bit, ... (reduced-cost fixing; Balas and Padberg 1976). Groups are taken
/// as alike. Only for windows that are proved to hold every grouping of the problem.
class GroupCover {
  public:
    /// `reached` is the repeat cost to beat.
    GroupCover(const GroupModel& model, const GroupWishes& wishes, SizeWindow window,
               std::int64_t reached);

    /// Whether such a proof can be tried: at most 64 items.
    static bool applies(const GroupModel& model) { return model.items() <= 64; }

    /// Does about `work` units of a GroupSearch; true when over.
    bool step(std::int64_t work);
    std::int64_t work_done() const { return work_done_; }

    /// Proved: no grouping has a lower repeat cost. Never more than `reached`.
    std::int64_t bound() const;
    /// A grouping with a lower cost than `reached`, as lists of items; it is then the best there
    /// is. Empty if none was found.
    const std::vector<std::vector<int>>& groups() const { return groups_; }

  private:
    enum class Phase { list, relax, search, done };
    /// A choice point: the columns that cover `item` are tried from `next` on.
    struct Frame {
        std::uint64_t covered = 0;
        std::int64_t slack = 0;
        int item = 0;
        std::size_t next = 0;
        int column = -1;  ///< that led here
    };

    void list();
    bool extend(std::size_t from, int size, std::int64_t cost);
    bool keeps_company(const std::vector<std::int16_t>& items) const;
    void take_prices();
    void aim(std::int64_t target);
    void push(std::uint64_t covered, std::int64_t slack, int column);
    bool helpers_reach(const std::vector<int>& chosen) const;
    void found();
    void search(std::int64_t nodes);

    const GroupModel& model_;
    const GroupWishes& wishes_;
    SizeWindow window_;
    std::int64_t reached_;    ///< without the pairs inside items
    std::int64_t grain_;      ///< every cost is a multiple of it
    std::int64_t allowance_;  ///< columns up to this cost are listed
    std::int64_t bound_ = 0;
    Phase phase_ = Phase::list;
    std::int64_t work_done_ = 0;

    std::vector<CoverColumn> columns_;
    std::vector<std::uint64_t> masks_;
    CoverColumn grown_;
    std::int64_t nodes_left_ = 0;

    std::optional<CoverLp> lp_;
    int pivots_left_ = 0;
    std::vector<std::int64_t> slack_;  ///< per column: cost less prices, scaled
    std::int64_t priced_ = 0;          ///< total of the prices, scaled
    std::int64_t target_ = 0;
    std::vector<std::vector<int>> by_item_;  ///< columns that the target leaves, cheapest first
    std::vector<Frame> stack_;
    std::vector<std::vector<int>> groups_;
};

}  // namespace tallyround::plan::detail
