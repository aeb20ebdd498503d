#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "plan/group.h"
#include "session/command.h"
#include "session/derived.h"
#include "session/obstacle.h"

namespace tallyround::session {

// From a class and its block to the planner's students, groups and rules, and back to words.

/// Whose seats are looked at.
enum class Whom { present, everybody };

/// A grouping's problem and what its numbers stand for. Those who left are never in it; a rule of
/// somebody who is not in it does not count, nor does a partner who is away today.
struct Seating {
    Seating(const Class& cls, const Block& block, Whom whom);

    std::vector<StudentId> ids;  ///< by the planner's numbers
    std::map<StudentId, int> number;
    /// Rules, earlier groupings and the locked groups as they are; no levels, needs or `was`.
    plan::GroupProblem problem;
    std::vector<BlockId> past;     ///< of each entry of problem.past
    std::vector<Pair> apart;       ///< of each entry of problem.apart
    std::vector<Pair> together;    ///< of each entry of problem.together
    std::vector<Company> company;  ///< of each entry of problem.with_one_of, whoever is away, too
    std::vector<int> helpers;      ///< of each entry of problem.helpers: its place in the block
    /// Rules that cannot count today, as sentences.
    std::vector<std::string> notes;

    /// Those of `groups` who are in the problem, as numbers; a list a group.
    std::vector<std::vector<int>> numbers(const Groups& groups) const;
    Groups groups(const std::vector<std::vector<int>>& numbers) const;

  private:
    void add_pairs(const Class& cls);
    void add_company(const Class& cls, const Block& block);
    void add_past(const Class& cls, const Block& block);
    void add_group_rules(const Block& block);
    void add_helpers(const Block& block, int rounds);
};

/// The estimates of the block's skills: a mean level a student (not a number without marks) and
/// the skills that need time, so that those who share one sit together for the teacher's center.
void add_evidence(Seating& seating, const Block& block, const Standings& standings,
                  GroupPolicy policy);

/// The fewest groups that hold everybody at `size` in a group, beside the locked groups, and that
/// have every group that a rule names.
int fewest_groups(const Seating& seating, int size);
/// "4, 4, 4, 3": how many in each group, the largest first, with so many groups.
std::string sizes_text(int students, int groups);

/// The round numbers in which the helper is there, of `rounds` in all; all of them when none is
/// named.
std::vector<int> helper_rounds(const Helper& helper, int rounds);

/// Every rule that the block's groups keep to, those of the class first, in words and each with
/// the wish that takes it away.
std::vector<Obstacle> group_rules(const Class& cls, const Block& block);
/// One rule of a seating's problem.
Obstacle rule_words(const Class& cls, const Block& block, const Seating& seating,
                    const plan::GroupRule& rule);

/// Why there is no grouping.
struct Trouble {
    std::string text;
    std::vector<Obstacle> rules;
};
Trouble trouble_of(const Class& cls, const Block& block, const Seating& seating,
                   const plan::GroupConflict& conflict);

/// A student whom new groups seat elsewhere; -1: in no group.
struct SeatChange {
    StudentId student;
    int from = -1;
    int to = -1;
};
std::vector<SeatChange> changes_of(const Class& cls, const Block& block, const Groups& groups);

/// What a teacher should know of a grouping's repeats: "2 pairs met in an earlier block, the
/// fewest there can be.". Empty without earlier groups.
std::string repeats_text(const plan::GroupSearch& search, bool any_past);

}  // namespace tallyround::session
