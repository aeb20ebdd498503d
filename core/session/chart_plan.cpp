#include "session/chart_plan.h"

#include <algorithm>

#include "base/text.h"
#include "model/kinds.h"
#include "session/chart_words.h"
#include "session/chart_work.h"
#include "session/derived.h"

namespace tallyround::session {

using namespace model;  // NOLINT: the model's words throughout

namespace {

constexpr std::int64_t chart_work = 20'000;

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

plan::ChartOrder order_of(ChartOrder order) {
    switch (order) {
        case ChartOrder::balanced:
            return plan::ChartOrder::balanced;
        case ChartOrder::any:
            return plan::ChartOrder::any;
        case ChartOrder::cyclic:
            break;
    }
    return plan::ChartOrder::cyclic;
}

plan::ChartRule::Kind kind_of(ChartRuleKind kind) {
    using Kind = plan::ChartRule::Kind;
    switch (kind) {
        case ChartRuleKind::before:
            return Kind::before;
        case ChartRuleKind::not_in_round:
            return Kind::not_in_round;
        case ChartRuleKind::visit_in_round:
            return Kind::visit_in_round;
        case ChartRuleKind::at_most:
            return Kind::at_most;
        case ChartRuleKind::only_in_rounds:
            return Kind::only_in_rounds;
        case ChartRuleKind::must_visit:
            break;
    }
    return Kind::must_visit;
}

/// The rule in the planner's numbers, or nothing when what it names is not there.
std::optional<plan::ChartRule> planner_rule(const ChartRule& rule, const Numbers& numbers,
                                            const plan::ChartProblem& problem) {
    plan::ChartRule out;
    out.kind = kind_of(rule.kind);
    out.center = numbers.of(rule.center);
    if (out.center < 0) return std::nullopt;
    if (rule.kind == ChartRuleKind::before) {
        out.then = numbers.of(rule.then);
        if (out.then < 0) return std::nullopt;
    }
    if (rule.kind == ChartRuleKind::not_in_round || rule.kind == ChartRuleKind::visit_in_round) {
        if (rule.round < 1 || rule.round > problem.rounds) return std::nullopt;
        out.round = rule.round - 1;
    }
    out.times = rule.times;
    for (const int group : rule.groups) {
        if (group >= 0 && group < problem.groups) out.groups.push_back(group);
    }
    if (out.groups.empty() && !rule.groups.empty()) return std::nullopt;
    for (const int round : rule.rounds) {
        if (round >= 1 && round <= problem.rounds) out.rounds.push_back(round - 1);
    }
    return out;
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

ChartTrouble trouble_of(const Block& block, const ChartQuestion& question,
                        const plan::ChartConflict& conflict) {
    ChartTrouble out;
    for (const int rule : conflict.rules)
        out.rules.push_back(question.rules[std::size_t(rule)]);
    out.groups = conflict.groups;
    out.room = conflict.needs_holds;
    out.devices = conflict.needs_stock;
    out.any_one = conflict.minimal;
    out.remedy = remedy_text(out);
    out.sentence = trouble_text(block, out);
    return out;
}

Chart chart_of(const Block& block, const Numbers& numbers, const plan::Cells& cells) {
    Chart chart;
    const auto begun = std::size_t(begun_rounds(block));
    for (std::size_t g = 0; g < cells.size(); ++g) {
        auto& row = chart.emplace_back();
        for (std::size_t r = 0; r < cells[g].size(); ++r) {
            // What has begun keeps its centers, closed or not.
            row.push_back(r < begun ? center_at(block, int(g), int(r) + 1)
                                    : numbers.id(cells[g][r]));
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

ChartQuestion chart_question(const Block& block, bool fresh) {
    const Numbers numbers(block);
    ChartQuestion question;
    plan::ChartProblem& problem = question.problem;
    problem.groups = int(block.groups.size());
    const int begun = begun_rounds(block);
    problem.rounds = std::max(wished_rounds(block), begun);
    problem.stock = {block.devices};
    for (const Center* center : numbers.all()) {
        problem.centers.push_back(
            {std::max(1, center->holds), {needs_devices(*center) ? largest_group(block) : 0}});
    }
    problem.order = order_of(block.chart_rules.order);
    for (std::size_t i = 0; i < block.chart_rules.rules.size(); ++i) {
        auto rule = planner_rule(block.chart_rules.rules[i], numbers, problem);
        if (!rule) continue;
        problem.rules.push_back(std::move(*rule));
        question.rules.push_back(i);
    }
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
    return question;
}

std::optional<plan::Cells> chart_cells(const Block& block, const ChartQuestion& question) {
    const Numbers numbers(block);
    if (int(block.chart.size()) != question.problem.groups) return std::nullopt;
    const auto begun = std::size_t(begun_rounds(block));
    plan::Cells cells;
    for (const auto& row : block.chart) {
        if (int(row.size()) != question.problem.rounds) return std::nullopt;
        auto& out = cells.emplace_back();
        for (const CenterId& id : row) {
            const int number = numbers.of(id);
            if (number == plan::gone && out.size() >= begun) return std::nullopt;
            out.push_back(number);
        }
    }
    return cells;
}

bool chart_holds(const Block& block) {
    const ChartQuestion question = chart_question(block, true);
    const auto cells = chart_cells(block, question);
    if (!cells) return false;
    std::vector<bool> used(question.problem.centers.size());
    for (const auto& row : *cells) {
        for (const int number : row) {
            if (number >= 0) used[std::size_t(number)] = true;
        }
    }
    const bool all_used = std::find(used.begin(), used.end(), false) == used.end();
    return all_used && plan::faults(question.problem, *cells).none();
}

ChartWork::ChartWork(Block wanted, std::uint64_t seed, bool fresh) : wanted_(std::move(wanted)) {
    const auto good = checked_parts(wanted_);
    if (!good) {
        refused_ = good.error();
        return;
    }
    question_ = chart_question(wanted_, fresh);
    question_.problem.seed = seed;
    search_.emplace(question_.problem, chart_work);
}

bool ChartWork::step(std::int64_t work) {
    return !search_ || search_->step(work);
}

double ChartWork::progress() const {
    return search_ ? search_->progress() : 1;
}

std::optional<ChartTrouble> ChartWork::trouble() const {
    if (!search_ || !search_->conflict() || search_->conflict()->rules.empty()) return std::nullopt;
    return trouble_of(wanted_, question_, *search_->conflict());
}

base::Result<Charted> ChartWork::finish() const {
    if (refused_) return tl::make_unexpected(*refused_);
    if (const auto rules = trouble()) return base::fail("Chart", rules->sentence);
    if (!search_->best()) {
        return base::fail("Chart",
                          "No chart was found for these centers, devices and rules. Close a "
                          "center, set more devices or take a rule away.");
    }
    Charted charted;
    charted.chart = chart_of(wanted_, Numbers(wanted_), *search_->best());
    charted.said = chart_facts(wanted_, charted.chart);
    charted.quality = quality_text(*search_);
    charted.changed = search_->score().changed;
    charted.fewest = search_->proved_changed();
    return charted;
}

base::Result<Charted> chart_for(const Block& wanted, std::uint64_t seed, bool fresh) {
    ChartWork work(wanted, seed, fresh);
    while (!work.step(chart_work)) {
    }
    return work.finish();
}

std::optional<ChartTrouble> chart_trouble(const Block& wanted) {
    ChartWork work(wanted, 1, true);
    while (!work.step(chart_work)) {
    }
    return work.trouble();
}

Chart with_swap(const Block& block, int round, int group_a, int group_b) {
    Chart chart = block.chart;
    const auto cell = [&](int group) -> CenterId* {
        const bool there = group >= 0 && std::size_t(group) < chart.size() && round >= 1 &&
                           std::size_t(round) <= chart[std::size_t(group)].size();
        return there ? &chart[std::size_t(group)][std::size_t(round - 1)] : nullptr;
    };
    CenterId* a = cell(group_a);
    CenterId* b = cell(group_b);
    if (a != nullptr && b != nullptr) std::swap(*a, *b);
    return chart;
}

ChartCheck::ChartCheck(const Block& block) {
    const ChartQuestion question = chart_question(block, true);
    const auto cells = chart_cells(block, question);
    if (!cells || !checked_parts(block)) return;
    if (!plan::faults(question.problem, *cells).none()) {
        words_ = "The chart breaks a rule or has too many at a center.";
        better_ = true;
        return;
    }
    now_ = plan::measure(question.problem, *cells);
    search_ = std::make_unique<plan::ChartSearch>(question.problem);
}

bool ChartCheck::step(std::int64_t work) {
    if (search_ == nullptr) return true;
    if (!search_->step(work)) return false;
    if (search_->best() && search_->score().better(now_)) {
        better_ = true;
        words_ = better_text(now_, search_->score());
    } else {
        words_ = quality_text(*search_);
    }
    search_.reset();
    return true;
}

}  // namespace tallyround::session
