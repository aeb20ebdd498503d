#include "plan/chart_conflict.h"

#include <algorithm>
#include <utility>

#include "plan/chart_solver.h"
#include "plan/minimal.h"

namespace tallyround::plan::detail {

int repeat_bound(const ChartModel& m, int idle_cells) {
    int total = 0;
    for (int g = 0; g < m.groups; ++g) {
        Mask reach = 0;
        int open = 0;
        int done = 0;
        for (int r = m.first[g]; r < m.rounds; ++r) {
            reach |= m.allowed[m.cell(g, r)];
            ++open;
        }
        int fresh = 0;
        for (int c = 0; c < m.centers; ++c) {
            const int visits = m.visits[m.at_center(g, c)];
            fresh += (reach >> unsigned(c) & 1U) != 0 && visits == 0;
            done += std::max(0, visits - 1);
        }
        total += done + std::max(0, open - fresh);
    }
    return std::max(0, total - idle_cells);
}

ChartConflict explain_conflict(const ChartProblem& p, std::int64_t nodes) {
    const int groups = p.groups;
    const auto split = [&](const std::vector<char>& kept) {
        return std::pair(std::vector<char>(kept.begin() + 2, kept.begin() + 2 + groups),
                         std::vector<char>(kept.begin() + 2 + groups, kept.end()));
    };
    // A node of a large chart takes more time.
    const std::int64_t scale = 1 + groups * p.rounds / 36;
    const auto test = [&](const std::vector<char>& kept) {
        const auto [groups_kept, rules_kept] = split(kept);
        const ChartModel model(p, groups_kept, rules_kept, kept[0] != 0, kept[1] != 0);
        ChartSolver solver(model, {}, ChartOrder::any, {}, p.seed);
        const ChartAnswer answer =
            nodes > 0 ? solver.run(100 + 2'000 / scale) : ChartAnswer::unknown;
        nodes -= scale * (1 + solver.nodes_used());
        return answer;
    };
    const auto infeasible = [&](const std::vector<char>& kept) {
        return test(kept) == ChartAnswer::impossible;
    };
    const auto kept = minimal_conflict(2 + groups + int(p.rules.size()), infeasible);
    const auto [groups_kept, rules_kept] = split(kept);
    ChartConflict out;
    out.needs_holds = kept[0] != 0;
    out.needs_stock = kept[1] != 0;
    for (int g = 0; g < groups; ++g)
        if (groups_kept[g]) out.groups.push_back(g);
    for (std::size_t i = 0; i < rules_kept.size(); ++i)
        if (rules_kept[i]) out.rules.push_back(int(i));
    out.minimal = true;
    for (std::size_t i = 0; i < kept.size() && out.minimal; ++i) {
        if (kept[i] == 0) continue;
        auto without = kept;
        without[i] = 0;
        out.minimal = test(without) == ChartAnswer::found;
    }
    return out;
}

}  // namespace tallyround::plan::detail
