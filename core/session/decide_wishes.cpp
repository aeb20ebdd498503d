#include <algorithm>

#include "base/text.h"
#include "session/derived.h"
#include "session/parts.h"
#include "session/seating.h"

namespace tallyround::session {

namespace {

/// Enough for any class; keeps a typed or pasted wish from growing without end.
constexpr std::size_t most_rules = 60;

base::Result<bool> checked_students(const Class& cls, const std::vector<StudentId>& students) {
    for (const StudentId& id : students) {
        const auto student = student_in(cls, id);
        if (!student) return pass(student);
    }
    return true;
}

base::Result<bool> checked_groups(const Block& block, const std::vector<int>& groups) {
    for (const int group : groups) {
        if (group < 0 || std::size_t(group) >= block.groups.size()) {
            return base::fail("Groups", "There is no " + group_name(group) + ".");
        }
    }
    return true;
}

base::Result<bool> checked_rounds(const Block& block, const std::vector<int>& rounds) {
    for (const int round : rounds) {
        if (round < 1 || round > wished_rounds(block)) {
            return base::fail("Rounds", "There is no round " + std::to_string(round) + ".");
        }
    }
    return true;
}

base::Result<bool> checked_count(std::string_view where, std::size_t count) {
    if (count <= most_rules) return true;
    return base::fail(std::string(where), "A block keeps to at most " + std::to_string(most_rules) +
                                              " rules of a kind. Take one away first.");
}

/// A rule of the chart that names centers, groups and rounds of this block.
base::Result<bool> checked_rule(const Block& block, const ChartRule& rule) {
    const auto center = center_in(block, rule.center);
    if (!center) return pass(center);
    if (rule.kind == ChartRuleKind::before) {
        const auto then = center_in(block, rule.then);
        if (!then) return pass(then);
        if (rule.center == rule.then) {
            return base::fail("Chart", center_title(**center) +
                                           " cannot come before itself. Choose two centers.");
        }
    }
    const bool one_round =
        rule.kind == ChartRuleKind::not_in_round || rule.kind == ChartRuleKind::visit_in_round;
    const auto rounds = checked_rounds(block, one_round ? std::vector{rule.round} : rule.rounds);
    if (!rounds) return pass(rounds);
    if (rule.kind == ChartRuleKind::only_in_rounds && rule.rounds.empty()) {
        return base::fail("Rounds",
                          "Choose the rounds in which " + center_title(**center) + " can be used.");
    }
    return checked_groups(block, rule.groups);
}

/// The first rule that is new, or that one went.
std::string rules_said(const Class& cls, const Block& block, const GroupRules& rules) {
    Block wanted = block;
    wanted.group_rules = rules;
    const auto before = group_rules(cls, block);
    for (const Obstacle& rule : group_rules(cls, wanted)) {
        const bool had = std::any_of(before.begin(), before.end(),
                                     [&](const Obstacle& o) { return o.text == rule.text; });
        if (!had) return rule.text + ".";
    }
    return rules.empty() ? "The groups of this block keep to no rule of their own."
                         : "One rule less.";
}

}  // namespace

Answer on(const Context& ctx, const SetCompany& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto student = student_in(**cls, wish.student);
    if (!student) return pass(student);
    const auto known = checked_students(**cls, wish.partners);
    if (!known) return pass(known);
    const std::string& name = (*student)->name;
    if (std::find(wish.partners.begin(), wish.partners.end(), wish.student) !=
        wish.partners.end()) {
        return base::fail("Partners", name + " cannot be the own partner. Choose others.");
    }
    const auto& all = (*cls)->company;
    const bool there = std::any_of(all.begin(), all.end(),
                                   [&](const Company& c) { return c.student == wish.student; });
    if (wish.partners.empty() && !there) return Decision{};
    return Decision{{record::CompanySet{wish.cls, wish.student, wish.partners}},
                    wish.partners.empty()
                        ? name + " may sit with anybody."
                        : name + " will sit with " + names_of(**cls, wish.partners) +
                              (wish.partners.size() == 1 ? "." : ", at least one of them."),
                    {}};
}

Answer on(const Context& ctx, const SetGroupRules& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    const GroupRules& rules = wish.rules;
    for (const std::size_t count :
         {rules.seats.size(), rules.locked.size(), rules.helpers.size()}) {
        const auto few = checked_count("Groups", count);
        if (!few) return pass(few);
    }
    // A rule that is there already may name a group that has gone since.
    std::vector<int> groups;
    std::vector<StudentId> students;
    const GroupRules& before = block.group_rules;
    for (const int group : rules.locked) {
        const auto& had = before.locked;
        if (std::find(had.begin(), had.end(), group) == had.end()) groups.push_back(group);
    }
    for (const Seat& seat : rules.seats) {
        const auto& had = before.seats;
        if (std::find(had.begin(), had.end(), seat) == had.end()) groups.push_back(seat.group);
        students.push_back(seat.student);
    }
    for (const Helper& helper : rules.helpers) {
        const auto& had = before.helpers;
        if (std::find(had.begin(), had.end(), helper) != had.end()) continue;
        const auto name = checked_name("Helper", helper.name);
        if (!name) return pass(name);
        if (helper.students.empty()) {
            return base::fail("Helper", "Choose whom " + *name + " goes along with.");
        }
        students.insert(students.end(), helper.students.begin(), helper.students.end());
        const auto rounds = checked_rounds(block, helper.rounds);
        if (!rounds) return pass(rounds);
    }
    const auto there = checked_groups(block, groups);
    if (!there) return pass(there);
    const auto known = checked_students(*spot->cls, students);
    if (!known) return pass(known);
    if (rules == block.group_rules) return Decision{};
    return Decision{{record::GroupRulesSet{wish.cls, wish.block, rules}},
                    rules_said(*spot->cls, block, rules),
                    {}};
}

Answer on(const Context& ctx, const SetChartRules& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto few = checked_count("Chart", wish.rules.rules.size());
    if (!few) return pass(few);
    for (const ChartRule& rule : wish.rules.rules) {
        const auto good = checked_rule(*spot->block, rule);
        if (!good) return pass(good);
    }
    if (wish.rules == spot->block->chart_rules) return Decision{};
    Decision decision{{record::ChartRulesSet{wish.cls, wish.block, wish.rules}},
                      "What the chart keeps to is changed.",
                      {}};
    Block wanted = *spot->block;
    wanted.chart_rules = wish.rules;
    const auto kept = keep_rules(decision, wish.cls, *spot->block, wanted);
    if (!kept) return pass(kept);
    return decision;
}

}  // namespace tallyround::session
