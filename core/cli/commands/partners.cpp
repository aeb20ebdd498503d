#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/cli.h"
#include "cli/commands/plan_commands.h"
#include "json/read.h"
#include "plan/group.h"
#include "plan/partners.h"

namespace tallyround::cli {

namespace {

using json::Field;
using json::Json;

constexpr double units_a_ms = 15'000;

struct Request {
    plan::PartnersProblem problem;
    double budget_ms = 5'000;
};

std::vector<int> students_of(const Field& list, int students, std::vector<char>& seen) {
    std::vector<int> out;
    for (const Field& item : list.items(std::size_t(plan::most_partner_students))) {
        const int student = int(item.integer(0, students - 1));
        if (seen[student] != 0) {
            item.refuse("Student " + std::to_string(student) + " is here twice.");
        }
        seen[student] = 1;
        out.push_back(student);
    }
    return out;
}

std::vector<std::vector<int>> lists_of(const Field& root, const char* key, int students) {
    std::vector<std::vector<int>> out;
    const auto lists = root.find(key);
    if (!lists) return out;
    for (const Field& list : lists->items(5'000)) {
        std::vector<char> seen(std::size_t(students), 0);
        out.push_back(students_of(list, students, seen));
        if (out.back().size() < 2) list.refuse("At least 2 different students were expected.");
    }
    return out;
}

Request request_of(const Field& root) {
    Request r;
    auto& p = r.problem;
    p.students = int(root.at("students").integer(2, plan::most_partner_students));
    p.size = int(root.integer_or("size", 2, plan::most_partner_students, 4));
    p.blocks = int(root.at("blocks").integer(1, plan::most_partner_blocks));
    p.apart = lists_of(root, "apart", p.students);
    p.together = lists_of(root, "together", p.students);
    if (const auto fixed = root.find("fixed")) {
        for (const Field& block : fixed->items(std::size_t(p.blocks))) {
            std::vector<char> seen(std::size_t(p.students), 0);
            plan::Block groups;
            for (const Field& group : block.items(std::size_t(p.students)))
                groups.push_back(students_of(group, p.students, seen));
            p.fixed.push_back(std::move(groups));
        }
    }
    p.seed = std::uint64_t(root.integer_or("seed", 0, std::int64_t{1} << 53U, 1));
    r.budget_ms = root.number_or("budget_ms", 0, 600'000, 5'000);
    return r;
}

/// Rules that no single grouping can keep, told with the numbers of the students.
std::optional<Outcome> contradiction(const plan::PartnersProblem& p) {
    if (p.apart.empty() && p.together.empty()) return std::nullopt;
    plan::GroupProblem one;
    one.students = p.students;
    one.size_max = p.size;
    one.apart = p.apart;
    one.together = p.together;
    const auto search = plan::solve_groups(one, 1'000);
    if (!search.conflict()) return std::nullopt;
    Json rules = Json::array();
    for (const auto& rule : search.conflict()->rules) {
        if (rule.kind == plan::GroupRule::Kind::apart) {
            rules.push_back({{"rule", "apart"}, {"students", p.apart[rule.index]}});
        } else if (rule.kind == plan::GroupRule::Kind::together) {
            rules.push_back({{"rule", "together"}, {"students", p.together[rule.index]}});
        } else {
            rules.push_back({{"rule", "size"}, {"size", p.size}});
        }
    }
    std::vector<std::string> who;
    for (const int student : search.conflict()->students)
        who.push_back(std::to_string(student));
    return cannot(
        {{"conflict", {{"students", search.conflict()->students}, {"rules", rules}}}},
        "The wishes for students " + base::list_of(who) + " cannot all hold in one grouping.");
}

}  // namespace

Outcome run_partners(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, partners_synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, request_of);
    if (!request) return bad_input(input_name(call), request.error());
    const auto& p = request->problem;
    if (auto conflict = contradiction(p)) return *std::move(conflict);
    plan::PartnersSearch search(p, std::int64_t(request->budget_ms * units_a_ms));
    // The budget is work, so the result is the same everywhere; the clock is only a far stop.
    const double stop = call.steady_ms() + 10 * request->budget_ms + 5'000;
    while (!search.step(200'000) && call.steady_ms() < stop) {
    }
    const plan::Partners& best = *search.best();
    if (best.broken_pairs > 0) {
        return cannot({{"conflict", {{"students", Json::array()}, {"rules", Json::array()}}},
                       {"broken_pairs", best.broken_pairs}},
                      "No term of groupings was found that keeps every apart and together rule.");
    }
    return done({{"blocks", best.blocks},
                 {"repeat_pairs", best.repeat_pairs},
                 {"distinct_pairs", best.distinct_pairs},
                 {"bound_blocks", plan::bound_blocks(p.students, p.size)},
                 {"bound_repeat_pairs", plan::bound_repeats(p.students, p.size, p.blocks)},
                 {"proved_best", search.proved_best()}});
}

}  // namespace tallyround::cli
