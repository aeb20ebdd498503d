#include "cli/commands/group_request.h"

#include <algorithm>
#include <limits>

namespace tallyround::cli {

namespace {

using json::Field;

constexpr std::size_t most_students = 500;
constexpr std::size_t most_lists = 5'000;

std::vector<std::vector<int>> lists_of(const Field& root, const char* key, const Names& students) {
    std::vector<std::vector<int>> out;
    if (const auto lists = root.find(key))
        for (const Field& list : lists->items(most_lists))
            out.push_back(students.list_of(list, 2));
    return out;
}

void read_seats(const Field& root, GroupRequest& r) {
    const auto seats = root.find("seat");
    if (!seats) return;
    r.problem.seat.assign(std::size_t(r.problem.students), -1);
    for (const auto& [name, field] : seats->members()) {
        const int student = r.students.of_key(name, field);
        r.problem.seat[student] = int(field.integer(0, r.problem.groups - 1));
    }
}

/// [["Ada", ["Bo", "Cy"]], ...]: Ada in one group with Bo or with Cy.
void read_with_one_of(const Field& root, GroupRequest& r) {
    const auto lists = root.find("with_one_of");
    if (!lists) return;
    for (const Field& item : lists->items(most_lists)) {
        const auto parts = item.items(2);
        if (parts.size() != 2) item.refuse("A student and a list of partners were expected.");
        plan::GroupProblem::Company company{r.students.of(parts[0]),
                                            r.students.list_of(parts[1], 1)};
        const auto& partners = company.partners;
        if (std::find(partners.begin(), partners.end(), company.student) != partners.end()) {
            parts[1].refuse("\"" + r.students[company.student] + "\" is among the own partners.");
        }
        r.problem.with_one_of.push_back(std::move(company));
    }
}

/// [{"name", "students", "rounds": [1, 2], "rounds_each": 1}, ...] or "groups" for "rounds".
void read_helpers(const Field& root, GroupRequest& r) {
    const auto helpers = root.find("helpers");
    if (!helpers) return;
    for (const Field& item : helpers->items(100)) {
        plan::GroupProblem::Helper rule{r.students.list_of(item.at("students"), 1), 1};
        GroupRequest::Helper helper;
        helper.name = item.text_or("name", "the helper");
        if (const auto rounds = item.find("rounds")) {
            for (const Field& round : rounds->items(1000)) {
                const int number = int(round.integer(1, 1000));
                if (!helper.rounds.empty() && number <= helper.rounds.back())
                    round.refuse("Rounds were expected in ascending order, each once.");
                helper.rounds.push_back(number);
            }
            const int each = int(item.integer_or("rounds_each", 1, 1000, 1));
            rule.groups = plan::groups_in_reach(int(helper.rounds.size()), each);
            if (rule.groups == 0)
                rounds->refuse("The helper is there in fewer rounds than \"rounds_each\".");
        }
        rule.groups = int(item.integer_or("groups", 1, std::int64_t(most_students), rule.groups));
        r.problem.helpers.push_back(std::move(rule));
        r.helpers.push_back(std::move(helper));
    }
}

/// Earlier groupings; students who have left the class are passed over with a warning.
void read_past(const Field& root, GroupRequest& r) {
    const auto past = root.find("past");
    if (!past) return;
    std::vector<std::string> left;
    for (const Field& grouping : past->items(1000)) {
        std::vector<std::vector<int>> groups;
        std::vector<char> seen(std::size_t(r.problem.students), 0);
        for (const Field& list : grouping.items(most_students)) {
            std::vector<int> group;
            for (const Field& item : list.items(most_students)) {
                const std::string name = item.text(1000);
                const int student = r.students.find(name);
                if (student < 0) {
                    if (std::find(left.begin(), left.end(), name) == left.end())
                        left.push_back(name);
                    continue;
                }
                if (seen[student] != 0) {
                    item.refuse("The student \"" + name + "\" is in this grouping twice.");
                }
                seen[student] = 1;
                group.push_back(student);
            }
            groups.push_back(std::move(group));
        }
        r.problem.past.push_back(std::move(groups));
    }
    for (const auto& name : left)
        r.warnings.push_back("/past: \"" + name + "\" is not in the class now and was left out.");
}

void read_levels(const Field& root, GroupRequest& r) {
    if (const auto levels = root.find("level")) {
        r.problem.level.assign(std::size_t(r.problem.students),
                               std::numeric_limits<double>::quiet_NaN());
        for (const auto& [name, field] : levels->members())
            r.problem.level[r.students.of_key(name, field)] = field.number(-1e9, 1e9);
    }
    const auto needs = root.find("needs");
    if (!needs) return;
    r.problem.needs.assign(std::size_t(r.problem.students), {});
    for (const auto& [name, field] : needs->members()) {
        auto& list = r.problem.needs[r.students.of_key(name, field)];
        for (const Field& item : field.items(1000)) {
            const std::string skill = item.text(1000);
            if (r.skills.find(skill) < 0) r.skills.add(skill, item);
            list.push_back(r.skills.find(skill));
        }
    }
}

void read_was(const Field& root, GroupRequest& r) {
    const auto was = root.find("was");
    if (was) {
        std::vector<char> seen(std::size_t(r.problem.students), 0);
        for (const Field& list : was->items(most_students)) {
            std::vector<int> group;
            for (const Field& item : list.items(most_students)) {
                // Absent today: no longer in `students`.
                const int student = r.students.find(item.text(1000));
                if (student < 0) continue;
                if (seen[student] != 0) item.refuse("This student is in two groups.");
                seen[student] = 1;
                group.push_back(student);
            }
            r.problem.was.push_back(std::move(group));
        }
        if (int(r.problem.was.size()) > r.problem.groups)
            was->refuse("There are more groups here than are planned now.");
    }
    if (const auto locked = root.find("locked")) {
        for (const Field& item : locked->items(most_students)) {
            if (r.problem.was.empty()) item.refuse("Locked groups need \"was\".");
            r.problem.locked.push_back(
                int(item.integer(0, std::int64_t(r.problem.was.size()) - 1)));
        }
    }
}

plan::LevelPolicy policy_of(const Field& root) {
    const std::string text = root.text_or("policy", "any");
    if (text == "any") return plan::LevelPolicy::any;
    if (text == "mixed") return plan::LevelPolicy::mixed;
    if (text == "similar") return plan::LevelPolicy::similar;
    root.at("policy").refuse("\"mixed\", \"similar\" or \"any\" was expected.");
}

}  // namespace

GroupRequest group_request(const Field& root) {
    GroupRequest r;
    const Field students = root.at("students");
    r.students = Names(students, "student", most_students);
    if (r.students.size() == 0) students.refuse("At least one student is needed.");
    auto& p = r.problem;
    p.students = r.students.size();
    p.size_max = int(root.integer_or("size_max", 1, std::int64_t(most_students), 4));
    const int fewest = (p.students + p.size_max - 1) / p.size_max;
    p.groups = int(root.integer_or("groups", 1, std::int64_t(most_students), fewest));
    p.apart = lists_of(root, "apart", r.students);
    p.together = lists_of(root, "together", r.students);
    read_seats(root, r);
    read_with_one_of(root, r);
    read_helpers(root, r);
    read_past(root, r);
    read_levels(root, r);
    read_was(root, r);
    p.recency = root.number_or("recency", 0.01, 1.0, 1.0);
    p.policy = policy_of(root);
    p.seed = std::uint64_t(root.integer_or("seed", 0, std::int64_t{1} << 53U, 1));
    r.budget_ms = root.number_or("budget_ms", 0, 600'000, 200);
    return r;
}

}  // namespace tallyround::cli
