#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/cli.h"
#include "cli/commands/plan_commands.h"
#include "plan/group.h"

namespace tallyround::cli {

namespace {

using json::Field;
using json::Json;

constexpr std::size_t most_students = 500;
constexpr int most_explained = 60;
constexpr std::size_t most_lists = 5'000;
constexpr double units_a_ms = 2'500;

struct Request {
    Names students;
    plan::GroupProblem problem;
    std::vector<std::string> warnings;
    double budget_ms = 200;
};

std::vector<std::vector<int>> lists_of(const Field& root, const char* key, const Names& students) {
    std::vector<std::vector<int>> out;
    if (const auto lists = root.find(key))
        for (const Field& list : lists->items(most_lists))
            out.push_back(students.list_of(list, 2));
    return out;
}

void read_seats(const Field& root, Request& r) {
    const auto seats = root.find("seat");
    if (!seats) return;
    r.problem.seat.assign(std::size_t(r.problem.students), -1);
    for (const auto& [name, field] : seats->members()) {
        const int student = r.students.of_key(name, field);
        r.problem.seat[student] = int(field.integer(0, r.problem.groups - 1));
    }
}

/// Earlier groupings; students who have left the class are passed over with a warning.
void read_past(const Field& root, Request& r) {
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

void read_levels(const Field& root, Request& r) {
    if (const auto levels = root.find("level")) {
        r.problem.level.assign(std::size_t(r.problem.students),
                               std::numeric_limits<double>::quiet_NaN());
        for (const auto& [name, field] : levels->members())
            r.problem.level[r.students.of_key(name, field)] = field.number(-1e9, 1e9);
    }
    const auto needs = root.find("needs");
    if (!needs) return;
    r.problem.needs.assign(std::size_t(r.problem.students), {});
    Names skills;
    for (const auto& [name, field] : needs->members()) {
        auto& list = r.problem.needs[r.students.of_key(name, field)];
        for (const Field& item : field.items(1000)) {
            const std::string skill = item.text(1000);
            if (skills.find(skill) < 0) skills.add(skill, item);
            list.push_back(skills.find(skill));
        }
    }
}

void read_was(const Field& root, Request& r) {
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

Request request_of(const Field& root) {
    Request r;
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
    read_past(root, r);
    read_levels(root, r);
    read_was(root, r);
    p.recency = root.number_or("recency", 0.01, 1.0, 1.0);
    p.policy = policy_of(root);
    p.seed = std::uint64_t(root.integer_or("seed", 0, std::int64_t{1} << 53U, 1));
    r.budget_ms = root.number_or("budget_ms", 0, 600'000, 200);
    return r;
}

std::vector<std::string> names_of(const Names& names, const std::vector<int>& numbers) {
    std::vector<std::string> out;
    for (const int number : numbers)
        out.push_back(names[number]);
    return out;
}

/// The students of a list that take part in the conflict.
std::vector<std::string> names_in(const Names& names, const std::vector<int>& list,
                                  const std::vector<int>& among) {
    std::vector<std::string> out;
    for (const int student : list)
        if (std::find(among.begin(), among.end(), student) != among.end())
            out.push_back(names[student]);
    return out;
}

struct Told {
    Json rule;
    std::string words;
};

Told tell(const Request& r, const plan::GroupConflict& conflict, const plan::GroupRule& rule) {
    using Kind = plan::GroupRule::Kind;
    const auto& p = r.problem;
    const std::string number = std::to_string(rule.index);
    switch (rule.kind) {
        case Kind::apart: {
            const auto who = names_in(r.students, p.apart[rule.index], conflict.students);
            return {{{"rule", "apart"}, {"students", who}, {"where", "/apart/" + number}},
                    base::list_of(who) + " apart"};
        }
        case Kind::together: {
            const auto who = names_in(r.students, p.together[rule.index], conflict.students);
            return {{{"rule", "together"}, {"students", who}, {"where", "/together/" + number}},
                    base::list_of(who) + " together"};
        }
        case Kind::seat: {
            const std::string& who = r.students[rule.index];
            const int group = p.seat[rule.index];
            return {{{"rule", "seat"}, {"students", {who}}, {"group", group}},
                    who + " in group " + std::to_string(group)};
        }
        case Kind::locked:
            return {{{"rule", "locked"}, {"group", rule.index}}, "group " + number + " locked"};
        case Kind::groups:
            return {{{"rule", "groups"}, {"groups", p.groups}},
                    base::count_of(std::size_t(p.groups), "group", "groups")};
        case Kind::size_max:
            break;
    }
    return {{{"rule", "size_max"}, {"size_max", p.size_max}},
            "at most " + std::to_string(p.size_max) + " in a group"};
}

Outcome tell_conflict(const Request& r, const plan::GroupConflict& conflict) {
    Json rules = Json::array();
    std::vector<std::string> words;
    for (const auto& rule : conflict.rules) {
        const Told told = tell(r, conflict, rule);
        rules.push_back(told.rule);
        words.push_back(told.words);
    }
    const auto who = names_of(r.students, conflict.students);
    const Json why{
        {"conflict", {{"students", who}, {"rules", rules}, {"minimal", conflict.minimal}}}};
    std::string text = "These wishes cannot all hold for " + base::list_of(who) + ": ";
    for (std::size_t i = 0; i < words.size(); ++i)
        text += (i > 0 ? "; " : "") + words[i];
    return cannot(why, text + ".");
}

Outcome tell_gave_up(const Request& r) {
    std::vector<int> everybody;
    for (int i = 0; i < r.problem.students; ++i)
        everybody.push_back(i);
    return cannot({{"conflict",
                    {{"students", names_of(r.students, everybody)},
                     {"rules", Json::array()},
                     {"minimal", false}}}},
                  "No grouping of these students was found that keeps every rule, and no proof "
                  "that there is none. Leave out a rule or allow larger groups.");
}

/// For each group with repeats: whom it brings together again and what any one exchange gives.
Json reasons(const Request& r, const plan::Grouping& best) {
    Json out = Json::array();
    if (best.repeat_pairs == 0 || r.students.size() > most_explained) return out;
    for (std::size_t g = 0; g < best.groups.size(); ++g) {
        const auto why = plan::reason(r.problem, best, int(g));
        if (why.repeats.empty()) continue;
        std::vector<std::string> pairs;
        for (const auto& pair : why.repeats)
            pairs.push_back(r.students[pair.first] + " and " + r.students[pair.second] +
                            " from grouping " + std::to_string(pair.past_index + 1));
        std::string text = "repeats " + base::list_of(pairs);
        if (why.best_other >= 0) {
            text += "; the best single exchange would leave " +
                    base::count_of(std::size_t(why.best_other), "repeat", "repeats") +
                    " in the class instead of " + std::to_string(best.repeat_pairs);
        }
        out.push_back({{"group", g}, {"why", text}});
    }
    return out;
}

Json grouping_json(const Request& r, const plan::GroupSearch& search) {
    const plan::Grouping& best = *search.best();
    Json groups = Json::array();
    for (const auto& group : best.groups)
        groups.push_back(names_of(r.students, group));
    Json broken = Json::array();
    for (const auto& rule : plan::broken_rules(r.problem, best.groups))
        broken.push_back(tell(r, {}, rule).rule);
    return {{"groups", groups},
            {"repeat_pairs", best.repeat_pairs},
            {"repeat_bound", double(search.repeat_bound()) / 1000.0},
            {"level_spread", best.level_spread},
            {"within_spread", best.within_spread},
            {"shared_needs", best.score.shared_needs},
            {"moved", best.score.moved},
            {"broken", broken},
            {"proved_best", search.proved_best()},
            {"reasons", reasons(r, best)},
            {"warnings", r.warnings}};
}

}  // namespace

Outcome run_group(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, group_synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, request_of);
    if (!request) return bad_input(input_name(call), request.error());
    plan::GroupSearch search(request->problem, std::int64_t(request->budget_ms * units_a_ms));
    // The work is fixed by the budget, so the result is the same everywhere; the clock only stops
    // a run on a machine that is far slower than the budget supposes.
    const double stop = call.steady_ms() + 10 * request->budget_ms + 5'000;
    while (!search.step(100'000) && call.steady_ms() < stop) {
    }
    if (search.conflict()) return tell_conflict(*request, *search.conflict());
    if (!search.best()) return tell_gave_up(*request);
    return done(grouping_json(*request, search));
}

}  // namespace tallyround::cli
