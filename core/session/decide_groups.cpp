#include <algorithm>

#include "base/text.h"
#include "session/derived.h"
#include "session/parts.h"
#include "session/seating.h"

namespace tallyround::session {

namespace {

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

/// What a change of seats does to repeats and rules, beside apart and together.
std::string effect_words(const Class& cls, const Block& block, const Groups& groups) {
    using Kind = plan::GroupRule::Kind;
    Seating seating(cls, block, Whom::everybody);
    plan::GroupProblem& p = seating.problem;
    p.size_max = most_in_group;
    const auto before = seating.numbers(block.groups);
    const auto after = seating.numbers(groups);
    std::string said;
    const auto broken = plan::broken_rules(p, before);
    for (const plan::GroupRule& rule : plan::broken_rules(p, after)) {
        const bool told = rule.kind == Kind::together || rule.kind == Kind::size_max;
        if (told || std::find(broken.begin(), broken.end(), rule) != broken.end()) continue;
        said += " Not so now: " + rule_words(cls, block, seating, rule).text + ".";
    }
    if (p.past.empty()) return said;
    const int more = plan::measure(p, after).repeat_pairs - plan::measure(p, before).repeat_pairs;
    if (more == 0) return said + " As many repeats as before.";
    return said + " " +
           (more > 0 ? base::count_of(std::size_t(more), "more repeat", "more repeats")
                     : base::count_of(std::size_t(-more), "repeat fewer", "repeats fewer")) +
           ".";
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
                             parted(cls, groups, wish.a) + parted(cls, groups, wish.b) +
                             effect_words(cls, *spot->block, groups);
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
    Decision decision;
    decision.said = (*student)->name + " is in " + group_name(wish.to_group) + " now." +
                    parted(cls, groups, wish.student) + effect_words(cls, block, groups);
    set_groups(decision, cls, block, groups);
    return decision;
}

}  // namespace tallyround::session
