#include "session/chart_words.h"

#include <algorithm>

#include "base/text.h"
#include "session/derived.h"
#include "session/prep.h"

namespace tallyround::session {

using namespace model;  // NOLINT: the model's words throughout

namespace {

std::string times_text(int times) {
    return times == 1 ? "once" : std::to_string(times) + " times";
}

/// "Every group goes" / "Group 2 goes" / "Groups 1 and 2 go".
std::string who_goes(const std::vector<int>& groups) {
    if (groups.empty()) return "Every group goes";
    return groups_text(groups) + (groups.size() == 1 ? " goes" : " go");
}

std::string who_is(const std::vector<int>& groups) {
    if (groups.empty()) return "Every group is";
    return groups_text(groups) + (groups.size() == 1 ? " is" : " are");
}

int visits(const std::vector<CenterId>& row, const CenterId& center) {
    return int(std::count(row.begin(), row.end(), center));
}

/// Groups of the chart that never come to the center.
std::vector<int> groups_without(const Chart& chart, const CenterId& center) {
    std::vector<int> out;
    for (std::size_t g = 0; g < chart.size(); ++g) {
        if (visits(chart[g], center) == 0) out.push_back(int(g));
    }
    return out;
}

std::string visits_text(const Block& block, const Chart& chart) {
    const auto open = open_centers(block);
    std::vector<std::string> missed;
    for (const Center* center : open) {
        const auto groups = groups_without(chart, center->id);
        if (groups.empty()) continue;
        missed.push_back((groups.size() == chart.size() ? "Nobody comes to "
                          : groups.size() == 1          ? groups_text(groups) + " does not come to "
                                               : groups_text(groups) + " do not come to ") +
                         center_words(block, center->id) + ".");
    }
    if (missed.empty()) return "Every group sees every center.";
    if (missed.size() == 1) return missed.front();
    const std::size_t rounds = chart.front().size();
    const bool short_of_rounds = rounds < open.size();
    return "Not every group sees every center" +
           (short_of_rounds ? ": there are " + base::count_of(open.size(), "center", "centers") +
                                  " and " + base::count_of(rounds, "round", "rounds") + "."
                            : std::string("."));
}

/// Who waits without a center in the rounds to come.
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
    if (cells == 0) return "Nobody waits.";
    if (cells == 1) return one;
    return "There are fewer places than groups: " + base::count_of(cells, "place", "places") +
           " in the chart are empty.";
}

struct Gap {
    std::int64_t now = 0;
    std::int64_t bound = 0;
    const char* one = "";
    const char* many = "";
};

/// What the search could neither better nor prove best, the weightiest first.
std::string gap_text(const plan::ChartScore& now, const plan::ChartScore& bound) {
    const Gap gaps[] = {{now.idle, bound.idle, "wait", "waits"},
                        {now.early, bound.early, "early second visit", "early second visits"},
                        {now.changed, bound.changed, "changed place", "changed places"},
                        {now.repeats, bound.repeats, "second visit", "second visits"}};
    for (const Gap& gap : gaps) {
        if (gap.now <= gap.bound) continue;
        const auto n = std::size_t(gap.now - gap.bound);
        return "At the very best " + base::count_of(n, gap.one, gap.many) +
               " fewer would be possible.";
    }
    return "Only the order of the centers could still be better.";
}

void add_broken_rules(const Block& block, const ChartQuestion& question,
                      const plan::ChartFaults& before, const plan::ChartFaults& after,
                      std::vector<std::string>& out) {
    for (const int rule : after.rules) {
        if (std::find(before.rules.begin(), before.rules.end(), rule) != before.rules.end())
            continue;
        const std::size_t place = question.rules[std::size_t(rule)];
        out.push_back("It breaks: " + rule_text(block, block.chart_rules.rules[place]));
    }
    for (const int round : after.overfull_rounds) {
        if (std::find(before.overfull_rounds.begin(), before.overfull_rounds.end(), round) !=
            before.overfull_rounds.end()) {
            continue;
        }
        out.push_back("In round " + std::to_string(round + 1) +
                      " there are too many at a center or too few devices.");
    }
}

}  // namespace

std::string center_words(const Block& block, const CenterId& id) {
    const Center* center = find_center(block, id);
    if (center == nullptr) return "a center that is gone";
    const std::string title = center_title(*center);
    const auto open = open_centers(block);
    const auto same = std::count_if(open.begin(), open.end(),
                                    [&](const Center* c) { return center_title(*c) == title; });
    if (same < 2 || center->closed) return title;
    return title + " (" + std::to_string(center_number(block, id)) + ")";
}

std::string groups_text(const std::vector<int>& groups) {
    if (groups.size() == 1) return group_name(groups.front());
    std::vector<std::string> numbers;
    for (const int group : groups)
        numbers.push_back(std::to_string(group + 1));
    return "Groups " + base::list_of(numbers);
}

std::string rounds_text(const std::vector<int>& rounds) {
    std::vector<std::string> numbers;
    for (const int round : rounds)
        numbers.push_back(std::to_string(round));
    return (rounds.size() == 1 ? "round " : "rounds ") + base::list_of(numbers);
}

std::string rule_text(const Block& block, const ChartRule& rule) {
    const std::string center = center_words(block, rule.center);
    const std::string round = "round " + std::to_string(rule.round);
    const bool all = rule.groups.empty();
    switch (rule.kind) {
        case ChartRuleKind::must_visit:
            return who_goes(rule.groups) + " to " + center + " at least once.";
        case ChartRuleKind::before:
            return who_goes(rule.groups) + " to " + center_words(block, rule.then) +
                   " only after " + center + ".";
        case ChartRuleKind::not_in_round:
            return all ? "Nobody is at " + center + " in " + round + "."
                       : who_is(rule.groups) + " not at " + center + " in " + round + ".";
        case ChartRuleKind::visit_in_round:
            return who_is(rule.groups) + " at " + center + " in " + round + ".";
        case ChartRuleKind::at_most:
            return who_goes(rule.groups) + " to " + center + " at most " + times_text(rule.times) +
                   ".";
        case ChartRuleKind::only_in_rounds:
            break;
    }
    return who_goes(rule.groups) + " to " + center + " only in " + rounds_text(rule.rounds) + ".";
}

std::string chart_facts(const Block& block, const Chart& chart) {
    if (chart.empty()) return "";
    return visits_text(block, chart) + " " + waiting_text(block, chart);
}

std::vector<std::string> chart_effects(const Block& block, const Chart& after) {
    std::vector<std::string> out;
    Block changed = block;
    changed.chart = after;
    for (std::size_t g = 0; g < after.size() && g < block.chart.size(); ++g) {
        for (const Center* center : open_centers(block)) {
            const int was = visits(block.chart[g], center->id);
            const int now = visits(after[g], center->id);
            const std::string title = center_words(block, center->id);
            if (now > 1 && now > was) {
                out.push_back(group_name(int(g)) + " is at " + title + " " +
                              (now == 2 ? "twice" : times_text(now)) + ".");
            } else if (now == 0 && was > 0) {
                out.push_back(group_name(int(g)) + " does not come to " + title + ".");
            }
        }
    }
    const ChartQuestion question = chart_question(block, true);
    const auto before_cells = chart_cells(block, question);
    const auto after_cells = chart_cells(changed, question);
    if (before_cells && after_cells) {
        add_broken_rules(block, question, plan::faults(question.problem, *before_cells),
                         plan::faults(question.problem, *after_cells), out);
    }
    return out;
}

std::string quality_text(const plan::ChartSearch& search) {
    if (!search.best()) return "";
    if (search.proved_best()) return "No chart does better.";
    return gap_text(search.score(), search.bounds());
}

std::string better_text(const plan::ChartScore& now, const plan::ChartScore& better) {
    const auto fewer = [](int n, const char* one, const char* many) {
        return "A chart with " + base::count_of(std::size_t(n), one, many) +
               " fewer is possible: make it anew.";
    };
    if (now.idle > better.idle) return fewer(now.idle - better.idle, "wait", "waits");
    if (now.early > better.early) {
        return fewer(now.early - better.early, "early second visit", "early second visits");
    }
    if (now.idle_peak > better.idle_peak) {
        return "A chart that shares the waits more evenly is possible: make it anew.";
    }
    if (now.repeats > better.repeats) {
        return fewer(now.repeats - better.repeats, "second visit", "second visits");
    }
    return "A chart that keeps the order of the centers better is possible: make it anew.";
}

std::string trouble_text(const Block& block, const ChartTrouble& trouble) {
    std::string text = trouble.rules.size() == 1 ? "No chart can keep this rule"
                                                 : "No chart can keep all of these rules";
    const bool some = !trouble.groups.empty() && trouble.groups.size() < block.groups.size();
    if (some) text += " for " + groups_text(trouble.groups);
    text += ":";
    for (const std::size_t rule : trouble.rules)
        text += " " + rule_text(block, block.chart_rules.rules[rule]);
    return text + " " + trouble.remedy;
}

std::string remedy_text(const ChartTrouble& trouble) {
    std::string text = trouble.rules.size() == 1 ? "Without it there is a chart."
                       : trouble.any_one         ? "Without any one of them there is a chart."
                                                 : "Take some of them away.";
    std::vector<std::string> help;
    if (trouble.room) help.emplace_back("a center that holds more groups");
    if (trouble.devices) help.emplace_back("more devices");
    if (!help.empty()) {
        std::string more = base::list_of(help, " or ") + " would help, too.";
        more.front() = char(more.front() + 'A' - 'a');
        text += " " + more;
    }
    return text;
}

}  // namespace tallyround::session
