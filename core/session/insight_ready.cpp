#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "advise/ready.h"
#include "base/text.h"
#include "session/evidence_model.h"
#include "session/insight.h"
#include "session/insight_parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t most_blocks = 60;
constexpr std::size_t most_skills = 40;

std::string whole(double x) {
    return std::to_string(std::lround(x));
}

/// Skills and blocks in the planner's numbers. Blocks are sorted by day.
struct Numbered {
    std::vector<model::SkillId> skills;
    std::vector<std::size_t> order;  ///< place in the wish of each of the problem's blocks
    advise::ReadyProblem problem;
};

Numbered numbered(const model::Class& cls, const Standings& standings, const ReadyWish& wish,
                  std::int64_t now_ms) {
    Numbered out;
    for (const model::SkillId& skill : wish.skills) {
        if (out.skills.size() < most_skills &&
            std::find(out.skills.begin(), out.skills.end(), skill) == out.skills.end()) {
            out.skills.push_back(skill);
        }
    }
    const auto today = std::int64_t(std::floor(double(now_ms) / day_ms));
    const auto days = [&](const base::Date& date) {
        return double(base::days_from_civil(date) - today);
    };
    out.order.resize(std::min(wish.blocks.size(), most_blocks));
    std::iota(out.order.begin(), out.order.end(), std::size_t{0});
    std::stable_sort(out.order.begin(), out.order.end(),
                     [&](std::size_t a, std::size_t b) { return wish.blocks[a] < wish.blocks[b]; });
    out.problem.holdings = holdings_of(cls, standings, out.skills, now_ms);
    out.problem.skills = int(out.skills.size());
    out.problem.on_day = std::max(0.0, days(wish.ready_by));
    for (const std::size_t place : out.order) {
        const double day = days(wish.blocks[place]);
        out.problem.blocks.push_back(
            {std::max(0.0, day), day < 0.0 ? 0 : std::clamp(wish.skills_a_block, 0, 40)});
    }
    return out;
}

/// Marks of one skill as reviews: the last mark of each student and day.
evidence::Sequences reviews_of(const model::Class& cls, const model::SkillId& skill) {
    std::map<model::StudentId, std::vector<evidence::Mark>> students;
    for (const model::Mark& mark : cls.marks) {
        if (mark.skill != skill) continue;
        std::vector<evidence::Mark>& marks = students[mark.student];
        const evidence::Mark now = evidence_mark(mark);
        if (!marks.empty() && std::floor(marks.back().day) == std::floor(now.day)) marks.pop_back();
        marks.push_back(now);
    }
    evidence::Sequences out;
    for (const auto& [student, marks] : students) {
        out.marks.insert(out.marks.end(), marks.begin(), marks.end());
        out.close();
    }
    return out;
}

/// Why a skill is in a block: what all its reviews together do.
std::string skill_reason(const Numbered& n, const evidence::Model& model,
                         const advise::ReadySchedule& schedule, std::size_t block, int skill) {
    advise::ReadyProblem one = n.problem;
    std::erase_if(one.holdings, [&](const advise::Holding& h) { return h.skill != skill; });
    advise::ReadySchedule other = schedule;
    std::erase(other[block], skill);
    const double with = advise::held_on(model, one, schedule);
    const double without = advise::held_on(model, one, other);
    return "Expected to have it on the day: " + whole(with) + " of " +
           base::count_of(one.holdings.size(), "student", "students") + ", " + whole(without) +
           " without this review.";
}

std::string plan_reason(const ReadyPlan& plan, const ReadyWish& wish) {
    const std::string day = base::short_day(wish.ready_by);
    if (plan.pairs == 0) return "Choose skills first.";
    const std::string of = " of " + std::to_string(plan.pairs) + " student-skill pairs";
    return "Held on " + day + ": " + whole(plan.held_with) + of + " with this plan, " +
           whole(plan.held_equal) + " with every skill in turn, " + whole(plan.held_without) +
           " without review.";
}

}  // namespace

ReadyPlan ready_plan(const model::Class& cls, const Standings& standings, const ReadyWish& wish,
                     std::int64_t now_ms) {
    const evidence::Model& model = standings.model();
    Numbered n = numbered(cls, standings, wish, now_ms);
    for (const model::SkillId& skill : n.skills)
        n.problem.taught.push_back(advise::taught_from(model, reviews_of(cls, skill)));
    ReadyPlan plan;
    for (const base::Date& date : wish.blocks)
        plan.blocks.push_back({date, {}, {}});
    plan.pairs = int(n.problem.holdings.size());
    for (const advise::Holding& h : n.problem.holdings)
        plan.held_now += h.p;
    const advise::ReadySchedule schedule = advise::plan_ready(model, n.problem);
    plan.held_with = advise::held_on(model, n.problem, schedule);
    plan.held_equal = advise::held_on(model, n.problem, advise::equal_rounds(n.problem));
    plan.held_without = advise::held_on(model, n.problem, {});
    for (std::size_t b = 0; b < schedule.size(); ++b) {
        ReadyBlock& block = plan.blocks[n.order[b]];
        for (const int skill : schedule[b]) {
            block.skills.push_back(n.skills[std::size_t(skill)]);
            block.why.push_back(skill_reason(n, model, schedule, b, skill));
        }
    }
    plan.why = plan_reason(plan, wish);
    return plan;
}

}  // namespace tallyround::session
