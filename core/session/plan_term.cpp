#include <algorithm>

#include "base/text.h"
#include "plan/partners.h"
#include "session/parts.h"
#include "session/planner.h"
#include "session/seating.h"

namespace tallyround::session {

namespace {

/// A third of a second native; what is left to gain after it is little.
constexpr std::int64_t term_work = 3'000'000;
/// One exchange of partners takes about a third of a unit.
constexpr std::int64_t exchanges_a_unit = 3;

/// The term's groups, of which the first ones are for the block being planned.
class PlanningTerm : public Planning {
  public:
    PlanningTerm(const PlanTerm& wish, Seating seating, plan::PartnersProblem problem)
        : wish_(wish),
          seating_(std::move(seating)),
          problem_(std::move(problem)),
          search_(problem_, term_work) {}

    bool step(std::int64_t work) override { return search_.step(work * exchanges_a_unit); }
    double progress() const override { return search_.progress(); }

    Answer finish(const Context& ctx) override {
        const auto spot = open_block(ctx, wish_.cls, wish_.block);
        if (!spot) return pass(spot);
        if (!search_.best()) return base::fail("Groups", "No groups for the term were found.");
        const plan::Partners& best = *search_.best();
        const Groups groups = numbered(best.blocks[problem_.fixed.size()]);
        Decision out;
        out.said = words(best);
        if (groups == spot->block->groups) return out;
        set_groups(out, *spot->cls, *spot->block, groups);
        return out;
    }

  private:
    /// Groups whose students have a seat get its number, the others what is left.
    Groups numbered(const plan::Block& block) const {
        std::vector<std::vector<int>> out(block.size());
        std::vector<char> placed(block.size(), 0);
        const auto& seat = seating_.problem.seat;
        for (std::size_t g = 0; g < block.size(); ++g) {
            for (const int student : block[g]) {
                const int at = seat.empty() ? -1 : seat[std::size_t(student)];
                if (at < 0 || std::size_t(at) >= out.size() || placed[g] != 0) continue;
                if (!out[std::size_t(at)].empty()) continue;
                out[std::size_t(at)] = block[g];
                placed[g] = 1;
            }
        }
        for (std::size_t g = 0; g < block.size(); ++g) {
            if (placed[g] != 0) continue;
            *std::find_if(out.begin(), out.end(), [](const auto& m) { return m.empty(); }) =
                block[g];
        }
        return seating_.groups(out);
    }

    std::string words(const plan::Partners& best) const {
        const std::size_t taught = problem_.fixed.size();
        std::string said =
            base::count_of(std::size_t(wish_.blocks), "block", "blocks") + " planned" +
            (taught > 0 ? " after " + std::to_string(taught) + " taught" : "") + ": ";
        const int least = plan::bound_repeats(problem_.students, problem_.size, problem_.blocks);
        if (best.repeat_pairs == 0) return said + "no two students meet twice.";
        said += base::count_of(std::size_t(best.repeat_pairs), "repeat", "repeats") + " in all";
        said += search_.proved_best() || best.repeat_pairs <= least
                    ? "; fewer are not possible."
                    : "; at least " + std::to_string(least) + " cannot be avoided.";
        if (best.broken_pairs > 0) {
            said += " Rules are not kept " + std::to_string(best.broken_pairs) + " times.";
        }
        return said;
    }

    PlanTerm wish_;
    Seating seating_;
    plan::PartnersProblem problem_;
    plan::PartnersSearch search_;
};

}  // namespace

Begun begin_planning(const Context& ctx, const PlanTerm& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    if (block.lesson.running()) {
        return base::fail("Groups", "A lesson is running. End it before the groups change.");
    }
    const auto size = checked_number("Group size", wish.size, 2, most_in_group, "students");
    if (!size) return pass(size);
    const auto blocks = checked_number("Blocks", wish.blocks, 1, 40, "blocks");
    if (!blocks) return pass(blocks);
    for (const int group : block.group_rules.locked) {
        if (group < 0 || std::size_t(group) >= block.groups.size()) continue;
        return base::fail("Groups", group_name(group) + " is locked. Unlock it first.");
    }
    Seating seating(*spot->cls, block, Whom::present);
    if (int(seating.ids.size()) > plan::most_partner_students) {
        return base::fail("Groups", "A term can be planned for at most " +
                                        std::to_string(plan::most_partner_students) + " students.");
    }
    if (seating.ids.size() < 2) {
        return base::fail("Groups", "There are no students yet. Add the students first.");
    }
    plan::PartnersProblem problem;
    problem.students = seating.problem.students;
    problem.size = wish.size;
    problem.apart = seating.problem.apart;
    problem.together = seating.problem.together;
    problem.fixed = seating.problem.past;
    const std::size_t kept = std::size_t(plan::most_partner_blocks - wish.blocks);
    if (problem.fixed.size() > kept) {
        problem.fixed.erase(problem.fixed.begin(), problem.fixed.end() - std::ptrdiff_t(kept));
    }
    problem.blocks = int(problem.fixed.size()) + wish.blocks;
    problem.seed = wish.seed;
    return std::make_unique<PlanningTerm>(wish, std::move(seating), std::move(problem));
}

Answer on(const Context& ctx, const PlanTerm& wish) {
    return plan_at_once(ctx, begin_planning(ctx, wish));
}

}  // namespace tallyround::session
