#pragma once
#include <cstdint>
#include <vector>

#include "base/random.h"
#include "plan/group_place.h"

namespace tallyround::plan::detail {

/// Simulated annealing over placings that keep every hard rule: one item goes to another group,
/// up to two come back (up to three when a partner goes along).
class GroupAnneal {
  public:
    GroupAnneal(const GroupModel& model, const GroupWishes& wishes, SizeWindow window,
                std::vector<int> group_of, std::uint64_t seed);

    /// One run from hot to cold over `total` exchanges starts; `step` does a part of it.
    /// `hot` is the first temperature: one repeated meeting costs 1000.
    void start_run(std::int64_t total, double hot);
    /// True when the run is over.
    bool step(std::int64_t exchanges);
    /// Continues from the best placing instead of the current one.
    void back_to_best();

    const std::vector<int>& best() const { return best_; }
    const GroupScore& best_score() const { return best_score_; }

  private:
    struct Change {
        std::int64_t moved = 0;
        std::int64_t repeats = 0;
        std::int64_t shared = 0;
        double level = 0.0;
    };
    void load(const std::vector<int>& group_of);
    bool pick();
    void pick_out();
    void pick_back();
    bool sizes_fit() const;
    bool keeps_rules() const;
    bool stays_content() const;
    bool is_out(int item) const;
    bool is_back(int item) const;
    Change change();
    void add_pairs(int item, int home, int sign, Change& change) const;
    double level_after();
    void level_shift(int item, int from, int to);
    void take();
    void exchange(double temperature);
    GroupScore score() const;

    const GroupModel& model_;
    const GroupWishes& wishes_;
    SizeWindow window_;
    base::Random random_;
    std::vector<int> free_;  ///< items without a seat
    std::vector<int> group_of_;
    std::vector<std::vector<int>> in_;
    std::vector<int> fill_;
    std::vector<std::int64_t> sums_, squares_;
    std::vector<int> counts_;
    GroupScore now_;
    std::vector<int> best_;
    GroupScore best_score_;
    // The exchange being tried: out_ from from_ to to_, back_ the other way.
    std::vector<int> out_;
    int from_ = 0;
    int to_ = 0;
    std::vector<int> back_;
    std::int64_t run_total_ = 1;
    std::int64_t run_done_ = 0;
    double temperature_ = 1.0;
    double cooling_ = 1.0;
};

}  // namespace tallyround::plan::detail
