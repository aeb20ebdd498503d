#pragma once
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "model/state.h"
#include "plan/chart.h"

/// A block's chart as the planner sees it, and back in words. Rounds count from 1, groups from 0.
namespace tallyround::session {

/// Rounds that have begun or are over: their part of the chart stays as it was.
int begun_rounds(const model::Block& block);
/// A lesson of this block has begun on some day.
bool has_begun(const model::Block& block);

/// What the planner is asked. Rules that name a closed center, a group that is gone or a round
/// that there is not are left out.
struct ChartQuestion {
    plan::ChartProblem problem;
    std::vector<std::size_t> rules;  ///< of each rule of the problem: its place in the block's list
};
/// `fresh` forgets the earlier chart of the rounds not begun.
ChartQuestion chart_question(const model::Block& block, bool fresh);
/// The block's chart in the planner's numbers, with `question`'s groups and rounds; nothing when
/// its shape is another or it names a center that is closed in a round to come.
std::optional<plan::Cells> chart_cells(const model::Block& block, const ChartQuestion& question);

/// A chart as it would be, planned anew from the first round not begun.
struct Charted {
    model::Chart chart;
    std::string said;     ///< what a teacher should know of it: who goes where, who waits
    std::string quality;  ///< what is proved of it
    int changed = 0;      ///< places still to come that differ from the earlier chart
    bool fewest = false;  ///< proved: no chart changes fewer
};
/// An error names what is in the way. Same block and seed, same chart.
base::Result<Charted> chart_for(const model::Block& wanted, std::uint64_t seed, bool fresh);
/// True when a chart not begun is still whole: right shape, open centers only, each of them used,
/// room and devices for all, every rule kept.
bool chart_holds(const model::Block& block);

/// Rules that cannot all hold.
struct ChartTrouble {
    std::vector<std::size_t> rules;  ///< places in the block's list
    std::vector<int> groups;
    bool room = false;     ///< a center that holds more groups would help
    bool devices = false;  ///< more devices would help
    bool any_one = false;  ///< dropping any one of the rules resolves it
    std::string sentence;
    std::string remedy;  ///< the end of the sentence: what resolves it
};
/// What keeps the block from having a chart, if rules do.
std::optional<ChartTrouble> chart_trouble(const model::Block& wanted);

/// "Group 2 is at Number line in round 3."
std::string rule_text(const model::Block& block, const model::ChartRule& rule);
/// The center's title, with its number where another open one has the same title.
std::string center_words(const model::Block& block, const model::CenterId& id);
/// "Group 1", "Groups 1 and 2".
std::string groups_text(const std::vector<int>& groups);
/// "round 2", "rounds 1, 2 and 4".
std::string rounds_text(const std::vector<int>& rounds);
/// Whether every group sees every center and who waits, in one or two sentences.
std::string chart_facts(const model::Block& block, const model::Chart& chart);
/// What is new and not as it should be when `after` takes the place of the block's chart, one
/// sentence each: twice at a center, a center missed, a rule broken, too many at a center, too
/// few devices.
std::vector<std::string> chart_effects(const model::Block& block, const model::Chart& after);
/// The block's chart with the centers of two groups in one round exchanged.
model::Chart with_swap(const model::Block& block, int round, int group_a, int group_b);

/// Looks, in slices, whether the block's chart could be better.
class ChartCheck {
  public:
    explicit ChartCheck(const model::Block& block);
    /// True when it is done. One unit of work is about 2 microseconds native.
    bool step(std::int64_t work);
    bool done() const { return search_ == nullptr; }
    /// After the last step: one sentence; empty when there is nothing to say.
    const std::string& words() const { return words_; }
    /// After the last step: a better chart is known.
    bool better() const { return better_; }

  private:
    std::unique_ptr<plan::ChartSearch> search_;
    plan::ChartScore now_;
    std::string words_;
    bool better_ = false;
};

}  // namespace tallyround::session
