#include <algorithm>

#include "base/text.h"
#include "model/kinds.h"
#include "plan/chart.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

int columns(const Chart& chart) {
    std::size_t most = 0;
    for (const auto& row : chart)
        most = std::max(most, row.size());
    return int(most);
}

bool needs_devices(const Center& center) {
    const CenterKind* kind = find_center_kind(center.kind);
    return kind != nullptr && kind->uses_devices;
}

int largest_group(const Block& block) {
    std::size_t most = 0;
    for (const auto& group : block.groups)
        most = std::max(most, group.size());
    return int(most);
}

/// Open centers by number, and back.
class Numbers {
  public:
    explicit Numbers(const Block& block) : open_(open_centers(block)) {}

    int of(const CenterId& id) const {
        if (id.empty()) return plan::idle;
        for (std::size_t i = 0; i < open_.size(); ++i) {
            if (open_[i]->id == id) return int(i);
        }
        return plan::gone;
    }
    CenterId id(int number) const {
        return number < 0 ? CenterId{} : open_[std::size_t(number)]->id;
    }
    const std::vector<const Center*>& all() const { return open_; }

  private:
    std::vector<const Center*> open_;
};

plan::ChartProblem problem_for(const Block& block, const Numbers& numbers, bool fresh) {
    plan::ChartProblem problem;
    problem.groups = int(block.groups.size());
    const int begun = begun_rounds(block);
    problem.rounds = std::max(wished_rounds(block), begun);
    problem.stock = {block.devices};
    for (const Center* center : numbers.all())
        problem.centers.push_back({1, {needs_devices(*center) ? largest_group(block) : 0}});
    problem.order = plan::ChartOrder::cyclic;
    for (int g = 0; g < problem.groups; ++g) {
        std::vector<int> done;
        std::vector<int> was;
        for (int round = 1; round <= problem.rounds; ++round) {
            const bool planned = std::size_t(g) < block.chart.size() &&
                                 std::size_t(round) <= block.chart[std::size_t(g)].size();
            const int cell = numbers.of(center_at(block, g, round));
            if (round <= begun) done.push_back(cell);
            was.push_back(planned ? cell : plan::unknown);
        }
        problem.done.push_back(std::move(done));
        if (!fresh) problem.was.push_back(std::move(was));
    }
    return problem;
}

base::Result<bool> checked_parts(const Block& block) {
    const auto open = open_centers(block);
    if (block.groups.empty()) {
        return base::fail("Chart", "There are no groups yet. Make the groups first.");
    }
    if (open.empty()) return base::fail("Chart", "There is no open center. Add one first.");
    if (block.groups.size() > std::size_t(plan::most_chart_groups)) {
        return base::fail("Chart", "A chart holds at most " +
                                       std::to_string(plan::most_chart_groups) + " groups.");
    }
    const int needed = largest_group(block);
    for (const Center* center : open) {
        if (!needs_devices(*center) || needed <= block.devices) continue;
        return base::fail("Devices", center_title(*center) + " needs " + std::to_string(needed) +
                                         " devices at once and there are " +
                                         std::to_string(block.devices) +
                                         ". Set more devices, or close that center.");
    }
    return true;
}

/// Who waits without a center in the rounds to come, in one sentence.
std::string waiting_text(const Block& block, const Chart& chart) {
    std::size_t cells = 0;
    std::string one;
    for (std::size_t g = 0; g < chart.size(); ++g) {
        for (std::size_t r = std::size_t(begun_rounds(block)); r < chart[g].size(); ++r) {
            if (!chart[g][r].empty()) continue;
            ++cells;
            one = group_name(int(g)) + " waits in round " + std::to_string(r + 1) + ".";
        }
    }
    if (cells < 2) return one;
    return "There are fewer places than groups: " + base::count_of(cells, "place", "places") +
           " in the chart " + (cells == 1 ? "is" : "are") + " empty.";
}

/// True when a chart not begun is still whole: right shape, open centers only, each of them used,
/// enough devices in every round.
bool still_true(const Block& block) {
    const Chart& chart = block.chart;
    const Numbers numbers(block);
    if (chart.size() != block.groups.size() || columns(chart) != wished_rounds(block)) return false;
    plan::ChartProblem problem = problem_for(block, numbers, true);
    plan::Cells cells;
    std::vector<bool> used(numbers.all().size());
    for (const auto& row : chart) {
        auto& out = cells.emplace_back();
        for (const CenterId& id : row) {
            const int number = numbers.of(id);
            if (number == plan::gone) return false;
            if (number >= 0) used[std::size_t(number)] = true;
            out.push_back(number);
        }
        if (int(row.size()) != problem.rounds) return false;
    }
    const bool all_used = std::find(used.begin(), used.end(), false) == used.end();
    return all_used && plan::faults(problem, cells).none();
}

std::size_t changed_cells(const Chart& before, const Chart& after) {
    std::size_t changed = 0;
    for (std::size_t g = 0; g < after.size(); ++g) {
        for (std::size_t r = 0; r < after[g].size(); ++r) {
            const bool same =
                g < before.size() && r < before[g].size() && before[g][r] == after[g][r];
            if (!same) ++changed;
        }
    }
    return changed;
}

/// The chart with the cells to come of centers that are no longer open left empty.
Chart without_closed(const Block& block) {
    const Numbers numbers(block);
    Chart chart = block.chart;
    for (auto& row : chart) {
        for (std::size_t r = std::size_t(begun_rounds(block)); r < row.size(); ++r) {
            if (numbers.of(row[r]) == plan::gone) row[r] = CenterId{};
        }
    }
    return chart;
}

}  // namespace

int begun_rounds(const Block& block) {
    const bool in_round = block.lesson.phase == Phase::working;
    return in_round ? std::max(block.rounds_done, block.lesson.round) : block.rounds_done;
}

bool has_begun(const Block& block) {
    return block.rounds_done > 0 || block.lesson.running();
}

base::Result<Charted> chart_for(const Block& wanted, std::uint64_t seed, bool fresh) {
    const auto good = checked_parts(wanted);
    if (!good) return pass(good);
    const Numbers numbers(wanted);
    plan::ChartProblem problem = problem_for(wanted, numbers, fresh);
    problem.seed = seed;
    const plan::ChartSearch search = plan::solve_chart(problem, 20'000);
    if (!search.best()) {
        return base::fail("Chart",
                          "No chart was found for these centers and devices. Close a "
                          "center or set more devices.");
    }
    Charted charted;
    const auto begun = std::size_t(begun_rounds(wanted));
    for (std::size_t g = 0; g < search.best()->size(); ++g) {
        auto& row = charted.chart.emplace_back();
        const std::vector<int>& cells = (*search.best())[g];
        for (std::size_t r = 0; r < cells.size(); ++r) {
            // What has begun keeps its centers, closed or not.
            row.push_back(r < begun ? center_at(wanted, int(g), int(r) + 1) : numbers.id(cells[r]));
        }
    }
    charted.said = waiting_text(wanted, charted.chart);
    return charted;
}

void keep_chart_true(Decision& decision, const ClassId& cls, const Block& wanted) {
    if (wanted.chart.empty()) return;
    const bool begun = has_begun(wanted);
    if (!begun && still_true(wanted)) return;
    const auto charted = chart_for(wanted, 1, !begun);
    if (!charted) {
        decision.said += " " + charted.error().message;
        const Chart left = begun ? without_closed(wanted) : Chart{};
        if (left != wanted.chart) {
            decision.events.push_back(record::ChartSet{cls, wanted.id, left});
        }
        return;
    }
    if (charted->chart == wanted.chart) return;
    decision.events.push_back(record::ChartSet{cls, wanted.id, charted->chart});
    const std::size_t changed = changed_cells(wanted.chart, charted->chart);
    decision.said +=
        begun ? " The rounds left are planned anew: " + base::count_of(changed, "place", "places") +
                    " changed."
              : " The chart is made anew.";
    if (!charted->said.empty()) decision.said += " " + charted->said;
}

Answer on(const Context& ctx, const MakeChart& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    const auto charted = chart_for(block, wish.seed, true);
    if (!charted) return pass(charted);
    Decision decision;
    decision.said = "Chart made: " + base::count_of(charted->chart.size(), "group", "groups") +
                    ", " + base::count_of(std::size_t(columns(charted->chart)), "round", "rounds") +
                    ".";
    if (!charted->said.empty()) decision.said += " " + charted->said;
    if (charted->chart != block.chart) {
        decision.events.push_back(record::ChartSet{wish.cls, wish.block, charted->chart});
    }
    return decision;
}

Answer on(const Context& ctx, const SwapCells& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    if (wish.round < 1 || wish.round > columns(block.chart)) {
        return base::fail("Chart", "There is no round " + std::to_string(wish.round) + ".");
    }
    for (const int group : {wish.group_a, wish.group_b}) {
        if (group < 0 || std::size_t(group) >= block.chart.size() ||
            std::size_t(wish.round) > block.chart[std::size_t(group)].size()) {
            return base::fail("Chart", "There is no " + group_name(group) + " in the chart.");
        }
    }
    if (wish.round <= block.rounds_done) {
        return base::fail(
            "Chart", "Round " + std::to_string(wish.round) + " is over. Change a later round.");
    }
    Chart chart = block.chart;
    const auto column = std::size_t(wish.round - 1);
    CenterId& a = chart[std::size_t(wish.group_a)][column];
    CenterId& b = chart[std::size_t(wish.group_b)][column];
    if (a == b) return Decision{};
    std::swap(a, b);
    std::string said = group_name(wish.group_a) + " and " + group_name(wish.group_b) +
                       " changed places in round " + std::to_string(wish.round) + ".";
    for (const int group : {wish.group_a, wish.group_b}) {
        const auto& row = chart[std::size_t(group)];
        const CenterId& id = row[column];
        const Center* center = find_center(block, id);
        if (center != nullptr && std::count(row.begin(), row.end(), id) > 1) {
            said += " " + group_name(group) + " is at " + center_title(*center) +
                    " more than once now.";
        }
    }
    return Decision{{record::ChartSet{wish.cls, wish.block, chart}}, said, {}};
}

}  // namespace tallyround::session
