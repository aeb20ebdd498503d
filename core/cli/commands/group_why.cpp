#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/commands/group_request.h"

namespace tallyround::cli {

namespace {

using json::Json;

constexpr int most_explained = 60;

bool has(const std::vector<int>& list, int student) {
    return std::find(list.begin(), list.end(), student) != list.end();
}

std::vector<int> both(const std::vector<int>& a, const std::vector<int>& b) {
    std::vector<int> out;
    std::copy_if(a.begin(), a.end(), std::back_inserter(out), [&](int s) { return has(b, s); });
    return out;
}

/// The rules that have shaped this group.
void tell_rules(const GroupRequest& r, const std::vector<int>& group, int number, Json& out) {
    const auto& p = r.problem;
    if (has(p.locked, number)) out.push_back("This group is locked and stays as it was.");
    for (const auto& list : p.together) {
        const auto here = both(list, group);
        if (!here.empty())
            out.push_back(base::list_of(r.students.names(here)) + " are together by a rule.");
    }
    for (const auto& c : p.with_one_of) {
        if (!has(group, c.student)) continue;
        out.push_back(r.students[c.student] + " has the company of " +
                      base::list_of(r.students.names(both(c.partners, group))) + " (asked for " +
                      any_of(r.students.names(c.partners)) + ").");
    }
    for (std::size_t h = 0; h < p.helpers.size(); ++h) {
        const auto here = both(p.helpers[h].students, group);
        if (!here.empty())
            out.push_back("For " + base::list_of(r.students.names(here)) + " this group has " +
                          r.helpers[h].name + ".");
    }
    std::vector<int> seated;
    for (const int student : group)
        if (!p.seat.empty() && p.seat[student] >= 0) seated.push_back(student);
    if (!seated.empty())
        out.push_back(base::list_of(r.students.names(seated)) +
                      (seated.size() == 1 ? " has a fixed seat here." : " have fixed seats here."));
}

/// "the last grouping", "the grouping before the last", "grouping 2 of 5".
std::string when(const GroupRequest& r, int past) {
    const int count = int(r.problem.past.size());
    if (past + 1 == count) return "the last grouping";
    if (past + 2 == count) return "the grouping before the last";
    return "grouping " + std::to_string(past + 1) + " of " + std::to_string(count);
}

void tell_repeats(const GroupRequest& r, const plan::GroupSearch& search, int number, Json& out) {
    const plan::Grouping& best = *search.best();
    const auto why = plan::reason(r.problem, best, number);
    if (why.repeats.empty()) {
        if (!r.problem.past.empty()) out.push_back("Nobody here meets an earlier partner again.");
        return;
    }
    std::vector<std::string> pairs;
    for (const auto& pair : why.repeats)
        pairs.push_back(r.students[pair.first] + " and " + r.students[pair.second] + " from " +
                        when(r, pair.past_index));
    out.push_back("This group repeats " + base::list_of(pairs) + ".");
    const std::string now = base::count_of(std::size_t(best.repeat_pairs), "repeat", "repeats");
    if (best.score.repeat_cost <= search.repeat_bound()) {
        out.push_back("No other grouping that keeps the rules does better than " + now +
                      " in the whole class.");
    } else if (why.best_other >= best.repeat_pairs) {
        out.push_back("Every single exchange with another group would leave at least " +
                      std::to_string(why.best_other) + " in the whole class; now there are " +
                      std::to_string(best.repeat_pairs) + ".");
    }
    if (why.best_other < 0) out.push_back("No exchange with another group keeps the rules.");
}

void tell_needs(const GroupRequest& r, const std::vector<int>& group, Json& out) {
    if (r.problem.needs.empty()) return;
    for (int skill = 0; skill < r.skills.size(); ++skill) {
        std::vector<int> who;
        for (const int student : group)
            if (has(r.problem.needs[student], skill)) who.push_back(student);
        if (who.size() > 1)
            out.push_back(base::list_of(r.students.names(who)) + " need " + r.skills[skill] + ".");
    }
}

}  // namespace

Json group_whys(const GroupRequest& r, const plan::GroupSearch& search) {
    Json out = Json::array();
    if (r.students.size() > most_explained) return out;
    const auto& groups = search.best()->groups;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        Json sentences = Json::array();
        tell_rules(r, groups[g], int(g), sentences);
        tell_repeats(r, search, int(g), sentences);
        tell_needs(r, groups[g], sentences);
        out.push_back(std::move(sentences));
    }
    return out;
}

}  // namespace tallyround::cli
