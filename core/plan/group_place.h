#pragma once
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "base/random.h"
#include "plan/group_model.h"
#include "plan/minimal.h"

namespace tallyround::plan::detail {

/// Smallest and largest group size allowed.
struct SizeWindow {
    int low = 0;
    int high = 0;
};

/// Windows to try, the most even first; the last one only asks for the largest size. `loose`
/// puts a window first that leaves a changed class as it is (halves of the largest size and up).
std::vector<SizeWindow> size_windows(const GroupModel& model, bool loose);

enum class Answer { found, impossible, unknown };

/// Exact placing of items into groups: depth-first, the item with the fewest groups left first
/// (DSATUR, Brelaz 1979), groups that are still empty and free tried once.
class GroupPlacer {
  public:
    /// `wishes` may be null; with it, groups where fewer students have moved are tried first and
    /// at most `max_moved` may move (-1 = any number).
    GroupPlacer(const GroupModel& model, const GroupWishes* wishes, SizeWindow window,
                int max_moved = -1);

    /// `found` leaves the places in `group_of`; `unknown` after `nodes` nodes.
    Answer run(std::int64_t nodes, std::uint64_t seed);

    std::vector<int> group_of;
    std::int64_t nodes_used = 0;

  private:
    bool place_all();
    bool fits(int item, int group) const;
    void put(int item, int group, int sign);
    int count_groups(int item) const;
    int most_constrained() const;
    bool enough_left() const;
    bool company_left() const;
    bool can_join(int item, int group) const {
        return group_of[item] == group || (group_of[item] < 0 && fits(item, group));
    }
    std::vector<int> ordered_groups(int item);

    const GroupModel& model_;
    const GroupWishes* wishes_;
    SizeWindow window_;
    int max_moved_;
    std::vector<char> labelled_;  ///< groups that are not like the others
    std::vector<int> fill_;
    std::vector<int> blocked_;    ///< items x groups: clashing items there
    std::vector<int> helped_in_;  ///< helpers x groups: items there
    std::vector<int> helped_;     ///< per helper: groups with its items
    int moved_ = 0;
    int students_left_ = 0;
    std::int64_t limit_ = 0;
    base::Random random_{1};
};

/// A small set of students and rules that conflict, found by leaving things out of a problem
/// that is known to be infeasible. Stops early (not minimal) after about `work` steps.
class ConflictSearch {
  public:
    ConflictSearch(const GroupProblem& problem, std::int64_t work);

    /// One test; the steps that it took, 0 when there is nothing more to test.
    std::int64_t step();
    GroupConflict conflict() const;

  private:
    Answer test(const std::vector<char>& kept);

    const GroupProblem& problem_;
    std::int64_t work_;
    DeletionFilter filter_;
    std::size_t checked_ = 0;  ///< members left out one by one, once the filter is through
    bool minimal_ = true;
};

}  // namespace tallyround::plan::detail
