#include "session/seating.h"

#include <algorithm>
#include <limits>

#include "session/parts.h"

namespace tallyround::session {

namespace {

/// A meeting counts less with every grouping since (a design choice without a source).
constexpr double recency = 0.7;

}  // namespace

Seating::Seating(const Class& cls, const Block& block, Whom whom) {
    for (const Student* s : present_students(cls)) {
        if (whom == Whom::present && is_absent(block, s->id)) continue;
        number[s->id] = int(ids.size());
        ids.push_back(s->id);
    }
    problem.students = int(ids.size());
    problem.recency = recency;
    add_pairs(cls);
    add_company(cls, block);
    add_past(cls, block);
    add_group_rules(block);
    add_helpers(block, wished_rounds(block));
}

std::vector<std::vector<int>> Seating::numbers(const Groups& groups) const {
    std::vector<std::vector<int>> out;
    for (const auto& group : groups) {
        auto& members = out.emplace_back();
        for (const StudentId& id : group) {
            const auto it = number.find(id);
            if (it != number.end()) members.push_back(it->second);
        }
    }
    return out;
}

Groups Seating::groups(const std::vector<std::vector<int>>& numbers) const {
    Groups out;
    for (const auto& members : numbers) {
        auto& group = out.emplace_back();
        for (const int m : members)
            group.push_back(ids[std::size_t(m)]);
    }
    return out;
}

void Seating::add_pairs(const Class& cls) {
    for (const Pair& p : cls.pairs) {
        const auto a = number.find(p.a);
        const auto b = number.find(p.b);
        if (a == number.end() || b == number.end()) continue;
        const bool is_apart = p.rule == PairRule::apart;
        (is_apart ? apart : together).push_back(p);
        (is_apart ? problem.apart : problem.together).push_back({a->second, b->second});
    }
}

void Seating::add_company(const Class& cls, const Block& block) {
    for (const Company& c : cls.company) {
        const auto student = number.find(c.student);
        if (student == number.end() || is_absent(block, c.student)) continue;
        plan::GroupProblem::Company rule{student->second, {}};
        for (const StudentId& partner : c.partners) {
            const auto it = number.find(partner);
            if (it == number.end() || is_absent(block, partner)) continue;
            rule.partners.push_back(it->second);
        }
        if (rule.partners.empty()) {
            notes.push_back("Nobody whom " + name_of(cls, c.student) +
                            " is to sit with is here today.");
            continue;
        }
        company.push_back(c);
        problem.with_one_of.push_back(std::move(rule));
    }
}

void Seating::add_past(const Class& cls, const Block& block) {
    for (const Block& earlier : cls.blocks) {
        if (earlier.id == block.id) break;
        if (earlier.groups.empty()) continue;
        auto meetings = numbers(earlier.groups);
        std::erase_if(meetings, [](const auto& members) { return members.size() < 2; });
        problem.past.push_back(std::move(meetings));
        past.push_back(earlier.id);
    }
}

void Seating::add_group_rules(const Block& block) {
    for (const Seat& seat : block.group_rules.seats) {
        const auto it = number.find(seat.student);
        if (it == number.end()) continue;
        problem.seat.resize(ids.size(), -1);
        problem.seat[std::size_t(it->second)] = seat.group;
    }
    const auto here = numbers(block.groups);
    for (const int group : block.group_rules.locked) {
        if (group < 0 || std::size_t(group) >= here.size()) continue;
        if (here[std::size_t(group)].empty()) {
            if (!block.groups[std::size_t(group)].empty()) {
                notes.push_back("Nobody of " + group_name(group) + " is here today.");
            }
            continue;
        }
        problem.was.resize(here.size());
        problem.was[std::size_t(group)] = here[std::size_t(group)];
        problem.locked.push_back(group);
    }
}

void Seating::add_helpers(const Block& block, int rounds) {
    for (std::size_t i = 0; i < block.group_rules.helpers.size(); ++i) {
        const Helper& helper = block.group_rules.helpers[i];
        plan::GroupProblem::Helper rule;
        for (const StudentId& id : helper.students) {
            const auto it = number.find(id);
            if (it != number.end()) rule.students.push_back(it->second);
        }
        rule.groups = plan::groups_in_reach(int(helper_rounds(helper, rounds).size()));
        if (rounds == 0 || rule.students.size() < 2) continue;
        if (rule.groups == 0) {
            notes.push_back(helper.name + " is there in no round of this block.");
            continue;
        }
        helpers.push_back(int(i));
        problem.helpers.push_back(std::move(rule));
    }
}

std::vector<int> helper_rounds(const Helper& helper, int rounds) {
    std::vector<int> out;
    for (int round = 1; round <= rounds; ++round) {
        const auto& named = helper.rounds;
        const bool there = std::find(named.begin(), named.end(), round) != named.end();
        if (named.empty() || there) out.push_back(round);
    }
    return out;
}

void add_evidence(Seating& seating, const Block& block, const Standings& standings,
                  GroupPolicy policy) {
    plan::GroupProblem& problem = seating.problem;
    switch (policy) {
        case GroupPolicy::mixed:
            problem.policy = plan::LevelPolicy::mixed;
            break;
        case GroupPolicy::similar:
            problem.policy = plan::LevelPolicy::similar;
            break;
        case GroupPolicy::any:
            problem.policy = plan::LevelPolicy::any;
            break;
    }
    problem.level.clear();
    problem.needs.clear();
    for (const StudentId& id : seating.ids) {
        double sum = 0;
        int n = 0;
        auto& needs = problem.needs.emplace_back();
        for (std::size_t i = 0; i < block.skills.size(); ++i) {
            const Standing standing = standings.of(id, block.skills[i]);
            if (word_for(standing) == Word::needs_time) needs.push_back(int(i));
            if (standing.marks == 0) continue;
            sum += standing.p;
            ++n;
        }
        problem.level.push_back(n == 0 ? std::numeric_limits<double>::quiet_NaN() : sum / n);
    }
}

int fewest_groups(const Seating& seating, int size) {
    const plan::GroupProblem& p = seating.problem;
    int named = 0;
    for (const int group : p.seat)
        named = std::max(named, group + 1);
    int free = p.students;
    for (const int group : p.locked) {
        named = std::max(named, group + 1);
        free -= int(p.was[std::size_t(group)].size());
    }
    const int needed = int(p.locked.size()) + (free + size - 1) / size;
    return std::max({1, named, needed});
}

std::string sizes_text(int students, int groups) {
    std::string out;
    for (int g = 0; g < groups; ++g) {
        const int size = students / groups + (g < students % groups ? 1 : 0);
        out += (g == 0 ? "" : ", ") + std::to_string(size);
    }
    return out;
}

}  // namespace tallyround::session
