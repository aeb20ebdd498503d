#pragma once
#include <optional>

#include "session/chart_plan.h"

namespace tallyround::session {

/// A chart being planned, in slices: `chart_for` runs it to its end. Copies what it needs.
class ChartWork {
  public:
    ChartWork(model::Block wanted, std::uint64_t seed, bool fresh);
    /// True when it is over. One unit of work is about 2 microseconds native.
    bool step(std::int64_t work);
    double progress() const;
    base::Result<Charted> finish() const;
    /// After a `finish` that failed: the rules in the way, if that is what it was.
    std::optional<ChartTrouble> trouble() const;
    /// The rule at this place of the block's list, in words.
    std::string rule_words(std::size_t rule) const {
        return rule_text(wanted_, wanted_.chart_rules.rules[rule]);
    }

  private:
    model::Block wanted_;
    ChartQuestion question_;
    std::optional<base::Error> refused_;  ///< nothing to search
    std::optional<plan::ChartSearch> search_;
};

}  // namespace tallyround::session
