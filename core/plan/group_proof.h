#pragma once
#include <cstdint>
#include <vector>

#include "plan/group_place.h"

namespace tallyround::plan::detail {

/// A proved lower bound on the repeat cost of any placing of the items in `left` (all items if
/// empty): each item needs at least `low` - 1 mates, counted with its cheapest ones, and a pair is
/// counted by both.
std::int64_t repeat_bound(const GroupModel& model, const GroupWishes& wishes, int low,
                          const std::vector<int>& left = {});

/// Branch and bound, one whole group at a time: the item whose cheapest mates cost most gets its
/// group first. Every grouping that could beat `best` is looked at, so that the end of the search
/// proves the best one. Groups are taken as alike; seats are given by clashes and merged items.
class GroupProof {
  public:
    GroupProof(const GroupModel& model, const GroupWishes& wishes, SizeWindow window,
               GroupScore best);

    /// True when the whole space is covered; false when `nodes` ran out.
    bool run(std::int64_t nodes);

    bool improved() const { return !groups_.empty(); }
    /// The groups found, as lists of items. Group numbers have no meaning.
    const std::vector<std::vector<int>>& groups() const { return groups_; }
    const GroupScore& best() const { return best_; }

  private:
    bool branch(std::int64_t cost, std::vector<int> left);
    bool grow(std::int64_t cost, const std::vector<int>& left, std::size_t from, int size,
              std::int64_t inside);
    bool content() const;
    bool close(std::int64_t cost, const std::vector<int>& left);
    void leaf(std::int64_t cost);
    std::int64_t allowance() const;
    int dearest(const std::vector<int>& left) const;

    const GroupModel& model_;
    const GroupWishes& wishes_;
    SizeWindow window_;
    GroupScore best_;
    std::int64_t grain_;  ///< every pair cost is a multiple of it
    std::vector<std::vector<int>> groups_;
    std::vector<std::vector<int>> chosen_;
    std::int64_t nodes_left_ = 0;
};

}  // namespace tallyround::plan::detail
