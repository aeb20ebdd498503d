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
        rule.kind = Kind(random.below(6));
        rule.center = int(random.below(std::uint64_t(centers)));
        rule.then = (rule.center + int(random.between(1, centers - 1))) % centers;
        rule.round = int(random.below(std::uint64_t(p.rounds)));
        rule.times = int(random.between(1, 2));
        for (int r = 0; r < p.rounds; ++r)
            if (random.below(2) == 0) rule.rounds.push_back(r);
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
        case Kind::only_in_rounds:
            for (std::size_t r = 0; r < row.size(); ++r)
                if (row[r] == rule.center &&
                    std::count(rule.rounds.begin(), rule.rounds.end(), int(r)) == 0)
                    return false;
            return true;
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

/// Something that happens in the middle of a lesson that was planned as `p.was`: the first round
/// is done.
void upset(ChartProblem& p, base::Random& random) {
    for (const auto& row : p.was)
        p.done.emplace_back(row.begin(), row.begin() + 1);
    const int center = int(random.below(p.centers.size()));
    const int other = int(random.below(p.centers.size()));
    ChartRule shut;
    shut.kind = Kind::only_in_rounds;
    shut.center = center;
    switch (random.below(5)) {
        case 0:  // closed for the rest
            p.rules.push_back(shut);
            break;
        case 1:  // swapped for another one
            p.rules.push_back(shut);
            p.centers.push_back(p.centers[center]);
            break;
        case 2:  // one is added
            p.centers.push_back({1, {0}});
            break;
        case 3:  // a group falls behind: its first round did not count and it owes a visit
            p.done[0] = {plan::idle};
            shut.kind = Kind::must_visit;
            shut.center = other;
            shut.groups = {0};
            p.rules.push_back(shut);
            break;
        default:  // a round is lost
            p.rounds -= p.rounds > 2 ? 1 : 0;
            break;
    }
}

/// The best score of all charts in which what is done stays, the order left out.
std::optional<plan::ChartScore> every_repair(const ChartProblem& p) {
    std::optional<plan::ChartScore> best;
    Cells cells(std::size_t(p.groups), std::vector<int>(std::size_t(p.rounds), plan::idle));
    for (int g = 0; g < p.groups; ++g)
        cells[g][0] = p.done[g][0];
    const int open = p.rounds - 1;
    for (;;) {
        if (faults(p, cells).none()) {
            plan::ChartScore score = measure(p, cells);
            score.order = 0;
            if (!best || score.better(*best)) best = score;
        }
        int i = 0;
        for (; i < p.groups * open; ++i) {
            int& cell = cells[i / open][1 + i % open];
            if (++cell < int(p.centers.size())) break;
            cell = plan::idle;
        }
        if (i == p.groups * open) return best;
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
    int tried = 0;
    int proved = 0;
    int changed = 0;
    for (int trial = 0; trial < 160; ++trial) {
        CAPTURE(trial);
        ChartProblem p = random_problem(random, 4, 0);
        if (p.groups * (p.rounds - 1) > 6) continue;
        p.was = *solve_chart(p, 5'000).best();
        upset(p, random);
        const auto best = every_repair(p);
        const auto search = solve_chart(p, 20'000);
        CHECK(best.has_value() == (search.state() == ChartSearch::State::found));
        if (!best) continue;
        REQUIRE(search.best());
        CHECK(faults(p, *search.best()).none());
        CHECK(search.score().idle == best->idle);
        CHECK(search.score().early == best->early);
        CHECK(search.score().changed == best->changed);
        ++tried;
        proved += search.proved_changed();
        changed += best->changed;
    }
    MESSAGE(tried, " repairs, ", proved, " proved, ", changed, " cells changed");
    CHECK(tried > 40);
    CHECK(proved > tried * 9 / 10);
}
