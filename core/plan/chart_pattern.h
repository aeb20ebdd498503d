#pragma once
#include <cstdint>
#include <optional>

#include "base/random.h"
#include "plan/chart_model.h"

namespace tallyround::plan::detail {

/// Charts cut from a pattern of rows (the ring for `cyclic`, a Williams design for `balanced`):
/// each group takes one row, rows and groups matched so that every rule of a group holds. Center
/// names of a balanced pattern are permuted at random from the second try on.
class ChartPattern {
  public:
    ChartPattern(const ChartProblem& problem, const ChartModel& model, std::uint64_t seed);

    /// True while another try makes sense.
    bool more() const;
    /// One try: a chart without faults, or nothing.
    std::optional<Cells> attempt();
    /// The unpermuted pattern, rows dealt to the groups in turn: where to look first.
    Cells guide() const;

  private:
    bool row_allowed(int g, const std::vector<int>& row, const Mask* bits) const;
    bool row_fits(int g, const std::vector<int>& row) const;

    const ChartProblem& problem_;
    const ChartModel& m_;
    base::Random random_;
    Cells rows_;
    int row_room_ = 1;
    std::vector<Mask> bits_;  ///< cells of the rows now tried, one row after the other
    int tries_ = 0;
};

}  // namespace tallyround::plan::detail
