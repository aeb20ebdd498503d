#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/cli.h"
#include "cli/commands/group_request.h"
#include "json/read.h"

namespace tallyround::cli {

namespace {

using json::Json;

constexpr double units_a_ms = 2'500;

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

Told tell(const GroupRequest& r, const plan::GroupConflict& conflict, const plan::GroupRule& rule) {
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
        case Kind::with_one_of: {
            const auto& c = p.with_one_of[rule.index];
            const auto partners = r.students.names(c.partners);
            return {{{"rule", "with_one_of"},
                     {"students", {r.students[c.student]}},
                     {"partners", partners},
                     {"where", "/with_one_of/" + number}},
                    r.students[c.student] + " with " + any_of(partners)};
        }
        case Kind::helper: {
            const auto& helper = p.helpers[rule.index];
            const auto who = names_in(r.students, helper.students, conflict.students);
            return {{{"rule", "helper"},
                     {"students", who},
                     {"groups", helper.groups},
                     {"where", "/helpers/" + number}},
                    base::list_of(who) + " in at most " +
                        base::count_of(std::size_t(helper.groups), "group", "groups") + " with " +
                        r.helpers[rule.index].name};
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

Outcome tell_conflict(const GroupRequest& r, const plan::GroupConflict& conflict) {
    Json rules = Json::array();
    std::vector<std::string> words;
    for (const auto& rule : conflict.rules) {
        const Told told = tell(r, conflict, rule);
        rules.push_back(told.rule);
        words.push_back(told.words);
    }
    const auto who = r.students.names(conflict.students);
    const Json why{
        {"conflict", {{"students", who}, {"rules", rules}, {"minimal", conflict.minimal}}}};
    std::string text = "These wishes cannot all hold for " + base::list_of(who) + ": ";
    for (std::size_t i = 0; i < words.size(); ++i)
        text += (i > 0 ? "; " : "") + words[i];
    return cannot(why, text + ".");
}

Outcome tell_gave_up(const GroupRequest& r) {
    std::vector<int> everybody;
    for (int i = 0; i < r.problem.students; ++i)
        everybody.push_back(i);
    return cannot({{"conflict",
                    {{"students", r.students.names(everybody)},
                     {"rules", Json::array()},
                     {"minimal", false}}}},
                  "No grouping of these students was found that keeps every rule, and no proof "
                  "that there is none. Leave out a rule or allow larger groups.");
}

/// For each helper: the groups to go along with, and in which round with which.
Json helpers_json(const GroupRequest& r, const plan::Grouping& best) {
    Json out = Json::array();
    for (std::size_t h = 0; h < r.helpers.size(); ++h) {
        const auto& students = r.problem.helpers[h].students;
        std::vector<int> groups;
        for (std::size_t g = 0; g < best.groups.size(); ++g) {
            const auto& group = best.groups[g];
            const bool helped = std::any_of(group.begin(), group.end(), [&](int s) {
                return std::find(students.begin(), students.end(), s) != students.end();
            });
            if (helped) groups.push_back(int(g));
        }
        const auto rota = plan::helper_rota(groups, r.helpers[h].rounds);
        Json with = Json::array();
        for (std::size_t i = 0; i < rota.size(); ++i)
            with.push_back({{"round", r.helpers[h].rounds[i]}, {"group", rota[i]}});
        out.push_back({{"name", r.helpers[h].name}, {"groups", groups}, {"with", with}});
    }
    return out;
}

Json grouping_json(const GroupRequest& r, const plan::GroupSearch& search) {
    const plan::Grouping& best = *search.best();
    Json groups = Json::array();
    for (const auto& group : best.groups)
        groups.push_back(r.students.names(group));
    Json broken = Json::array();
    for (const auto& rule : plan::broken_rules(r.problem, best.groups))
        broken.push_back(tell(r, {}, rule).rule);
    return {{"groups", groups},
            {"repeat_pairs", best.repeat_pairs},
            {"repeat_bound", double(search.repeat_bound()) / 1000.0},
            {"gap", double(best.score.repeat_cost - search.repeat_bound()) / 1000.0},
            {"proved_fewest_repeats", best.score.repeat_cost <= search.repeat_bound()},
            {"level_spread", best.level_spread},
            {"within_spread", best.within_spread},
            {"shared_needs", best.score.shared_needs},
            {"moved", best.score.moved},
            {"proved_fewest_moved", search.proved_fewest_moved()},
            {"broken", broken},
            {"proved_best", search.proved_best()},
            {"helpers", helpers_json(r, best)},
            {"why", group_whys(r, search)},
            {"warnings", r.warnings}};
}

}  // namespace

Outcome run_group(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, group_synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, group_request);
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
