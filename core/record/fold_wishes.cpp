#include "record/fold_wishes.h"

#include <algorithm>

#include "base/text.h"

namespace tallyround::record {

namespace {

/// Those of `ids` that name somebody of the class, each once.
std::vector<StudentId> known_students(const Class& cls, const std::vector<StudentId>& ids) {
    std::vector<StudentId> out;
    for (const StudentId& id : ids) {
        const bool again = std::find(out.begin(), out.end(), id) != out.end();
        if (!again && cls.student(id)) out.push_back(id);
    }
    return out;
}

}  // namespace

void fold_wish(Class& cls, const CompanySet& e) {
    if (!cls.student(e.student)) return;
    Company wish{e.student, known_students(cls, e.partners)};
    std::erase(wish.partners, e.student);
    const auto it = std::lower_bound(
        cls.company.begin(), cls.company.end(), wish.student,
        [](const Company& c, const StudentId& student) { return c.student < student; });
    const bool there = it != cls.company.end() && it->student == wish.student;
    if (wish.partners.empty()) {
        if (there) cls.company.erase(it);
    } else if (there) {
        *it = std::move(wish);
    } else {
        cls.company.insert(it, std::move(wish));
    }
}

void fold_wish(const Class& cls, Block& block, const GroupRulesSet& e) {
    GroupRules rules;
    for (const Seat& seat : e.rules.seats) {
        const auto same = [&](const Seat& s) { return s.student == seat.student; };
        const bool again = std::any_of(rules.seats.begin(), rules.seats.end(), same);
        if (!again && cls.student(seat.student)) rules.seats.push_back(seat);
    }
    rules.locked = e.rules.locked;
    std::sort(rules.locked.begin(), rules.locked.end());
    rules.locked.erase(std::unique(rules.locked.begin(), rules.locked.end()), rules.locked.end());
    for (const Helper& helper : e.rules.helpers) {
        Helper h{base::tidy_line(helper.name), known_students(cls, helper.students), helper.rounds};
        if (!h.students.empty()) rules.helpers.push_back(std::move(h));
    }
    block.group_rules = std::move(rules);
}

void fold_wish(Block& block, const ChartRulesSet& e) {
    block.chart_rules = e.rules;
    std::erase_if(block.chart_rules.rules, [&](const ChartRule& rule) {
        const bool after = rule.kind == ChartRuleKind::before;
        return !find_center(block, rule.center) || (after && !find_center(block, rule.then));
    });
}

}  // namespace tallyround::record
