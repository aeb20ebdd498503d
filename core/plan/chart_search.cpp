#include <algorithm>
#include <utility>

#include "plan/chart.h"
#include "plan/chart_conflict.h"
#include "plan/chart_free.h"
#include "plan/chart_pattern.h"
#include "plan/chart_polish.h"
#include "plan/chart_solver.h"

namespace tallyround::plan {

using detail::ChartAnswer;
using detail::ChartLimits;
using detail::ChartModel;
using detail::ChartPattern;
using detail::ChartPolish;
using detail::ChartSolver;

namespace {

constexpr std::int64_t units_a_node = 3;
constexpr std::int64_t first_restart = 250;
constexpr int usual_cells = 36;
constexpr std::int64_t units_a_pattern = 5;
constexpr int polish_stages = 60;
constexpr double polish_hot = 3.0;
constexpr double polish_cooling = 0.92;

}  // namespace

/// The phases in order: patterns, fewest idle cells, fewest changes, fewest second visits, order.
struct ChartSearch::Impl {
    Impl(ChartProblem given, std::int64_t work)
        : problem(std::move(given)),
          model(problem),
          pattern(problem, model, problem.seed),
          guide(pattern.guide()),
          total(std::max<std::int64_t>(work, 1000)),
          scale(std::max(1, problem.groups * problem.rounds / usual_cells)) {
        idle_bound = detail::idle_bound(model);
        bounds.idle = idle_bound;
        limits.idle = idle_bound;
        limits.repeats = detail::repeat_bound(model, idle_bound);
        limits.late_repeats = true;
        limits.idle_each = fair_share(idle_bound);
        if (!problem.was.empty()) limits = {idle_bound, 0, -1, -1, false};
    }

    enum class Phase {
        patterns,
        quick,
        feasible,
        fewer_idle,
        later_repeats,
        fewer_changes,
        fairer_idle,
        fewer_repeats,
        polish,
        done
    };

    ChartProblem problem;
    ChartModel model;
    ChartPattern pattern;
    Cells guide;
    std::int64_t total;
    std::int64_t scale;  ///< a large chart takes more time a node
    std::int64_t used = 0;

    Phase phase = Phase::patterns;
    State state = State::searching;
    int idle_bound = 0;
    ChartLimits limits;
    bool late = false;  ///< second visits can wait until every center was visited
    std::optional<ChartSolver> solver;
    std::int64_t solver_left = 0;   ///< nodes for these limits, over all restarts
    std::int64_t restart_left = 0;  ///< nodes until the search starts anew with other ties
    std::int64_t restart_nodes = 0;
    std::uint64_t restart = 0;
    std::optional<ChartPolish> polish;
    int polish_stage = 0;
    double temperature = polish_hot;

    std::optional<Cells> best;
    ChartScore score;
    ChartScore bounds;  ///< proved so far
    std::optional<ChartConflict> conflict;

    void keep(Cells cells) {
        detail::settle(problem, model, cells);
        const ChartScore found = detail::measure(problem, model, cells);
        if (best && !found.better(score)) return;
        best = std::move(cells);
        score = found;
    }

    void finish(State end) {
        state = end;
        phase = Phase::done;
    }

    int fair_share(int idle_cells) const {
        return (idle_cells + problem.groups - 1) / problem.groups;
    }

    /// Nothing before the order can be improved.
    bool first_wishes_met() const {
        return best && score.idle <= idle_bound && score.early == 0 && score.changed == 0 &&
               score.idle_peak <= fair_share(idle_bound) &&
               score.repeats <= detail::repeat_bound(model, idle_bound);
    }

    std::int64_t try_pattern() {
        if (!pattern.more()) {
            phase = Phase::quick;
            return 1;
        }
        if (auto cells = pattern.attempt()) {
            keep(std::move(*cells));
            if (first_wishes_met()) start_polish();
        }
        return units_a_pattern * scale;
    }

    /// Runs the solver for the current limits; `decided` is called with its answer. Restarts with
    /// doubling lengths cut off unlucky first choices (Gomes, Selman and Kautz 1998); whichever
    /// run covers its whole space has proved that there is nothing.
    template <class Decided>
    std::int64_t solve(std::int64_t work, std::int64_t most, Decided decided) {
        if (solver_left <= 0) {
            solver_left = std::max<std::int64_t>(50, most / units_a_node / scale);
            restart_nodes = first_restart;
            restart = 0;
        }
        if (!solver) {
            solver.emplace(model, limits, problem.order, guide, problem.seed + restart++);
            restart_left = restart_nodes;
            restart_nodes *= 2;
        }
        const std::int64_t before = solver->nodes_used();
        const std::int64_t nodes = std::min(
            {solver_left, restart_left, std::max<std::int64_t>(1, work / units_a_node / scale)});
        ChartAnswer answer = solver->run(nodes);
        const std::int64_t spent = std::max<std::int64_t>(1, solver->nodes_used() - before);
        solver_left -= spent;
        restart_left -= spent;
        if (answer == ChartAnswer::found && too_early(solver->cells())) {
            solver->go_on();
            answer = ChartAnswer::unknown;
        }
        if (answer == ChartAnswer::found) keep(solver->cells());
        const bool over = answer != ChartAnswer::unknown || solver_left <= 0;
        if (over || restart_left <= 0) solver.reset();
        if (over) {
            solver_left = 0;
            decided(answer);
        }
        return units_a_node * scale * spent;
    }

    /// Fewer changes do not make up for earlier second visits.
    bool too_early(const Cells& cells) const {
        return phase == Phase::fewer_changes && !limits.late_repeats &&
               detail::early_repeats(model, cells) > score.early;
    }

    /// Everything at its bound at once: the usual case.
    std::int64_t quick(std::int64_t work) {
        return solve(work, total / 8, [&](ChartAnswer answer) {
            if (answer == ChartAnswer::found && first_wishes_met()) {
                start_polish();
                return;
            }
            limits = {};
            phase = Phase::feasible;
        });
    }

    std::int64_t feasible(std::int64_t work) {
        return solve(work, total / 2, [&](ChartAnswer answer) {
            if (answer == ChartAnswer::impossible) {
                conflict = detail::explain_conflict(problem, 60'000);
                finish(State::conflict);
            } else if (!best) {
                finish(State::gave_up);
            } else {
                phase = Phase::fewer_idle;
                limits.idle = idle_bound;
            }
        });
    }

    std::int64_t lower_idle(std::int64_t work) {
        if (limits.idle >= score.idle) {
            if (bounds.idle > score.idle) bounds.idle = score.idle;
            limits.idle = score.idle;
            limits.late_repeats = score.early > 0;
            phase = Phase::later_repeats;
            return 1;
        }
        return solve(work, total / 6, [&](ChartAnswer answer) {
            if (answer == ChartAnswer::impossible && bounds.idle == limits.idle) ++bounds.idle;
            if (limits.idle < score.idle) ++limits.idle;
        });
    }

    /// A chart in which second visits come after the first ones, if the best so far has early ones.
    std::int64_t later_repeats(std::int64_t work) {
        const auto go_on = [&] {
            late = limits.late_repeats && score.early == 0;
            limits.late_repeats = late;
            limits.changed = problem.was.empty() ? -1 : 0;
            phase = Phase::fewer_changes;
        };
        if (limits.late_repeats) return solve(work, total / 6, [&](ChartAnswer) { go_on(); });
        go_on();
        return 1;
    }

    std::int64_t lower_changed(std::int64_t work) {
        if (problem.was.empty() || limits.changed >= score.changed) {
            if (!problem.was.empty()) limits.changed = score.changed;
            limits.late_repeats = late;
            bounds.idle_peak = fair_share(score.idle);
            limits.idle_each = bounds.idle_peak;
            phase = Phase::fairer_idle;
            return 1;
        }
        return solve(work, total / 4, [&](ChartAnswer answer) {
            // What comes late is quick to find; whether there is anything else, takes all charts.
            if (answer != ChartAnswer::found && limits.late_repeats) {
                limits.late_repeats = false;
                return;
            }
            if (answer == ChartAnswer::impossible && bounds.changed == limits.changed)
                ++bounds.changed;
            if (limits.changed < score.changed) ++limits.changed;
            limits.late_repeats = late;
        });
    }

    std::int64_t fairer_idle(std::int64_t work) {
        if (limits.idle_each >= score.idle_peak) {
            limits.idle_each = score.idle_peak;
            limits.repeats = detail::repeat_bound(model, score.idle);
            bounds.repeats = limits.repeats;
            phase = Phase::fewer_repeats;
            return 1;
        }
        return solve(work, total / 6, [&](ChartAnswer answer) {
            const bool sure = answer == ChartAnswer::impossible && !limits.late_repeats;
            if (sure && bounds.idle_peak == limits.idle_each) ++bounds.idle_peak;
            if (limits.idle_each < score.idle_peak) ++limits.idle_each;
        });
    }

    std::int64_t lower_repeats(std::int64_t work) {
        if (limits.repeats >= score.repeats) {
            start_polish();
            return 1;
        }
        return solve(work, total / 6, [&](ChartAnswer answer) {
            const bool sure = answer == ChartAnswer::impossible && !limits.late_repeats;
            if (sure && bounds.repeats == limits.repeats) ++bounds.repeats;
            if (answer == ChartAnswer::found) {
                limits.repeats = std::max(limits.repeats + 1, score.repeats);
            } else {
                ++limits.repeats;
            }
        });
    }

    void start_polish() {
        if (score.changed == 0) bounds.changed = 0;
        if (score.idle_peak <= fair_share(score.idle)) bounds.idle_peak = score.idle_peak;
        if (score.idle == idle_bound) bounds.idle = score.idle;
        bounds.repeats = std::max(bounds.repeats, detail::repeat_bound(model, score.idle));
        phase = Phase::polish;
        polish.emplace(problem, model, *best, problem.seed);
        bounds.order = polish->order_bound();
    }

    std::int64_t improve_order() {
        const bool wanted = problem.order != ChartOrder::any && problem.was.empty() &&
                            score.order > bounds.order && polish_stage < polish_stages;
        if (!wanted) {
            keep(Cells(*best));
            finish(State::found);
            return 1;
        }
        const std::int64_t tries = std::max<std::int64_t>(10, total / 2 / polish_stages / scale);
        polish->step(tries, temperature);
        temperature *= polish_cooling;
        ++polish_stage;
        if (polish->best_score().better(score)) {
            best = polish->best();
            score = polish->best_score();
        }
        return tries * scale;
    }

    std::int64_t advance(std::int64_t work) {
        // Many small steps towards a bound must not take much longer than was asked for.
        if (used > 2 * total && best && phase < Phase::polish) start_polish();
        switch (phase) {
            case Phase::patterns:
                return try_pattern();
            case Phase::quick:
                return quick(work);
            case Phase::feasible:
                return feasible(work);
            case Phase::fewer_idle:
                return lower_idle(work);
            case Phase::later_repeats:
                return later_repeats(work);
            case Phase::fewer_changes:
                return lower_changed(work);
            case Phase::fairer_idle:
                return fairer_idle(work);
            case Phase::fewer_repeats:
                return lower_repeats(work);
            case Phase::polish:
                return improve_order();
            case Phase::done:
                break;
        }
        return 1;
    }
};

ChartSearch::ChartSearch(ChartProblem problem, std::int64_t work)
    : impl_(std::make_unique<Impl>(std::move(problem), work)) {}
ChartSearch::~ChartSearch() = default;
ChartSearch::ChartSearch(ChartSearch&&) noexcept = default;
ChartSearch& ChartSearch::operator=(ChartSearch&&) noexcept = default;

bool ChartSearch::step(std::int64_t work) {
    while (work > 0 && impl_->phase != Impl::Phase::done) {
        const std::int64_t spent = impl_->advance(work);
        impl_->used += spent;
        work -= spent;
    }
    return impl_->phase == Impl::Phase::done;
}

ChartSearch::State ChartSearch::state() const {
    return impl_->state;
}

double ChartSearch::progress() const {
    if (impl_->phase == Impl::Phase::done) return 1.0;
    return std::min(0.99, double(impl_->used) / double(impl_->total));
}

const std::optional<Cells>& ChartSearch::best() const {
    return impl_->best;
}

const ChartScore& ChartSearch::score() const {
    return impl_->score;
}

const ChartScore& ChartSearch::bounds() const {
    return impl_->bounds;
}

const std::optional<ChartConflict>& ChartSearch::conflict() const {
    return impl_->conflict;
}

bool ChartSearch::proved_idle() const {
    return impl_->best && impl_->bounds.idle >= impl_->score.idle;
}

bool ChartSearch::proved_changed() const {
    return proved_idle() && impl_->bounds.changed >= impl_->score.changed;
}

bool ChartSearch::proved_repeats() const {
    return proved_changed() && impl_->bounds.idle_peak >= impl_->score.idle_peak &&
           impl_->bounds.repeats >= impl_->score.repeats && impl_->score.early == 0;
}

bool ChartSearch::proved_best() const {
    return proved_repeats() && impl_->score.order <= impl_->bounds.order;
}

ChartSearch solve_chart(const ChartProblem& problem, std::int64_t work) {
    ChartSearch search(problem, work);
    while (!search.step(1'000'000)) {
    }
    return search;
}

}  // namespace tallyround::plan
