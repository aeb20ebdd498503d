#pragma once
#include <cstdint>
#include <vector>

#include "base/random.h"
#include "plan/chart_model.h"

namespace tallyround::plan::detail {

/// How much of each soft wish may be given up. -1 = any amount.
struct ChartLimits {
    int idle = -1;
    int changed = -1;
    int repeats = -1;
    int idle_each = -1;  ///< idle cells of one group
    /// Second visits only once a group has been to every center it may visit at all.
    bool late_repeats = false;
};

enum class ChartAnswer { found, impossible, unknown };

/// Complete search for one chart within limits: depth first, the cell with fewest centers left
/// first, with propagation of room, devices, visits, order and matchings per round and per group.
/// Can be stopped after any number of nodes and continued.
class ChartSolver {
  public:
    /// `guide` (empty, or groups x rounds) says which center to try first in a cell.
    ChartSolver(const ChartModel& model, const ChartLimits& limits, ChartOrder order, Cells guide,
                std::uint64_t seed);

    ChartAnswer run(std::int64_t nodes);
    /// After `found`: the next run looks for another chart.
    void go_on() { solved_ = false; }
    std::int64_t nodes_used() const { return nodes_; }
    /// The chart found, all rounds.
    Cells cells() const;

  private:
    struct State {
        std::vector<Mask> dom;
        std::vector<char> set;
        std::vector<int> use;      ///< rounds x centers
        std::vector<int> left;     ///< rounds x devices
        std::vector<int> visits;   ///< groups x centers
        std::vector<int> idle;     ///< per round
        std::vector<int> repeats;  ///< per group
        std::vector<char> row_dirty;
        std::vector<char> round_dirty;
        int idle_total = 0;
        int repeats_total = 0;
    };
    struct Frame {
        State state;
        std::size_t cell = 0;
        std::vector<int> values;
        std::size_t next = 0;
    };

    State start() const;
    bool remove(State& s, int g, int r, Mask values) const;
    bool keep_only(State& s, int g, int r, Mask values) const;
    bool assign_new(State& s) const;
    bool assign(State& s, int g, int r) const;
    bool assign_idle(State& s, int r) const;
    bool assign_center(State& s, int g, int r, int c) const;
    bool propagate(State& s) const;
    bool row_rules(State& s, int g) const;
    bool row_visits(State& s, int g) const;
    bool row_idle(State& s, int g) const;
    Mask rounds_in_time(const State& s, int g, int c) const;
    bool center_rules(const State& s, int c) const;
    bool row_before(State& s, int g) const;
    bool row_repeats(State& s, int g) const;
    bool row_late(State& s, int g) const;
    bool round_rules(State& s, int r) const;
    bool round_singles(State& s, int r, const std::vector<int>& room, int cells_open) const;
    bool changes(State& s) const;
    int future_repeats(const State& s, int g) const;
    bool repeats_fit(const State& s) const;
    int idle_room(const State& s, int r) const;
    void push(State&& s);
    std::vector<int> ordered_values(const State& s, std::size_t cell);
    std::size_t narrowest(const State& s);

    const ChartModel& m_;
    ChartLimits limits_;
    ChartOrder order_;
    Cells guide_;
    base::Random random_;
    std::vector<int> idle_caps_;  ///< per round
    std::vector<int> late_from_;  ///< per group
    std::vector<Frame> stack_;
    std::vector<Mask> solution_;
    bool started_ = false;
    bool solved_ = false;
    std::int64_t nodes_ = 0;
};

}  // namespace tallyround::plan::detail
