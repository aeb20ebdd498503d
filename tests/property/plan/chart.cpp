// Random small lessons against trying every chart, and rules of larger ones checked by other code.
#include "plan/chart.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>

#include "base/random.h"

using namespace tallyround;
using plan::Cells;
using plan::ChartProblem;
using plan::ChartRule;
using plan::ChartSearch;
using Kind = plan::ChartRule::Kind;

namespace {

constexpr std::uint64_t seed = 1850;

ChartProblem random_problem(base::Random& random, int most, int most_rules) {
    ChartProblem p;
    p.groups = int(random.between(2, most));
    p.rounds = int(random.between(2, most));
    const int centers = int(random.between(2, most));
    p.stock = {int(random.between(1, 3)) * 4};
    for (int c = 0; c < centers; ++c) {
        plan::ChartCenter center;
        center.holds = random.below(4) == 0 ? 2 : 1;
        center.needs = {random.below(4) == 0 ? 4 : 0};
        p.centers.push_back(center);
    }
    p.order = plan::ChartOrder(random.below(3));
    for (auto n = random.below(std::uint64_t(most_rules) + 1); n > 0; --n) {
        ChartRule rule;
        rule.kind = Kind(random.below(5));
        rule.center = int(random.below(std::uint64_t(centers)));
        rule.then = (rule.center + int(random.between(1, centers - 1))) % centers;
        rule.round = int(random.below(std::uint64_t(p.rounds)));
        rule.times = int(random.between(1, 2));
        if (rule.kind == Kind::visit_in_round || random.below(2) == 0)
            rule.groups = {int(random.below(std::uint64_t(p.groups)))};
        p.rules.push_back(rule);
    }
    return p;
}

bool row_keeps(const ChartRule& rule, const std::vector<int>& row) {
    const auto at = [&](int c) { return std::find(row.begin(), row.end(), c) - row.begin(); };
    const auto visits = std::count(row.begin(), row.end(), rule.center);
    const auto never = std::ptrdiff_t(row.size());
    switch (rule.kind) {
        case Kind::must_visit:
            return visits > 0;
        case Kind::before:
            return at(rule.then) == never || at(rule.center) < at(rule.then);
        case Kind::not_in_round:
            return row[rule.round] != rule.center;
        case Kind::visit_in_round:
            return row[rule.round] == rule.center;
        case Kind::at_most:
            return visits <= rule.times;
    }
    return false;
}

/// The rules, room and devices, written down once more.
bool keeps_all(const ChartProblem& p, const Cells& cells) {
    for (const ChartRule& rule : p.rules)
        for (int g = 0; g < p.groups; ++g)
            if (rule.groups.empty() || rule.groups[0] == g)
                if (!row_keeps(rule, cells[g])) return false;
    for (int r = 0; r < p.rounds; ++r) {
        int devices = 0;
        std::vector<int> use(p.centers.size(), 0);
        for (int g = 0; g < p.groups; ++g) {
            if (cells[g][r] == plan::idle) continue;
            ++use[cells[g][r]];
            devices += p.centers[cells[g][r]].needs[0];
        }
        if (devices > p.stock[0]) return false;
        for (std::size_t c = 0; c < use.size(); ++c)
            if (use[c] > p.centers[c].holds) return false;
    }
    return true;
}

/// The best score of all charts, the order left out.
std::optional<plan::ChartScore> every_chart(const ChartProblem& p) {
    std::optional<plan::ChartScore> best;
    Cells cells(std::size_t(p.groups), std::vector<int>(std::size_t(p.rounds), plan::idle));
    for (;;) {
        if (keeps_all(p, cells)) {
            plan::ChartScore score = measure(p, cells);
            score.order = 0;
            if (!best || score.better(*best)) best = score;
        }
        int i = 0;
        for (; i < p.groups * p.rounds; ++i) {
            int& cell = cells[i / p.rounds][i % p.rounds];
            if (++cell < int(p.centers.size())) break;
            cell = plan::idle;
        }
        if (i == p.groups * p.rounds) return best;
    }
}

}  // namespace

TEST_CASE("small lessons: as good as every chart") {
    MESSAGE("seed ", seed);
    base::Random random(seed);
    int conflicts = 0;
    for (int trial = 0; trial < 150; ++trial) {
        CAPTURE(trial);
        const ChartProblem p = random_problem(random, 3, 3);
        if (p.groups * p.rounds > 6) continue;
        const auto best = every_chart(p);
        const auto search = solve_chart(p, 20'000);
        CHECK(best.has_value() == (search.state() == ChartSearch::State::found));
        if (!best) {
            ++conflicts;
            CHECK(search.conflict()->minimal);
            continue;
        }
        REQUIRE(search.best());
        CHECK(keeps_all(p, *search.best()));
        plan::ChartScore found = search.score();
        found.order = 0;
        CHECK(found.idle == best->idle);
        CHECK(search.proved_idle());
        CHECK(found.early <= best->early);
        if (search.proved_repeats()) CHECK(found == *best);
    }
    CHECK(conflicts > 3);
}

TEST_CASE("lessons of usual size: every rule is kept or a conflict is told") {
    base::Random random(seed + 1);
    int found = 0;
    for (int trial = 0; trial < 80; ++trial) {
        CAPTURE(trial);
        const ChartProblem p = random_problem(random, 8, 12);
        const auto search = solve_chart(p, 8'000);
        if (search.state() == ChartSearch::State::found) {
            ++found;
            CHECK(keeps_all(p, *search.best()));
            CHECK(faults(p, *search.best()).none());
            CHECK(search.score().early == 0);
        } else if (search.state() == ChartSearch::State::conflict) {
            // The named rules alone are in conflict, too.
            ChartProblem named = p;
            named.rules.clear();
            for (const int i : search.conflict()->rules)
                named.rules.push_back(p.rules[i]);
            CHECK(solve_chart(named, 8'000).state() != ChartSearch::State::found);
        }
    }
    CHECK(found > 20);
}

TEST_CASE("repair: done cells stay, and no fewer changes are possible in small lessons") {
    base::Random random(seed + 2);
    for (int trial = 0; trial < 60; ++trial) {
        CAPTURE(trial);
        ChartProblem p = random_problem(random, 3, 0);
        if (p.groups * p.rounds > 6) continue;
        p.was = *solve_chart(p, 5'000).best();
        ChartRule closed;
        closed.kind = Kind::not_in_round;
        closed.center = int(random.below(p.centers.size()));
        closed.round = int(random.below(std::uint64_t(p.rounds)));
        p.rules = {closed};
        const auto best = every_chart(p);
        const auto search = solve_chart(p, 20'000);
        REQUIRE(search.best());
        CHECK(search.score().idle == best->idle);
        CHECK(search.score().early <= best->early);
        if (search.proved_changed()) CHECK(search.score().changed <= best->changed);
    }
}
