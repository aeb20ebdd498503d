#include <algorithm>
#include <utility>

#include "plan/group.h"
#include "plan/group_anneal.h"
#include "plan/group_place.h"
#include "plan/group_proof.h"

namespace tallyround::plan {

using detail::Answer;
using detail::GroupAnneal;
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

/// The phases in order: place everybody, improve, prove.
struct GroupSearch::Impl {
    Impl(GroupProblem given, std::int64_t work)
        : problem(completed(std::move(given))),
          model(problem, GroupSubset::all(problem)),
          wishes(problem, model),
          windows(detail::size_windows(model, !problem.was.empty())),
          total(std::max<std::int64_t>(work, 1000)) {}

    enum class Phase { place, improve, prove, done };

    GroupProblem problem;
    GroupModel model;
    GroupWishes wishes;
    std::vector<SizeWindow> windows;
    std::int64_t total;
    std::int64_t used = 0;

    Phase phase = Phase::place;
    State state = State::searching;
    std::size_t window_at = 0;
    SizeWindow window;
    bool window_sure = true;  ///< every more even window was proved impossible
    std::optional<GroupAnneal> anneal;
    int run = 0;
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

    /// Tries one size window; the last one decides whether there is a grouping at all.
    std::int64_t place() {
        const bool last = window_at + 1 == windows.size();
        window = windows[window_at];
        std::int64_t nodes = 1;
        Answer answer = Answer::unknown;
        std::optional<GroupPlacer> placer;
        for (std::uint64_t attempt = 0; attempt < 3 && answer == Answer::unknown; ++attempt) {
            placer.emplace(model, &wishes, window);
            const bool long_one = last && attempt == 2;
            answer =
                placer->run(long_one ? nodes_last_window : nodes_a_window, problem.seed + attempt);
            nodes += placer->nodes_used;
        }
        if (answer == Answer::found) {
            start(least_moved(placer->group_of));
        } else if (last) {
            fail(answer);
        } else {
            window_sure = window_sure && answer == Answer::impossible;
            ++window_at;
        }
        return nodes * (1 + std::int64_t(model.items()) * model.groups / 100);
    }

    /// With `was`: a placing with the fewest moved students, by asking for 0, 1, 2, ... moves.
    std::vector<int> least_moved(std::vector<int> found) {
        if (wishes.moved.empty()) return found;
        for (int most = 0; most < problem.students; ++most) {
            GroupPlacer placer(model, &wishes, window, most);
            const Answer answer = placer.run(nodes_last_window, problem.seed);
            if (answer == Answer::found) return placer.group_of;
            if (answer == Answer::unknown) moved_sure = false;
        }
        return found;
    }
    bool moved_sure = true;

    void fail(Answer answer) {
        if (answer == Answer::unknown) {
            finish(State::gave_up);
            return;
        }
        conflict = detail::explain_conflict(problem, 2'000'000);
        finish(State::conflict);
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
        if (check_bound()) return work;
        if (over && ++run >= runs) {
            phase = Phase::prove;
        } else if (over) {
            anneal->back_to_best();
            anneal->start_run(run_length(), temperatures[run]);
        }
        return work;
    }

    /// Group numbers for the anonymous groups of the proof: seats first, then in order.
    void keep_proof(const GroupProof& proof) {
        std::vector<int> group_of(std::size_t(model.items()), -1);
        std::vector<char> taken(std::size_t(model.groups), 0);
        std::vector<int> number(proof.groups().size(), -1);
        for (std::size_t g = 0; g < proof.groups().size(); ++g)
            for (const int item : proof.groups()[g])
                if (model.seat[item] >= 0) taken[number[g] = model.seat[item]] = 1;
        for (std::size_t g = 0; g < proof.groups().size(); ++g) {
            if (number[g] < 0) {
                number[g] = int(std::find(taken.begin(), taken.end(), 0) - taken.begin());
                taken[number[g]] = 1;
            }
            for (const int item : proof.groups()[g])
                group_of[item] = number[g];
        }
        keep(group_of);
    }

    std::int64_t prove() {
        const std::int64_t work = total / 3;
        // With other wishes, groupings with equally few repeats must all be looked at.
        const bool few = wishes.only_repeats() || problem.students <= 12;
        const bool applies = few && even() && wishes.moved.empty();
        if (applies) {
            GroupProof proof(model, wishes, window, best->score);
            // A node sorts the costs between all items that are left.
            const std::int64_t items = model.items();
            proved = proof.run(work / (10 + items * items / 40));
            if (proof.improved()) keep_proof(proof);
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
        } else if (s.phase == Impl::Phase::improve) {
            spent = s.improve(std::min<std::int64_t>(work, 4096));
        } else {
            spent = s.prove();
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
