#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace tallyround::plan {

/// What a teacher wants of the levels in a group. No policy is better in general (Lou et al.
/// 1996, Review of Educational Research 66(4): 423-458 find both useful), so the teacher chooses.
enum class LevelPolicy {
    any,
    mixed,   ///< every group about the same mean level
    similar  ///< levels close together inside each group
};

/// Students are 0 .. students-1 and groups 0 .. groups-1.
///
/// Hard, never broken: at most `size_max` in a group, `apart`, `together`, `seat`, `locked`,
/// `with_one_of`, `helpers`.
/// Sizes differ by as little as those rules allow (by at most one where they do not interfere).
/// Soft, in this order: few moved (only if `was` is given), few repeated partners, levels as the
/// policy says (to within 1/50 of the class's range), shared needs together, levels exactly.
struct GroupProblem {
    /// A student who needs one of `partners` in the group, whichever it is: somebody who shares a
    /// language, a reader, a friend. At least one partner, none of them the student. Whoever is
    /// away today is left out by the caller, in `partners` too.
    struct Company {
        int student = 0;
        std::vector<int> partners;
    };

    /// Students whom a helper goes along with: they share at most `groups` groups. A helper is
    /// with one group in each round and often there in some rounds only: `groups_in_reach` says
    /// how many groups that makes, `helper_rota` who has the helper when. Where the helper stays
    /// at one center instead, that is a rule of the chart (ChartRule::Kind::only_in_rounds).
    struct Helper {
        std::vector<int> students;
        int groups = 1;
    };

    int students = 0;
    int groups = 0;  ///< 0 = as few as hold everybody: students / size_max, rounded up
    int size_max = 4;
    std::vector<std::vector<int>> apart;     ///< no two students of one list in one group
    std::vector<std::vector<int>> together;  ///< all students of one list in one group
    std::vector<int> seat;                   ///< a student's fixed group, -1 = free; or empty
    std::vector<Company> with_one_of;
    std::vector<Helper> helpers;
    std::vector<std::vector<std::vector<int>>> past;  ///< earlier groupings, the latest last
    /// A meeting k groupings back counts recency^(k-1). 0 < recency <= 1.
    double recency = 1.0;
    std::vector<double> level;            ///< one a student, NaN = not known; or empty
    std::vector<std::vector<int>> needs;  ///< skill numbers a student needs; or empty
    LevelPolicy policy = LevelPolicy::any;
    std::vector<std::vector<int>> was;  ///< today's groups before the change; or empty
    std::vector<int> locked;            ///< group numbers of `was` that stay exactly as they are
    std::uint64_t seed = 1;
};

/// How many groups a helper can go along with who is there in `rounds_there` rounds, when each
/// of those groups is to have the helper in at least `rounds_each` of them; 0 = not even one.
int groups_in_reach(int rounds_there, int rounds_each = 1);

/// With which of `groups` (numbers of groups) the helper is in each of `rounds` (the rounds of the
/// helper's presence): one entry a round, the groups in turn, each in one stretch and as equally
/// long as can be; with more groups than rounds the last groups go without. Empty without groups.
std::vector<int> helper_rota(const std::vector<int>& groups, const std::vector<int>& rounds);

/// One rule of a problem. `index` is its place in `apart`, `together`, `with_one_of` or
/// `helpers`, the student of a `seat` or the group that is `locked`; 0 for the two that stand
/// alone.
struct GroupRule {
    enum class Kind { size_max, groups, apart, together, seat, locked, with_one_of, helper };
    Kind kind = Kind::size_max;
    int index = 0;
    friend bool operator==(const GroupRule&, const GroupRule&) = default;
};

/// Rules that cannot all hold, for these students alone. When `minimal`, dropping any one rule or
/// student resolves it; otherwise the search ran out of work and some may be superfluous.
struct GroupConflict {
    std::vector<int> students;
    std::vector<GroupRule> rules;
    bool minimal = true;
};

/// What a grouping is worth; `better` compares in the order of the wishes.
struct GroupScore {
    std::int64_t moved = 0;         ///< students in another group than in `was`
    std::int64_t repeat_cost = 0;   ///< repeated meetings, weighted by recency, in thousandths
    std::int64_t level_step = 0;    ///< the policy's measure in fiftieths, rounded down
    std::int64_t shared_needs = 0;  ///< pairs in a group with a need in common
    double level_cost = 0.0;        ///< the policy's measure

    bool better(const GroupScore& other) const;
};

struct Grouping {
    std::vector<std::vector<int>> groups;  ///< students in ascending order
    int repeat_pairs = 0;  ///< pairs now together that met before, counted once per past meeting
    double level_spread = 0.0;   ///< largest minus smallest group mean of the known levels
    double within_spread = 0.0;  ///< mean over groups of largest minus smallest level
    GroupScore score;
};

/// Measures any grouping of the problem's students, whoever made it.
Grouping measure(const GroupProblem& problem, std::vector<std::vector<int>> groups);

/// Rules that `groups` breaks; empty for everything a search returns.
std::vector<GroupRule> broken_rules(const GroupProblem& problem,
                                    const std::vector<std::vector<int>>& groups);

/// One exchange that was tried from the final grouping: why a group is as it is.
struct GroupReason {
    struct Pair {
        int first = 0;
        int second = 0;
        int past_index = 0;  ///< the latest grouping in which they met
    };
    std::vector<Pair> repeats;  ///< pairs of this group that met before
    /// Fewest repeated meetings over the whole class if any one exchange of a student of this
    /// group with one of another were made; -1 if no exchange keeps the rules.
    int best_other = -1;
};
GroupReason reason(const GroupProblem& problem, const Grouping& grouping, int group);

/// The search. It can be run in slices: call `step` until it returns true. The result depends on
/// the problem, its seed and `work` only, never on how the work was sliced.
///
/// One unit of work is about one exchange tried or one node searched (some 0.3 microseconds
/// native). Requires valid numbers: every student and group in range, no student twice in a list.
class GroupSearch {
  public:
    enum class State { searching, found, conflict, gave_up };

    explicit GroupSearch(GroupProblem problem, std::int64_t work = 400'000);
    ~GroupSearch();
    GroupSearch(GroupSearch&&) noexcept;
    GroupSearch& operator=(GroupSearch&&) noexcept;

    /// Does about `work` units; true when there is nothing more to do.
    bool step(std::int64_t work);
    State state() const;
    double progress() const;  ///< 0 .. 1

    /// The best grouping so far; there may be one long before the end.
    const std::optional<Grouping>& best() const;
    /// Set in state `conflict`.
    const std::optional<GroupConflict>& conflict() const;
    /// True when no grouping that keeps the rules has a better score.
    bool proved_best() const;
    /// With `was`: true when no grouping with sizes like these moves fewer students.
    bool proved_fewest_moved() const;
    /// Proved: no grouping has a repeat_cost below this (thousandths of a meeting).
    std::int64_t repeat_bound() const;

  private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// Runs a search to its end.
GroupSearch solve_groups(const GroupProblem& problem, std::int64_t work = 400'000);

}  // namespace tallyround::plan
