#include <algorithm>
#include <utility>

#include "plan/group.h"
#include "plan/group_anneal.h"
#include "plan/group_cover.h"
#include "plan/group_place.h"
#include "plan/group_proof.h"

namespace tallyround::plan {

using detail::Answer;
using detail::GroupAnneal;
using detail::GroupCover;
using detail::GroupModel;
using detail::GroupPlacer;
using detail::GroupProof;
using detail::GroupSubset;
using detail::GroupWishes;
using detail::SizeWindow;

namespace {

constexpr std::int64_t nodes_a_window = 5'000;
constexpr std::int64_t nodes_last_window = 100'000;
// The later runs keep the few repeats that were reached and work on the levels.
constexpr double temperatures[] = {700.0, 700.0, 150.0, 150.0};
constexpr int runs = int(std::size(temperatures));

GroupProblem completed(GroupProblem p) {
    if (p.groups <= 0) p.groups = std::max(1, (p.students + p.size_max - 1) / p.size_max);
    return p;
}

}  // namespace

/// The phases in order: place everybody, improve a while, prove how few repeats there can be,
/// improve on the rest, prove small classes by looking at every grouping.
struct GroupSearch::Impl {
    Impl(GroupProblem given, std::int64_t work)
        : problem(completed(std::move(given))),
          model(problem, GroupSubset::all(problem)),
          wishes(problem, model),
          windows(detail::size_windows(model, !wishes.moved.empty())),
          total(std::max<std::int64_t>(work, 1000)) {}

    enum class Phase { place, least, explain, improve, cover, every, done };

    GroupProblem problem;
    GroupModel model;
    GroupWishes wishes;
    std::vector<SizeWindow> windows;
    std::int64_t total;
    std::int64_t used = 0;

    Phase phase = Phase::place;
    State state = State::searching;
    std::size_t window_at = 0;
    std::uint64_t attempt = 0;  ///< in this window
    std::vector<int> found;     ///< a placing, while fewer moves are looked for
    int most_moved = 0;
    std::int64_t least_nodes = 0;
    std::optional<detail::ConflictSearch> explain;
    SizeWindow window;
    bool window_sure = true;  ///< every more even window was proved impossible
    std::optional<GroupAnneal> anneal;
    int run = 0;
    std::optional<GroupCover> cover;
    std::int64_t bound = 0;
    bool proved = false;
    std::optional<Grouping> best;
    std::optional<GroupConflict> conflict;

    void finish(State end) {
        state = end;
        phase = Phase::done;
    }

    std::vector<std::vector<int>> groups_of(const std::vector<int>& group_of) const {
        std::vector<std::vector<int>> groups(std::size_t(problem.groups));
        for (int i = 0; i < model.items(); ++i)
            for (const int student : model.members[i])
                groups[group_of[i]].push_back(student);
        return groups;
    }

    void keep(const std::vector<int>& group_of) { best = measure(problem, groups_of(group_of)); }

    /// A node looks at all items and groups: very large classes get fewer of them.
    std::int64_t scaled(std::int64_t nodes) const {
        const std::int64_t items = model.items();
        return std::max(2 * items + 100, nodes / (1 + items * model.groups / 600));
    }

    std::int64_t node_work() const { return 1 + std::int64_t(model.items()) * model.groups / 100; }

    /// Tries one size window once; the last one decides whether there is a grouping at all.
    std::int64_t place() {
        const bool last = window_at + 1 == windows.size();
        window = windows[window_at];
        // Further tries with other ties cut off unlucky first choices, where they are cheap.
        const std::uint64_t attempts = model.items() > 100 ? 1 : 3;
        const bool long_one = last && attempt + 1 == attempts;
        GroupPlacer placer(model, &wishes, window);
        const Answer answer = placer.run(scaled(long_one ? nodes_last_window : nodes_a_window),
                                         problem.seed + attempt);
        ++attempt;
        if (answer == Answer::found) {
            place_found(placer.group_of);
        } else if (answer == Answer::impossible || attempt == attempts) {
            if (last) {
                fail(answer);
            } else {
                window_sure = window_sure && answer == Answer::impossible;
                ++window_at;
                attempt = 0;
            }
        }
        return (1 + placer.nodes_used) * node_work();
    }

    void place_found(std::vector<int> group_of) {
        if (wishes.moved.empty()) {
            start(std::move(group_of));
            return;
        }
        found = std::move(group_of);
        least_nodes = scaled(nodes_last_window);
        fewest_moved = true;
        phase = Phase::least;
    }

    /// With `was`: a placing with the fewest moved students, by asking for 0, 1, 2, ... moves.
    std::int64_t move_less() {
        GroupPlacer placer(model, &wishes, window, most_moved);
        // One run cannot be cut: in large classes, where a node is dear, it gets fewer.
        const std::int64_t longest = scaled(nodes_last_window / (model.items() > 60 ? 4 : 1));
        const Answer answer = placer.run(std::min(least_nodes, longest), problem.seed);
        least_nodes -= placer.nodes_used;
        ++most_moved;
        if (answer == Answer::found) {
            start(placer.group_of);
        } else if (most_moved == problem.students || least_nodes <= 0) {
            fewest_moved = false;
            start(std::move(found));
        } else {
            fewest_moved = fewest_moved && answer == Answer::impossible;
        }
        return (1 + placer.nodes_used) * node_work();
    }
    bool fewest_moved = false;  ///< proved, for groups of these sizes

    void fail(Answer answer) {
        if (answer == Answer::unknown) {
            finish(State::gave_up);
            return;
        }
        explain.emplace(problem, 2'000'000);
        phase = Phase::explain;
    }

    std::int64_t explain_on() {
        const std::int64_t spent = explain->step();
        if (spent == 0) {
            conflict = explain->conflict();
            finish(State::conflict);
        }
        return std::max<std::int64_t>(1, spent);
    }

    void start(std::vector<int> group_of) {
        bound = detail::repeat_bound(model, wishes, window.low) + wishes.inside_repeats;
        keep(group_of);
        anneal.emplace(model, wishes, window, std::move(group_of), problem.seed);
        anneal->start_run(run_length(), temperatures[run]);
        phase = Phase::improve;
        check_bound();
    }

    std::int64_t run_length() const {
        return std::max<std::int64_t>(1, total * 2 / 3 / runs / units_an_exchange());
    }

    /// Sizes that differ by more than one leave several windows: then only a zero is a proof.
    bool even() const { return window_sure && window.high - window.low <= 1; }

    /// Whether a count over all groupings says something about repeats: students who would have to
    /// move come before them.
    bool countable() const { return even() && wishes.moved.empty(); }

    bool check_bound() {
        const bool least = even() ? best->score.repeat_cost <= bound
                                  : best->score.repeat_cost <= wishes.inside_repeats;
        if (!wishes.only_repeats() || !least) return false;
        proved = true;
        finish(State::found);
        return true;
    }

    /// An exchange looks at all members of two groups: large groups take more work.
    std::int64_t units_an_exchange() const { return 1 + model.students / model.groups / 8; }

    std::int64_t improve(std::int64_t work) {
        const std::int64_t exchanges = std::max<std::int64_t>(1, work / units_an_exchange());
        work = exchanges * units_an_exchange();
        const bool over = anneal->step(exchanges);
        if (anneal->best_score().better(best->score)) keep(anneal->best());
        if (check_bound() || !over) return work;
        if (++run == 1 && start_cover()) return work;
        go_on();
        return work;
    }

    /// The next run, or the last proof when there is none.
    void go_on() {
        if (run >= runs) {
            phase = Phase::every;
            return;
        }
        phase = Phase::improve;
        anneal->back_to_best();
        anneal->start_run(run_length(), temperatures[run]);
    }

    bool start_cover() {
        const bool open = best->score.repeat_cost > bound && countable() && window.low > 0;
        if (!open || !GroupCover::applies(model)) return false;
        cover.emplace(model, wishes, window, best->score.repeat_cost);
        phase = Phase::cover;
        return true;
    }

    std::int64_t prove_repeats(std::int64_t work) {
        const std::int64_t before = cover->work_done();
        const bool over = cover->step(work);
        const std::int64_t spent = cover->work_done() - before;
        if (!over && cover->work_done() < total / 3) return spent;
        bound = std::max(bound, cover->bound());
        if (!cover->groups().empty()) {
            keep(numbered(cover->groups()));
            anneal.emplace(model, wishes, window, numbered(cover->groups()), problem.seed);
        }
        cover.reset();
        if (!check_bound()) go_on();
        return spent;
    }

    /// Group numbers for the anonymous groups of a proof: seats first, then in order.
    std::vector<int> numbered(const std::vector<std::vector<int>>& groups) const {
        std::vector<int> group_of(std::size_t(model.items()), -1);
        std::vector<char> taken(std::size_t(model.groups), 0);
        std::vector<int> number(groups.size(), -1);
        for (std::size_t g = 0; g < groups.size(); ++g)
            for (const int item : groups[g])
                if (model.seat[item] >= 0) taken[number[g] = model.seat[item]] = 1;
        for (std::size_t g = 0; g < groups.size(); ++g) {
            if (number[g] < 0) {
                number[g] = int(std::find(taken.begin(), taken.end(), 0) - taken.begin());
                taken[number[g]] = 1;
            }
            for (const int item : groups[g])
                group_of[item] = number[g];
        }
        return group_of;
    }

    /// Small classes: groupings with equally few repeats are all looked at.
    std::int64_t look_at_all() {
        const std::int64_t work = total / 3;
        if (problem.students <= 12 && countable()) {
            GroupProof proof(model, wishes, window, best->score);
            // A node sorts the costs between all items that are left.
            const std::int64_t items = model.items();
            proved = proof.run(work / (10 + items * items / 40));
            if (proof.improved()) keep(numbered(proof.groups()));
            if (proved) bound = best->score.repeat_cost;
        }
        finish(State::found);
        return work;
    }
};

GroupSearch::GroupSearch(GroupProblem problem, std::int64_t work)
    : impl_(std::make_unique<Impl>(std::move(problem), work)) {}
GroupSearch::~GroupSearch() = default;
GroupSearch::GroupSearch(GroupSearch&&) noexcept = default;
GroupSearch& GroupSearch::operator=(GroupSearch&&) noexcept = default;

bool GroupSearch::step(std::int64_t work) {
    Impl& s = *impl_;
    while (work > 0 && s.phase != Impl::Phase::done) {
        std::int64_t spent = 0;
        if (s.phase == Impl::Phase::place) {
            spent = s.place();
        } else if (s.phase == Impl::Phase::least) {
            spent = s.move_less();
        } else if (s.phase == Impl::Phase::explain) {
            spent = s.explain_on();
        } else if (s.phase == Impl::Phase::improve) {
            spent = s.improve(std::min<std::int64_t>(work, 4096));
        } else if (s.phase == Impl::Phase::cover) {
            spent = s.prove_repeats(std::min<std::int64_t>(work, 4096));
        } else {
            spent = s.look_at_all();
        }
        s.used += spent;
        work -= spent;
    }
    return s.phase == Impl::Phase::done;
}

GroupSearch::State GroupSearch::state() const {
    return impl_->state;
}

double GroupSearch::progress() const {
    if (impl_->phase == Impl::Phase::done) return 1.0;
    return std::min(0.99, double(impl_->used) / double(impl_->total));
}

const std::optional<Grouping>& GroupSearch::best() const {
    return impl_->best;
}

const std::optional<GroupConflict>& GroupSearch::conflict() const {
    return impl_->conflict;
}

bool GroupSearch::proved_best() const {
    return impl_->proved;
}

bool GroupSearch::proved_fewest_moved() const {
    return impl_->fewest_moved;
}

std::int64_t GroupSearch::repeat_bound() const {
    return impl_->bound;
}

GroupSearch solve_groups(const GroupProblem& problem, std::int64_t work) {
    GroupSearch search(problem, work);
    while (!search.step(1'000'000)) {
    }
    return search;
}

}  // namespace tallyround::plan
