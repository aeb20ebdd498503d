// Optimal values of random problems from a general MIP solver (HiGHS); see mip_optima.mjs.
#include <doctest/doctest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "plan/chart.h"
#include "plan/group.h"

using namespace tallyround;
using Json = nlohmann::json;

namespace {

Json optima() {
    std::ifstream in(std::string(TALLYROUND_TEST_DATA) + "/plan/mip_optima.json");
    REQUIRE(in);
    return Json::parse(in);
}

plan::ChartRule rule_of(const Json& item) {
    using Kind = plan::ChartRule::Kind;
    const std::string kind = item.at("kind");
    plan::ChartRule rule;
    rule.kind = kind == "must_visit"       ? Kind::must_visit
                : kind == "before"         ? Kind::before
                : kind == "not_in_round"   ? Kind::not_in_round
                : kind == "visit_in_round" ? Kind::visit_in_round
                                           : Kind::at_most;
    rule.center = item.at("center");
    rule.then = item.at("then");
    rule.round = item.at("round");
    rule.times = item.at("times");
    if (item.at("group") >= 0) rule.groups = {item.at("group").get<int>()};
    return rule;
}

}  // namespace

TEST_CASE("groups: the solver's optimum is reached, proved, or there is a conflict in both") {
    const Json all = optima();
    int solved = 0;
    for (const Json& item : all.at("group")) {
        CAPTURE(item.dump());
        plan::GroupProblem p;
        p.students = item.at("students");
        p.size_max = item.at("size");
        p.past = item.at("past").get<decltype(p.past)>();
        p.apart = item.at("apart").get<decltype(p.apart)>();
        p.together = item.at("together").get<decltype(p.together)>();
        const auto search = plan::solve_groups(p);
        if (item.at("repeats").is_null()) {
            CHECK(search.state() == plan::GroupSearch::State::conflict);
            continue;
        }
        REQUIRE(search.best());
        CHECK(search.best()->repeat_pairs == item.at("repeats").get<int>());
        CHECK(search.repeat_bound() <= 1000 * item.at("repeats").get<int>());
        ++solved;
    }
    CHECK(solved >= 20);
}

TEST_CASE("charts: as few idle cells as the solver finds, proved") {
    const Json all = optima();
    int solved = 0;
    for (const Json& item : all.at("chart")) {
        CAPTURE(item.dump());
        plan::ChartProblem p;
        p.groups = item.at("groups");
        p.rounds = item.at("rounds");
        for (const int holds : item.at("holds"))
            p.centers.push_back({holds, {}});
        for (const Json& rule : item.at("rules"))
            p.rules.push_back(rule_of(rule));
        const auto search = plan::solve_chart(p);
        if (item.at("idle").is_null()) {
            CHECK(search.state() == plan::ChartSearch::State::conflict);
            continue;
        }
        REQUIRE(search.best());
        CHECK(search.score().idle == item.at("idle").get<int>());
        CHECK(search.bounds().idle <= item.at("idle").get<int>());
        ++solved;
    }
    CHECK(solved >= 30);
}
