#pragma once
#include <cstdint>
#include <vector>

#include "base/random.h"
#include "plan/chart_model.h"

namespace tallyround::plan::detail {

/// Improves the order of a chart by simulated annealing over charts that keep every rule and are
/// no worse otherwise. Two groups exchange their centers in a closed set of rounds (a cycle switch:
/// what each visits stays), two rounds or two equal centers change places everywhere, or one cell
/// goes to a center with room.
class ChartPolish {
  public:
    ChartPolish(const ChartProblem& problem, const ChartModel& model, const Cells& cells,
                std::uint64_t seed);

    void step(std::int64_t tries, double temperature);

    const Cells& best() const { return best_; }
    const ChartScore& best_score() const { return best_score_; }
    /// No order cost of a chart with as many neighbouring visits can be below this.
    std::int64_t order_bound() const { return bound_; }

  private:
    bool switch_cycle();
    bool swap_rounds();
    bool swap_centers();
    bool move_cell();
    bool rows_valid() const;
    bool row_valid(int g) const;
    static int row_repeats(const std::vector<int>& row);
    void count_row(int g, int sign);
    void count_move(int from, int to, int sign);
    void touch(int g);
    void undo();

    const ChartProblem& problem_;
    const ChartModel& m_;
    base::Random random_;
    Cells cells_;
    ChartScore now_;
    Cells best_;
    ChartScore best_score_;
    std::int64_t bound_ = 0;
    std::vector<int> counts_;   ///< centers x centers neighbour counts
    std::int64_t order_ = 0;    ///< what the counts cost
    std::vector<int> touched_;  ///< groups whose row the current try changed
    Cells saved_;               ///< a row a group: as it was, if touched
    std::vector<int> left_;     ///< devices left in a round, while a move is tried
};

}  // namespace tallyround::plan::detail
