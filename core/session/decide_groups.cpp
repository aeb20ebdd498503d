#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "base/text.h"
#include "plan/group.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

/// Common practice, no source: at most four at a center.
constexpr int most_in_group = 4;

/// The students to be seated and their numbers for the planner.
class Seating {
  public:
    Seating(const Class& cls, const Block& block) : cls_(cls) {
        for (const Student* s : present_students(cls)) {
            if (is_absent(block, s->id)) continue;
            number_[s->id] = int(ids_.size());
            ids_.push_back(s->id);
        }
    }

    std::size_t size() const { return ids_.size(); }
    const std::vector<StudentId>& ids() const { return ids_; }

    std::vector<std::vector<int>> pairs(PairRule rule) const {
        std::vector<std::vector<int>> out;
        for (const Pair& p : cls_.pairs) {
            const auto a = number_.find(p.a);
            const auto b = number_.find(p.b);
            if (p.rule == rule && a != number_.end() && b != number_.end()) {
                out.push_back({a->second, b->second});
            }
        }
        return out;
    }

    std::vector<std::vector<int>> numbers(const Groups& groups) const {
        std::vector<std::vector<int>> out;
        for (const auto& group : groups) {
            std::vector<int> members;
            for (const StudentId& id : group) {
                const auto it = number_.find(id);
                if (it != number_.end()) members.push_back(it->second);
            }
            if (members.size() > 1) out.push_back(members);
        }
        return out;
    }

    Groups groups(const std::vector<std::vector<int>>& numbers) const {
        Groups out;
        for (const auto& members : numbers) {
            auto& group = out.emplace_back();
            for (const int m : members)
                group.push_back(ids_[std::size_t(m)]);
        }
        return out;
    }

  private:
    const Class& cls_;
    std::vector<StudentId> ids_;
    std::map<StudentId, int> number_;
};

/// Mean estimate over the block's skills that have marks; nothing known without any.
std::vector<double> levels_of(const Context& ctx, const Class& cls, const Block& block,
                              const Seating& seating) {
    Standings standings;
    standings.update(cls, ctx.now_ms);
    std::vector<double> levels;
    for (const StudentId& id : seating.ids()) {
        double sum = 0;
        int n = 0;
        for (const SkillId& skill : block.skills) {
            const Standing standing = standings.of(id, skill);
            if (standing.marks == 0) continue;
            sum += standing.p;
            ++n;
        }
        levels.push_back(n == 0 ? std::numeric_limits<double>::quiet_NaN() : sum / n);
    }
    return levels;
}

plan::LevelPolicy policy_of(GroupPolicy policy) {
    switch (policy) {
        case GroupPolicy::mixed:
            return plan::LevelPolicy::mixed;
        case GroupPolicy::similar:
            return plan::LevelPolicy::similar;
        case GroupPolicy::any:
            break;
    }
    return plan::LevelPolicy::any;
}

std::string conflict_text(const Class& cls, const Seating& seating,
                          const plan::GroupConflict& conflict) {
    std::vector<StudentId> students;
    for (const int s : conflict.students)
        students.push_back(seating.ids()[std::size_t(s)]);
    return "The rules for " + names_of(cls, students) +
           " cannot all hold in groups of this size. Take one of the rules away.";
}

/// What the teacher should know of a new grouping, beyond the number of groups.
std::string grouping_notes(const Class& cls, const Block& block, const plan::Grouping& grouping,
                           const Groups& groups, bool any_past) {
    std::string said;
    if (any_past) {
        said += grouping.repeat_pairs == 0
                    ? " Nobody meets a partner of an earlier block again."
                    : " " + base::count_of(std::size_t(grouping.repeat_pairs), "pair", "pairs") +
                          " met in an earlier block.";
    }
    const std::string unseated = seatless(cls, groups);
    if (!unseated.empty()) said += " " + unseated;
    const std::size_t centers = open_centers(block).size();
    if (centers > 0 && centers < groups.size()) {
        said += " There are " + base::count_of(centers, "center", "centers") + " for " +
                std::to_string(groups.size()) + " groups: some groups will wait in each round.";
    }
    return said;
}

/// Two students of one group who must sit apart, as an Error; nothing when all is well.
base::Result<bool> checked_apart(const Class& cls, const std::vector<StudentId>& group) {
    for (std::size_t i = 0; i < group.size(); ++i) {
        for (std::size_t j = i + 1; j < group.size(); ++j) {
            if (cls.rule_between(group[i], group[j]) != PairRule::apart) continue;
            return base::fail("Groups", names_of(cls, {group[i], group[j]}) +
                                            " must sit apart. Choose another seat or take the "
                                            "rule away.");
        }
    }
    return true;
}

/// Names whoever must sit together with `student` and no longer does.
std::string parted(const Class& cls, const Groups& groups, const StudentId& student) {
    const auto of = [&](const StudentId& id) {
        return std::find_if(groups.begin(), groups.end(), [&](const auto& g) {
            return std::find(g.begin(), g.end(), id) != g.end();
        });
    };
    const auto home = of(student);
    for (const Pair& p : cls.pairs) {
        if (p.rule != PairRule::together || (p.a != student && p.b != student)) continue;
        const StudentId& other = p.a == student ? p.b : p.a;
        const auto there = of(other);
        if (there != groups.end() && there != home) {
            return " " + names_of(cls, {student, other}) +
                   " should sit together: move the other one, too.";
        }
    }
    return "";
}

}  // namespace

std::string seatless(const Class& cls, const Groups& groups) {
    std::vector<StudentId> without;
    for (const Student* s : present_students(cls)) {
        const bool seated = std::any_of(groups.begin(), groups.end(), [&](const auto& g) {
            return std::find(g.begin(), g.end(), s->id) != g.end();
        });
        if (!seated) without.push_back(s->id);
    }
    if (without.empty()) return "";
    return names_of(cls, without) + (without.size() == 1 ? " has" : " have") + " no group yet.";
}

Answer on(const Context& ctx, const MakeGroups& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Class& cls = *spot->cls;
    const Block& block = *spot->block;
    const auto size = checked_number("Group size", wish.size_max, 2, most_in_group, "students");
    if (!size) return pass(size);
    if (block.lesson.running()) {
        return base::fail("Groups",
                          "A lesson is running. Move single students, or end the lesson "
                          "first.");
    }
    const Seating seating(cls, block);
    if (seating.size() == 0) {
        return base::fail("Groups", "There are no students yet. Add the students first.");
    }
    plan::GroupProblem problem;
    problem.students = int(seating.size());
    problem.size_max = *size;
    problem.apart = seating.pairs(PairRule::apart);
    problem.together = seating.pairs(PairRule::together);
    for (const Block& earlier : cls.blocks) {
        if (&earlier == &block) break;
        if (!earlier.groups.empty()) problem.past.push_back(seating.numbers(earlier.groups));
    }
    problem.recency = 0.7;
    problem.policy = policy_of(wish.policy);
    if (wish.policy != GroupPolicy::any) problem.level = levels_of(ctx, cls, block, seating);
    problem.seed = wish.seed;
    const plan::GroupSearch search = plan::solve_groups(problem, 100'000);
    if (search.conflict())
        return base::fail("Groups", conflict_text(cls, seating, *search.conflict()));
    if (!search.best()) {
        return base::fail("Groups",
                          "No grouping that keeps all rules was found. Take a rule away.");
    }
    const Groups groups = seating.groups(search.best()->groups);
    Decision decision{{record::GroupsSet{wish.cls, wish.block, groups}},
                      base::count_of(groups.size(), "group", "groups") + " of up to " +
                          std::to_string(*size) + " made.",
                      {}};
    decision.said += grouping_notes(cls, block, *search.best(), groups, !problem.past.empty());
    Block wanted = block;
    wanted.groups = groups;
    if (groups.size() != block.chart.size()) keep_chart_true(decision, wish.cls, wanted);
    return decision;
}

Answer on(const Context& ctx, const SwapStudents& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Class& cls = *spot->cls;
    const auto first = student_in(cls, wish.a);
    if (!first) return pass(first);
    const auto second = student_in(cls, wish.b);
    if (!second) return pass(second);
    if (wish.a == wish.b) {
        return base::fail("Groups", "Choose two students to change places.");
    }
    for (const Student* student : {*first, *second}) {
        if (student->left) return base::fail("Student", student->name + " has left the class.");
    }
    Groups groups = spot->block->groups;
    StudentId* seat_a = nullptr;
    StudentId* seat_b = nullptr;
    for (auto& group : groups) {
        for (StudentId& id : group) {
            if (id == wish.a) seat_a = &id;
            if (id == wish.b) seat_b = &id;
        }
    }
    if (seat_a == nullptr && seat_b == nullptr) {
        return base::fail("Groups", names_of(cls, {wish.a, wish.b}) +
                                        " have no group yet. Move them into one first.");
    }
    // One of them may have been without a group: then the seat changes hands.
    if (seat_a != nullptr) *seat_a = wish.b;
    if (seat_b != nullptr) *seat_b = wish.a;
    for (const auto& group : groups) {
        const bool changed = std::find(group.begin(), group.end(), wish.a) != group.end() ||
                             std::find(group.begin(), group.end(), wish.b) != group.end();
        if (!changed) continue;
        const auto good = checked_apart(cls, group);
        if (!good) return pass(good);
    }
    const std::string said = (*first)->name + " and " + (*second)->name + " changed places." +
                             parted(cls, groups, wish.a) + parted(cls, groups, wish.b);
    return Decision{{record::GroupsSet{wish.cls, wish.block, groups}}, said, {}};
}

Answer on(const Context& ctx, const MoveStudent& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Class& cls = *spot->cls;
    const Block& block = *spot->block;
    const auto student = student_in(cls, wish.student);
    if (!student) return pass(student);
    if ((*student)->left) {
        return base::fail("Student", (*student)->name + " has left the class.");
    }
    const int count = int(block.groups.size());
    if (wish.to_group < 0 || wish.to_group > count) {
        return base::fail("Groups", "There is no " + group_name(wish.to_group) + ".");
    }
    const int from = group_of(block, wish.student);
    if (from == wish.to_group) return Decision{};
    Groups groups = block.groups;
    if (wish.to_group == count) {
        if (block.lesson.running()) {
            return base::fail("Groups", "A lesson is running: choose one of its groups.");
        }
        groups.emplace_back();
    }
    auto& target = groups[std::size_t(wish.to_group)];
    if (target.size() >= std::size_t(most_in_group)) {
        return base::fail("Groups", group_name(wish.to_group) + " has " +
                                        std::to_string(target.size()) +
                                        " students already. Let two students change places.");
    }
    if (from >= 0) {
        auto& home = groups[std::size_t(from)];
        home.erase(std::find(home.begin(), home.end(), wish.student));
    }
    target.push_back(wish.student);
    const auto good = checked_apart(cls, target);
    if (!good) return pass(good);
    Decision decision{{record::GroupsSet{wish.cls, wish.block, groups}},
                      (*student)->name + " is in " + group_name(wish.to_group) + " now." +
                          parted(cls, groups, wish.student),
                      {}};
    Block wanted = block;
    wanted.groups = groups;
    if (groups.size() != block.chart.size()) keep_chart_true(decision, wish.cls, wanted);
    return decision;
}

}  // namespace tallyround::session
