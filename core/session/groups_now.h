#pragma once
#include <string>
#include <vector>

#include "session/seating.h"

namespace tallyround::session {

/// What one change of seats would do to every wish.
struct SeatEffect {
    /// The weightiest of what would come of it.
    enum class Kind { breaks, parts, more_repeats, fewer_repeats, same };
    Kind kind = Kind::same;
    std::vector<std::string> broken;  ///< rules that hold now and would not any more
    std::vector<std::string> mended;  ///< rules that do not hold now and would
    int repeats = 0;                  ///< repeated pairs more (or fewer) in the whole class
    int shared_needs = 0;             ///< pairs more that share a need
    int level = 0;                    ///< hundredths: by the policy, more is worse
    std::string brief;                ///< at most a few words, for a chip
    std::string text;                 ///< the effect on every wish, one or more sentences
};

/// The block's groups as they are: what they are worth, what a change would do, why they are so.
class GroupsNow {
  public:
    GroupsNow(const Class& cls, const Block& block, const Standings& standings, GroupPolicy policy);

    const plan::Grouping& grouping() const { return now_; }
    /// Rules that do not hold now, in words, each with the wish that takes it away.
    const std::vector<Obstacle>& broken() const { return broken_; }
    /// "2 pairs met in an earlier block."; empty without earlier groups.
    const std::string& repeats() const { return repeats_; }
    /// Levels and rules: "Mean levels of groups differ by at most 4 in 100. Every rule is kept."
    const std::string& rest() const { return rest_; }

    /// `a` and `b` change places (one of them may be without a group).
    SeatEffect swap(const Class& cls, const Block& block, const StudentId& a,
                    const StudentId& b) const;
    SeatEffect move(const Class& cls, const Block& block, const StudentId& student,
                    int group) const;

    /// Why a group is as it is: repeats and what other placings would cost, levels, needs, rules,
    /// helpers. One sentence a line.
    std::vector<std::string> why(const Class& cls, const Block& block, int group) const;

  private:
    SeatEffect effect(const Class& cls, const Block& block,
                      std::vector<std::vector<int>> groups) const;

    Seating seating_;
    std::vector<plan::GroupRule> broken_rules_;
    std::vector<Obstacle> broken_;
    plan::Grouping now_;
    std::string repeats_;
    std::string rest_;
};

/// Who has the helper when: "Round 1: Group 2 (Ana and Bo)", one line a stretch of rounds; for
/// every helper of the block. Groups without a turn are named at the end.
std::vector<std::string> helper_lines(const Class& cls, const Block& block);

}  // namespace tallyround::session
