#include "plan/partners.h"

#include <algorithm>
#include <utility>

#include "plan/design.h"
#include "plan/partners_local.h"

namespace tallyround::plan {

using detail::BaseSearch;
using detail::CyclicShape;
using detail::Design;
using detail::PairKind;
using detail::PartnersLocal;

namespace {

constexpr std::int64_t units_a_base_exchange = 4;
constexpr std::int64_t rename_tries = 20'000;

/// One run of the local search: how hot it starts and ends, and whether the constructed blocks
/// are held while only the others are improved.
struct Run {
    double hot;
    double cold;
    bool hold;
};
constexpr Run runs[] = {{0.8, 0.12, true},  {0.35, 0.12, false}, {0.8, 0.12, false},
                        {0.5, 0.12, false}, {0.3, 0.1, false},   {0.4, 0.1, false}};
constexpr int run_count = int(std::size(runs));

}  // namespace

Partners measure(const PartnersProblem& p, std::vector<Block> blocks) {
    Partners out;
    const auto kinds = detail::pair_kinds(p);
    const int n = p.students;
    std::vector<int> meets(std::size_t(n) * std::size_t(n), 0);
    for (const Block& block : blocks)
        for (const auto& group : block)
            for (const int a : group)
                for (const int b : group)
                    if (a < b) ++meets[std::size_t(a) * std::size_t(n) + std::size_t(b)];
    // Blocks already taught are facts: only those to come can keep or break a rule.
    const auto taught = detail::fixed_meetings(p);
    const int coming = int(blocks.size()) - int(p.fixed.size());
    for (std::size_t pair = 0; pair < meets.size(); ++pair) {
        const bool counts = pair / std::size_t(n) < pair % std::size_t(n);
        if (!counts) continue;
        out.distinct_pairs += meets[pair] > 0;
        const int now = meets[pair] - taught[pair];
        if (kinds[pair] == PairKind::apart) out.broken_pairs += now;
        if (kinds[pair] == PairKind::together) out.broken_pairs += coming - now;
        if (kinds[pair] != PairKind::together) out.repeat_pairs += std::max(0, meets[pair] - 1);
    }
    out.blocks = std::move(blocks);
    return out;
}

/// The phases in order: constructions, a difference family, local search.
struct PartnersSearch::Impl {
    Impl(PartnersProblem given, std::int64_t work)
        : problem(std::move(given)),
          wanted(std::max(0, problem.blocks - int(problem.fixed.size()))),
          ruled(!problem.apart.empty() || !problem.together.empty()),
          total(std::max<std::int64_t>(work, 10'000)),
          local(problem, problem.seed) {
        const int groups = int(block_sizes(problem.students, problem.size).size());
        points = groups * problem.size;
        if (ruled || !problem.fixed.empty()) return;
        bound = bound_repeats(problem.students, problem.size, problem.blocks);
    }

    enum class Phase { construct, develop, improve, done };

    PartnersProblem problem;
    int wanted;
    bool ruled;
    std::int64_t total;
    int points = 0;
    int bound = 0;
    std::int64_t used = 0;
    Phase phase = Phase::construct;
    std::vector<Block> clean;  ///< most blocks without a repeat that a construction gave
    std::optional<Partners> best;
    std::vector<CyclicShape> shapes;
    std::optional<BaseSearch> base;
    std::int64_t base_left = 0;
    PartnersLocal local;
    int run = -1;

    bool perfect() const { return best && best->broken_pairs == 0 && best->repeat_pairs <= bound; }

    void keep(std::vector<Block> blocks) {
        std::vector<Block> all = problem.fixed;
        for (Block& block : blocks)
            all.push_back(std::move(block));
        Partners found = measure(problem, std::move(all));
        const auto rank = [](const Partners& x) {
            return std::pair(x.broken_pairs, x.repeat_pairs);
        };
        if (best && rank(found) >= rank(*best)) return;
        best = std::move(found);
        if (perfect()) phase = Phase::done;
    }

    /// Takes a design on, if it gives more clean blocks than the ones before.
    void offer(const Design& design) {
        auto blocks = detail::without_points(design, problem.students);
        if (int(blocks.size()) > wanted) blocks.resize(std::size_t(wanted));
        if (blocks.size() <= clean.size()) return;
        if (ruled || !problem.fixed.empty())
            detail::rename_students(problem, blocks, rename_tries, problem.seed);
        clean = std::move(blocks);
        if (int(clean.size()) == wanted) keep(clean);
    }

    std::int64_t construct() {
        const bool sensible = points - problem.students < problem.size && problem.size >= 2 &&
                              block_sizes(problem.students, problem.size).front() == problem.size;
        if (sensible) {
            if (problem.size == 2 && points >= 2) offer(detail::round_robin(points));
            if (const auto design = detail::lines(points, problem.size)) offer(*design);
            shapes = detail::cyclic_shapes(points, problem.size);
        }
        if (phase == Phase::done) return 1;
        phase = Phase::develop;
        base_left = total / 3 / units_a_base_exchange;
        return 1 + rename_tries;
    }

    /// Looks for a base block of the first shape; the next shape gives fewer blocks.
    std::int64_t develop(std::int64_t work) {
        const bool enough = shapes.empty() || base_left <= 0 || int(clean.size()) >= wanted ||
                            shapes.front().modulus <= int(clean.size());
        if (enough) {
            phase = Phase::improve;
            return 1;
        }
        const CyclicShape shape = shapes.front();
        if (const auto known = detail::known_base(shape, problem.size)) {
            offer(detail::develop(shape, problem.size, *known));
            shapes.clear();
            return 1;
        }
        if (!base) base.emplace(shape, problem.size, problem.seed);
        const std::int64_t tries =
            std::min(base_left, std::max<std::int64_t>(1, work / units_a_base_exchange));
        const bool found = base->step(tries);
        base_left -= tries;
        if (found) {
            offer(detail::develop(shape, problem.size, base->base()));
            shapes.clear();
        }
        return tries * units_a_base_exchange;
    }

    void next_run() {
        ++run;
        const Run& r = runs[std::size_t(run % run_count)];
        const std::int64_t length = std::max<std::int64_t>(1'000, total / 2 / run_count);
        const auto& fixed = problem.fixed;
        // The later runs start from the best found so far.
        if (r.hold || !best) {
            local.start(clean, r.hold ? int(clean.size()) : 0, r.hot, r.cold, length);
            return;
        }
        const std::vector<Block> coming(best->blocks.begin() + std::ptrdiff_t(fixed.size()),
                                        best->blocks.end());
        local.start(coming, 0, r.hot, r.cold, length);
    }

    std::int64_t improve(std::int64_t work) {
        if (run < 0) next_run();
        const std::int64_t part = std::min<std::int64_t>(work, 20'000);
        if (local.step(part)) {
            keep(local.best());
            if (phase == Phase::done) return part;
            if (run + 1 >= run_count) {
                phase = Phase::done;
            } else {
                next_run();
            }
        }
        return part;
    }
};

PartnersSearch::PartnersSearch(PartnersProblem problem, std::int64_t work)
    : impl_(std::make_unique<Impl>(std::move(problem), work)) {}
PartnersSearch::~PartnersSearch() = default;
PartnersSearch::PartnersSearch(PartnersSearch&&) noexcept = default;
PartnersSearch& PartnersSearch::operator=(PartnersSearch&&) noexcept = default;

bool PartnersSearch::step(std::int64_t work) {
    Impl& s = *impl_;
    while (work > 0 && s.phase != Impl::Phase::done) {
        std::int64_t spent = 0;
        if (s.phase == Impl::Phase::construct) {
            spent = s.construct();
        } else if (s.phase == Impl::Phase::develop) {
            spent = s.develop(work);
        } else {
            spent = s.improve(work);
        }
        s.used += spent;
        work -= spent;
    }
    return s.phase == Impl::Phase::done;
}

double PartnersSearch::progress() const {
    if (impl_->phase == Impl::Phase::done) return 1.0;
    return std::min(0.99, double(impl_->used) / double(impl_->total));
}

const std::optional<Partners>& PartnersSearch::best() const {
    return impl_->best;
}

bool PartnersSearch::proved_best() const {
    return impl_->perfect();
}

PartnersSearch solve_partners(const PartnersProblem& problem, std::int64_t work) {
    PartnersSearch search(problem, work);
    while (!search.step(10'000'000)) {
    }
    return search;
}

}  // namespace tallyround::plan
