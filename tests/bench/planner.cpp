// Planning problems drawn from a fixed seed, and what solving them takes here.
//
//   bench_planner problems   prints the grouping problems as JSON, for other solvers
//   bench_planner solve      solves each of them: milliseconds, repeated pairs, proof
//   bench_planner targets    the three figures that the app is held to
//   bench_planner growth     12 to 120 students
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/random.h"
#include "plan/chart.h"
#include "plan/group.h"
#include "plan/partners.h"

using namespace tallyround;
using Json = nlohmann::json;

namespace {

constexpr std::uint64_t seed = 20261126;

double median_ms(int times, const std::function<void()>& work) {
    std::vector<double> all;
    for (int i = 0; i < times; ++i) {
        const auto start = std::chrono::steady_clock::now();
        work();
        const auto took = std::chrono::steady_clock::now() - start;
        all.push_back(std::chrono::duration<double, std::milli>(took).count());
    }
    std::sort(all.begin(), all.end());
    return all[all.size() / 2];
}

std::vector<int> shuffled(base::Random& random, int n) {
    std::vector<int> order(std::size_t(n), 0);
    for (int i = 0; i < n; ++i)
        order[std::size_t(i)] = i;
    for (std::size_t i = order.size() - 1; i > 0; --i)
        std::swap(order[i], order[std::size_t(random.below(i + 1))]);
    return order;
}

/// A class in fours after `blocks` blocks, with `wishes` rules: two of three apart, else together.
plan::GroupProblem group_problem(base::Random& random, int students, int blocks, int wishes) {
    plan::GroupProblem p;
    p.students = students;
    for (int b = 0; b < blocks; ++b) {
        const auto order = shuffled(random, students);
        auto& grouping = p.past.emplace_back();
        for (int s = 0; s < students; s += 4)
            grouping.emplace_back(order.begin() + s, order.begin() + std::min(s + 4, students));
    }
    std::vector<bool> used(std::size_t(students), false);
    for (int w = 0; w < wishes; ++w) {
        const int a = int(random.below(std::uint64_t(students)));
        const int b = (a + 1 + int(random.below(std::uint64_t(students) - 1))) % students;
        // Each student in one rule at most: so every problem can be met.
        if (used[std::size_t(a)] || used[std::size_t(b)]) continue;
        used[std::size_t(a)] = used[std::size_t(b)] = true;
        (w % 3 == 2 ? p.together : p.apart).push_back({a, b});
    }
    return p;
}

std::vector<plan::GroupProblem> problems() {
    base::Random random(seed);
    std::vector<plan::GroupProblem> out;
    for (const int students : {24, 28, 32, 36}) {
        for (const int blocks : {4, 6, 8})
            out.push_back(group_problem(random, students, blocks, 12));
    }
    return out;
}

void print_problems() {
    Json all = Json::array();
    for (const plan::GroupProblem& p : problems()) {
        all.push_back({{"students", p.students},
                       {"size", p.size_max},
                       {"past", p.past},
                       {"apart", p.apart},
                       {"together", p.together}});
    }
    std::puts(all.dump().c_str());
}

void print_solved() {
    Json all = Json::array();
    for (const plan::GroupProblem& p : problems()) {
        int repeats = -1;
        bool proved = false;
        const double ms = median_ms(5, [&] {
            const auto search = plan::solve_groups(p, 100'000);
            repeats = search.best() ? search.best()->repeat_pairs : -1;
            proved = search.proved_best();
        });
        all.push_back({{"ms", ms}, {"repeats", repeats}, {"proved", proved}});
    }
    std::puts(all.dump().c_str());
}

/// Eight groups, eight centers, eight rounds and twelve rules of all kinds.
plan::ChartProblem chart_problem(std::uint64_t number, plan::ChartOrder order) {
    using Kind = plan::ChartRule::Kind;
    base::Random random(seed + number);
    plan::ChartProblem p;
    p.groups = p.rounds = 8;
    p.centers.assign(8, {});
    p.order = order;
    const auto rule = [&](Kind kind) {
        plan::ChartRule r;
        r.kind = kind;
        r.center = int(random.below(8));
        r.then = (r.center + 1 + int(random.below(7))) % 8;
        r.round = int(random.below(8));
        if (kind == Kind::before || kind == Kind::visit_in_round) r.groups = {int(random.below(8))};
        p.rules.push_back(r);
    };
    for (const Kind kind :
         {Kind::must_visit, Kind::must_visit, Kind::before, Kind::before, Kind::before,
          Kind::visit_in_round, Kind::visit_in_round, Kind::not_in_round, Kind::not_in_round,
          Kind::at_most, Kind::at_most, Kind::at_most})
        rule(kind);
    return p;
}

Json chart_times(plan::ChartOrder order) {
    std::vector<double> took;
    for (std::uint64_t i = 0; i < 20; ++i) {
        const auto problem = chart_problem(i, order);
        took.push_back(median_ms(3, [&] { plan::solve_chart(problem, 20'000); }));
    }
    std::sort(took.begin(), took.end());
    return {{"p50", took[took.size() / 2]}, {"most", took.back()}};
}

void print_targets() {
    base::Random random(seed);
    std::vector<double> groups;
    for (int i = 0; i < 20; ++i) {
        const auto p = group_problem(random, 32, 6, 12);
        groups.push_back(median_ms(3, [&] { plan::solve_groups(p, 100'000); }));
    }
    std::sort(groups.begin(), groups.end());
    plan::PartnersProblem term;
    term.students = 28;
    term.blocks = 9;
    const double partners = median_ms(3, [&] { plan::solve_partners(term); });
    const Json all = {{"groups", {{"p50", groups[10]}, {"most", groups.back()}}},
                      {"chart_any", chart_times(plan::ChartOrder::any)},
                      {"chart_cyclic", chart_times(plan::ChartOrder::cyclic)},
                      {"chart_balanced", chart_times(plan::ChartOrder::balanced)},
                      {"partners", partners}};
    std::puts(all.dump().c_str());
}

void print_growth() {
    Json all = Json::array();
    for (const int students : {12, 24, 36, 48, 60, 72, 84, 96, 108, 120}) {
        base::Random random(seed + std::uint64_t(students));
        const auto p = group_problem(random, students, 6, students / 3);
        double first = 0.0;
        const double ms = median_ms(3, [&] {
            const auto start = std::chrono::steady_clock::now();
            plan::GroupSearch search(p, 100'000);
            while (!search.best() && !search.step(1'000)) {
            }
            const auto took = std::chrono::steady_clock::now() - start;
            first = std::chrono::duration<double, std::milli>(took).count();
            while (!search.step(100'000)) {
            }
        });
        all.push_back({{"students", students}, {"first", first}, {"ms", ms}});
    }
    std::puts(all.dump().c_str());
}

}  // namespace

int main(int count, char** words) {
    const std::string what = count == 2 ? words[1] : "";
    if (what == "problems")
        print_problems();
    else if (what == "solve")
        print_solved();
    else if (what == "targets")
        print_targets();
    else if (what == "growth")
        print_growth();
    else {
        std::fputs("usage: bench_planner problems|solve|targets|growth\n", stderr);
        return 2;
    }
    return 0;
}
