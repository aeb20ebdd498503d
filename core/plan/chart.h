#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace tallyround::plan {

inline constexpr int idle = -1;     ///< a group without a center in a round
inline constexpr int gone = -2;     ///< in `done` and `was`: a center that is no longer there
inline constexpr int unknown = -3;  ///< in `was`: this cell had no plan

/// One center: how many groups it holds at once and how much of each device one group at it needs.
struct ChartCenter {
    int holds = 1;
    std::vector<int> needs;  ///< one number a device of `stock`; or empty
};

/// A rule about centers and rounds; rounds count from 0 here. `groups` empty means every group.
struct ChartRule {
    enum class Kind {
        must_visit,      ///< each group is at `center` at least once
        before,          ///< no visit to `then` without an earlier one to `center`
        not_in_round,    ///< nobody at `center` in `round` (the aide leaves)
        visit_in_round,  ///< at `center` in `round`: a pinned cell
        at_most,         ///< at `center` at most `times` times
        /// At `center` only in `rounds`: its helper is there in those alone. One helper for two
        /// centers is, besides, a device of which there is one.
        only_in_rounds
    };
    Kind kind = Kind::must_visit;
    int center = 0;
    int then = 0;
    int round = 0;
    int times = 1;
    std::vector<int> groups;
    std::vector<int> rounds;  ///< of only_in_rounds
};

enum class ChartOrder {
    any,
    cyclic,   ///< from each center to the next in the list, and from the last to the first
    balanced  ///< every ordered pair of neighbouring centers about equally often (Williams 1949)
};

/// A row a group, a column a round: a center's number, or `idle`.
using Cells = std::vector<std::vector<int>>;

/// Groups x rounds. `done` rows are what each group already did (shorter rows are behind); they
/// stay and count as visits. `was` is the whole earlier chart; then the rest changes least.
struct ChartProblem {
    int groups = 0;
    int rounds = 0;
    std::vector<ChartCenter> centers;
    std::vector<int> stock;  ///< how many of each device there are
    std::vector<ChartRule> rules;
    ChartOrder order = ChartOrder::any;
    Cells done;
    Cells was;
    std::uint64_t seed = 1;
};

/// The largest problems a search takes.
inline constexpr int most_chart_groups = 60;
inline constexpr int most_chart_rounds = 40;
inline constexpr int most_chart_centers = 60;

/// What a chart is worth; compared from the first to the last.
struct ChartScore {
    int idle = 0;       ///< cells without a center
    int early = 0;      ///< second visits while a center not yet visited was free for the group
    int changed = 0;    ///< cells still to come that differ from `was`
    int idle_peak = 0;  ///< most idle cells of one group
    int repeats = 0;    ///< second, third, ... visits of a group to a center
    /// cyclic: moves that do not go to the next center; balanced: sum over ordered pairs of
    /// neighbours of (times it occurs)^2, a pair of equal centers counting double; any: 0.
    std::int64_t order = 0;

    bool better(const ChartScore& other) const;
    friend bool operator==(const ChartScore&, const ChartScore&) = default;
};

/// Measures any chart of the problem's shape.
ChartScore measure(const ChartProblem& problem, const Cells& cells);

/// What is wrong with a chart: numbers of broken rules, and rounds where a center or the stock of
/// a device is overfull. Cells that are done are facts and break nothing.
struct ChartFaults {
    std::vector<int> rules;
    std::vector<int> overfull_rounds;
    bool done_changed = false;
    bool none() const { return rules.empty() && overfull_rounds.empty() && !done_changed; }
};
ChartFaults faults(const ChartProblem& problem, const Cells& cells);

/// How often a group moves from center a to center b between neighbouring rounds:
/// centers x centers counts.
std::vector<std::vector<int>> neighbour_counts(const ChartProblem& problem, const Cells& cells);

/// Rules that cannot all hold for these groups. `minimal`: dropping any one rule or group
/// resolves it. `needs_holds` / `needs_stock`: more room or devices would resolve it, too.
struct ChartConflict {
    std::vector<int> groups;
    std::vector<int> rules;
    bool needs_holds = false;
    bool needs_stock = false;
    bool minimal = true;
};

/// The Williams design (Williams 1949, Australian Journal of Scientific Research A 2: 149-168):
/// n rows for even n, 2n for odd n; every ordered pair of different neighbours occurs equally
/// often (once, twice).
Cells williams(int n);

/// The search. It can be run in slices: call `step` until it returns true. The result depends on
/// the problem, its seed and `work` only. One unit of work is about 2 microseconds native.
/// Requires numbers in range and a problem within the largest sizes.
class ChartSearch {
  public:
    enum class State { searching, found, conflict, gave_up };

    explicit ChartSearch(ChartProblem problem, std::int64_t work = 60'000);
    ~ChartSearch();
    ChartSearch(ChartSearch&&) noexcept;
    ChartSearch& operator=(ChartSearch&&) noexcept;

    bool step(std::int64_t work);
    State state() const;
    double progress() const;  ///< 0 .. 1

    /// The best chart so far, all rounds including those done.
    const std::optional<Cells>& best() const;
    const ChartScore& score() const;
    /// What is proved: with equal values before it, no chart is below a value here.
    const ChartScore& bounds() const;
    const std::optional<ChartConflict>& conflict() const;
    bool proved_idle() const;     ///< no chart that keeps the rules has fewer idle cells
    bool proved_changed() const;  ///< nor, with that, fewer changed cells
    bool proved_repeats() const;  ///< nor, with that, fewer second visits
    bool proved_best() const;     ///< all of these, and the order cannot be better

  private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// Runs a search to its end.
ChartSearch solve_chart(const ChartProblem& problem, std::int64_t work = 60'000);

}  // namespace tallyround::plan
