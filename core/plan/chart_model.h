#pragma once
#include <cstdint>
#include <vector>

#include "plan/chart.h"

namespace tallyround::plan::detail {

/// A set of centers as bits; bit number `centers` stands for idle.
using Mask = std::uint64_t;

struct Before {
    int first = 0;
    int then = 0;
};

/// A chart problem as tables. Cells of a group before `first[group]` are done.
struct ChartModel {
    explicit ChartModel(const ChartProblem& problem);
    /// The same with only some groups and rules, and perhaps without limits on room and devices.
    ChartModel(const ChartProblem& problem, const std::vector<char>& groups_kept,
               const std::vector<char>& rules_kept, bool holds, bool stock);

    int groups = 0;
    int rounds = 0;
    int centers = 0;
    int devices = 0;
    bool impossible = false;
    std::vector<int> first;
    std::vector<int> holds;
    std::vector<std::vector<int>> needs;  ///< centers x devices
    std::vector<int> stock;
    std::vector<Mask> allowed;  ///< groups x rounds
    std::vector<int> limit;     ///< groups x centers: visits still allowed
    std::vector<Mask> must;     ///< per group: centers still to be visited
    std::vector<std::vector<Before>> before;
    std::vector<int> visits;    ///< groups x centers: done
    std::vector<int> was;       ///< groups x rounds, `unknown` where there was no plan
    std::vector<int> base_use;  ///< rounds x centers: done cells there
    std::vector<int> row_of;    ///< number of each group in the problem
    Cells done;

    std::size_t cell(int g, int r) const { return std::size_t(g) * std::size_t(rounds) + r; }
    std::size_t at_center(int row, int c) const {
        return std::size_t(row) * std::size_t(centers) + std::size_t(c);
    }
    Mask idle_bit() const { return Mask{1} << unsigned(centers); }
    Mask all_centers() const { return idle_bit() - 1; }
    /// Fewest idle cells of each round, by room, devices and allowed centers alone.
    std::vector<int> idle_bounds() const;

  private:
    void apply(const ChartRule& rule, const std::vector<int>& number);
};

/// Largest number of lefts that find a place: left i may go to the bits of `choices[i]`, each bit
/// takes `room[bit]`. Augmenting paths (Kuhn 1955).
int most_matched(const std::vector<Mask>& choices, const std::vector<int>& room);

}  // namespace tallyround::plan::detail
