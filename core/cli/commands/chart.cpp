#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/cli.h"
#include "cli/commands/plan_commands.h"
#include "json/read.h"
#include "plan/chart.h"

namespace tallyround::cli {

namespace {

using json::Field;
using json::Json;
using plan::ChartRule;

constexpr std::size_t most_rules = 2'000;
constexpr double units_a_ms = 300;

struct Request {
    Names groups;
    Names centers;
    plan::ChartProblem problem;
    std::vector<std::vector<std::string>> done_names;  ///< as given: a center may be gone now
    double budget_ms = 1'000;
};

void read_stock(const Field& root, Request& r, Names& devices) {
    const auto stock = root.find("stock");
    if (!stock) return;
    for (const auto& [name, field] : stock->members(100)) {
        devices.add(name, field);
        r.problem.stock.push_back(int(field.integer(0, 1'000'000)));
    }
}

void read_centers(const Field& root, Request& r, const Names& devices) {
    const Field list = root.at("centers");
    for (const Field& item : list.items(std::size_t(plan::most_chart_centers))) {
        const Field id = item.is_object() ? item.at("id") : item;
        r.centers.add(id.text(1000), id);
        plan::ChartCenter center;
        center.needs.assign(std::size_t(devices.size()), 0);
        if (item.is_object()) {
            center.holds = int(item.integer_or("holds", 1, 1000, 1));
            // Without any stock nothing is known about devices, so they are no limit.
            const auto needs = item.find("needs");
            if (needs && devices.size() > 0)
                for (const auto& [name, field] : needs->members(100))
                    center.needs[devices.of_key(name, field)] = int(field.integer(0, 1'000'000));
        }
        r.problem.centers.push_back(std::move(center));
    }
    if (r.problem.centers.empty()) list.refuse("At least one center is needed.");
}

ChartRule::Kind kind_of(const Field& rule) {
    static const std::vector<std::pair<std::string, ChartRule::Kind>> kinds{
        {"must_visit", ChartRule::Kind::must_visit},
        {"before", ChartRule::Kind::before},
        {"not_in_round", ChartRule::Kind::not_in_round},
        {"visit_in_round", ChartRule::Kind::visit_in_round},
        {"at_most", ChartRule::Kind::at_most},
        {"only_in_rounds", ChartRule::Kind::only_in_rounds}};
    const Field name = rule.at("rule");
    const std::string text = name.text(100);
    for (const auto& [word, kind] : kinds)
        if (word == text) return kind;
    name.refuse("There is no rule \"" + text +
                "\"; must_visit, before, not_in_round, visit_in_round, at_most or only_in_rounds "
                "was expected.");
}

ChartRule rule_of(const Field& field, const Request& r) {
    using Kind = ChartRule::Kind;
    ChartRule rule;
    rule.kind = kind_of(field);
    if (const auto groups = field.find("groups")) rule.groups = r.groups.list_of(*groups, 1);
    if (const auto group = field.find("group")) rule.groups.push_back(r.groups.of(*group));
    if (rule.kind == Kind::before) {
        rule.center = r.centers.of(field.at("first"));
        rule.then = r.centers.of(field.at("then"));
        if (rule.center == rule.then)
            field.at("then").refuse("A center cannot come before itself.");
        return rule;
    }
    rule.center = r.centers.of(field.at("center"));
    if (rule.kind == Kind::not_in_round || rule.kind == Kind::visit_in_round)
        rule.round = int(field.at("round").integer(1, r.problem.rounds)) - 1;
    if (rule.kind == Kind::only_in_rounds)
        for (const Field& round : field.at("rounds").items(std::size_t(r.problem.rounds)))
            rule.rounds.push_back(int(round.integer(1, r.problem.rounds)) - 1);
    if (rule.kind == Kind::at_most) rule.times = int(field.at("times").integer(0, 1000));
    return rule;
}

/// Rows of center names or null. A name that is no center now counts as gone.
plan::Cells rows_of(const Field& array, const Request& r, int fill,
                    std::vector<std::vector<std::string>>* names) {
    plan::Cells rows;
    if (int(array.items().size()) > r.problem.groups)
        array.refuse("There are more rows than groups.");
    for (const Field& list : array.items()) {
        if (list.items().size() > std::size_t(r.problem.rounds))
            list.refuse("There are more cells than rounds.");
        std::vector<int> row;
        if (names != nullptr) names->emplace_back();
        for (const Field& cell : list.items()) {
            const std::string name = cell.value().is_null() ? "" : cell.text(1000);
            if (names != nullptr) names->back().push_back(name);
            const int center = r.centers.find(name);
            row.push_back(center >= 0 ? center : name.empty() ? plan::idle : plan::gone);
        }
        if (fill == plan::unknown) row.resize(std::size_t(r.problem.rounds), fill);
        rows.push_back(std::move(row));
    }
    return rows;
}

plan::ChartOrder order_of(const Field& root) {
    const std::string text = root.text_or("order", "any");
    if (text == "any") return plan::ChartOrder::any;
    if (text == "cyclic") return plan::ChartOrder::cyclic;
    if (text == "balanced") return plan::ChartOrder::balanced;
    root.at("order").refuse("\"cyclic\", \"balanced\" or \"any\" was expected.");
}

Request request_of(const Field& root) {
    Request r;
    auto& p = r.problem;
    const Field groups = root.at("groups");
    r.groups = Names(groups, "group", std::size_t(plan::most_chart_groups));
    p.groups = r.groups.size();
    if (p.groups == 0) groups.refuse("At least one group is needed.");
    p.rounds = int(root.at("rounds").integer(1, plan::most_chart_rounds));
    Names devices;
    devices.what = "device";
    r.centers.what = "center";
    read_stock(root, r, devices);
    read_centers(root, r, devices);
    if (const auto rules = root.find("rules"))
        for (const Field& rule : rules->items(most_rules))
            p.rules.push_back(rule_of(rule, r));
    p.order = order_of(root);
    if (const auto done = root.find("done")) p.done = rows_of(*done, r, plan::idle, &r.done_names);
    if (const auto was = root.find("was")) p.was = rows_of(*was, r, plan::unknown, nullptr);
    p.seed = std::uint64_t(root.integer_or("seed", 0, std::int64_t{1} << 53U, 1));
    r.budget_ms = root.number_or("budget_ms", 0, 600'000, 1'000);
    return r;
}

std::vector<std::string> group_names(const Request& r, const std::vector<int>& groups) {
    std::vector<std::string> out;
    for (const int g : groups)
        out.push_back(r.groups[g]);
    return out;
}

struct Told {
    Json rule;
    std::string words;
};

/// A rule of the request in its own keys and in words.
Told tell(const Request& r, int index) {
    using Kind = ChartRule::Kind;
    const ChartRule& rule = r.problem.rules[index];
    const std::string& center = r.centers[rule.center];
    const std::string round = std::to_string(rule.round + 1);
    Told told{{{"where", "/rules/" + std::to_string(index)}}, ""};
    std::string whom = "every group";
    if (!rule.groups.empty()) {
        told.rule["groups"] = group_names(r, rule.groups);
        whom = base::list_of(group_names(r, rule.groups));
    }
    if (rule.kind != Kind::before) told.rule["center"] = center;
    if (rule.kind == Kind::must_visit) {
        told.rule["rule"] = "must_visit";
        told.words = whom + " must visit " + center;
    } else if (rule.kind == Kind::before) {
        told.rule["rule"] = "before";
        told.rule["first"] = center;
        told.rule["then"] = r.centers[rule.then];
        told.words = whom + " at " + center + " before " + r.centers[rule.then];
    } else if (rule.kind == Kind::not_in_round) {
        told.rule["rule"] = "not_in_round";
        told.rule["round"] = rule.round + 1;
        told.words = whom + " not at " + center + " in round " + round;
    } else if (rule.kind == Kind::visit_in_round) {
        told.rule["rule"] = "visit_in_round";
        told.rule["round"] = rule.round + 1;
        told.words = whom + " at " + center + " in round " + round;
    } else if (rule.kind == Kind::only_in_rounds) {
        Json rounds = Json::array();
        std::vector<std::string> words;
        for (const int r0 : rule.rounds) {
            rounds.push_back(r0 + 1);
            words.push_back(std::to_string(r0 + 1));
        }
        told.rule["rule"] = "only_in_rounds";
        told.rule["rounds"] = rounds;
        told.words = words.empty() ? whom + " never at " + center
                                   : whom + " at " + center + " only in round " + any_of(words);
    } else {
        told.rule["rule"] = "at_most";
        told.rule["times"] = rule.times;
        told.words = whom + " at " + center + " at most " +
                     base::count_of(std::size_t(rule.times), "time", "times");
    }
    return told;
}

Outcome tell_conflict(const Request& r, const plan::ChartConflict& conflict) {
    Json rules = Json::array();
    std::string words;
    std::vector<char> named(std::size_t(r.centers.size()), 0);
    for (const int index : conflict.rules) {
        const Told told = tell(r, index);
        rules.push_back(told.rule);
        words += (words.empty() ? "" : "; ") + told.words;
        named[r.problem.rules[index].center] = 1;
        if (r.problem.rules[index].kind == ChartRule::Kind::before)
            named[r.problem.rules[index].then] = 1;
    }
    Json centers = Json::array();
    for (int c = 0; c < r.centers.size(); ++c)
        if (named[c] != 0) centers.push_back(r.centers[c]);
    if (conflict.needs_holds) words += "; each center holds only so many groups at once";
    if (conflict.needs_stock) words += "; there are only so many devices";
    const auto groups = group_names(r, conflict.groups);
    const Json why{{"conflict",
                    {{"groups", groups},
                     {"centers", centers},
                     {"rules", rules},
                     {"rounds", r.problem.rounds},
                     {"holds", conflict.needs_holds},
                     {"stock", conflict.needs_stock},
                     {"minimal", conflict.minimal}}}};
    return cannot(why, "These rules cannot all hold for " + base::list_of(groups) + " in " +
                           base::count_of(std::size_t(r.problem.rounds), "round", "rounds") + ": " +
                           words + ".");
}

Outcome tell_gave_up(const Request& r) {
    Json rules = Json::array();
    for (std::size_t i = 0; i < r.problem.rules.size(); ++i)
        rules.push_back(tell(r, int(i)).rule);
    return cannot({{"conflict", {{"rules", rules}, {"minimal", false}}}},
                  "No chart was found that keeps every rule, and no proof that there is none. "
                  "Leave out a rule or give it more time.");
}

Json chart_json(const Request& r, const plan::ChartSearch& search) {
    const plan::Cells& cells = *search.best();
    Json rows = Json::array();
    Json idle = Json::array();
    for (int g = 0; g < r.problem.groups; ++g) {
        Json row = Json::array();
        const bool some_done = std::size_t(g) < r.done_names.size();
        const std::size_t done = some_done ? r.done_names[g].size() : 0;
        for (int round = 0; round < r.problem.rounds; ++round) {
            const int c = cells[g][round];
            if (c >= 0) {
                row.push_back(r.centers[c]);
            } else if (std::size_t(round) < done && !r.done_names[g][round].empty()) {
                row.push_back(r.done_names[g][round]);
            } else {
                row.push_back(nullptr);
                if (std::size_t(round) >= done) idle.push_back({r.groups[g], round + 1});
            }
        }
        rows.push_back(std::move(row));
    }
    Json broken = Json::array();
    for (const int rule : plan::faults(r.problem, cells).rules)
        broken.push_back(tell(r, rule).rule);
    const plan::ChartScore& score = search.score();
    return {
        {"chart", rows},
        {"idle", idle},
        {"broken", broken},
        {"changed_cells", score.changed},
        {"repeat_visits", score.repeats},
        {"early_repeats", score.early},
        {"order_cost", score.order},
        {"idle_bound", search.bounds().idle},
        {"changed_bound", search.bounds().changed},
        {"proved", {{"idle", search.proved_idle()}, {"changed_cells", search.proved_changed()}}},
        {"proved_best", search.proved_best()}};
}

}  // namespace

Outcome run_chart(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, chart_synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, request_of);
    if (!request) return bad_input(input_name(call), request.error());
    plan::ChartSearch search(request->problem, std::int64_t(request->budget_ms * units_a_ms));
    // As in `group`: the budget is work, the clock only a far stop.
    const double stop = call.steady_ms() + 10 * request->budget_ms + 5'000;
    while (!search.step(5'000) && call.steady_ms() < stop) {
    }
    if (search.conflict()) return tell_conflict(*request, *search.conflict());
    if (!search.best()) return tell_gave_up(*request);
    return done(chart_json(*request, search));
}

}  // namespace tallyround::cli
