#include "exchange/export.h"

#include <nlohmann/json.hpp>

#include "cards/bank.h"
#include "cli/commands/plan_input.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis =
    "export FILE --marks-csv|--calendar|--summary-csv|--xapi|--archive-csv [--pseudonyms]";

std::string bank_title(std::string_view skill) {
    const cards::SkillInfo* info = cards::find_skill(skill);
    return info ? std::string(info->title) : std::string();
}

using Writer = std::string (*)(const model::State&, const exchange::ExportOptions&);

/// What writes the marks for that option; nothing for other options.
Writer writer_of(std::string_view option) {
    if (option == "--marks-csv") return exchange::marks_csv;
    if (option == "--summary-csv") return exchange::summary_csv;
    if (option == "--xapi") return exchange::marks_xapi;
    return option == "--archive-csv" ? exchange::archive_csv : nullptr;
}

Outcome calendar(const model::State& state, const exchange::ExportOptions& options,
                 std::int64_t written_ms) {
    std::string text = exchange::calendar_of(state, options, written_ms);
    if (text.empty()) {
        return cannot({{"entries", 0}},
                      "No calendar can be made: no block of the plan has a period yet.");
    }
    return done_text(std::move(text));
}

}  // namespace

Outcome run_export(const Invocation& call) {
    exchange::ExportOptions options;
    options.skill_title = bank_title;
    std::string file;
    std::string what;
    for (const std::string& arg : call.args) {
        const bool known = arg == "--calendar" || writer_of(arg) != nullptr;
        if (arg == "--pseudonyms") {
            options.pseudonyms = true;
        } else if (known && what.empty()) {
            what = arg;
        } else if (!arg.starts_with("--") && file.empty()) {
            file = arg;
        } else {
            return wrong_usage(synopsis);
        }
    }
    if (file.empty() || what.empty()) return wrong_usage(synopsis);
    Outcome failure;
    auto plan = plan_from(call, file, failure);
    if (!plan) return failure;
    const model::State state = state_of(*plan);
    if (what == "--calendar") {
        return calendar(state, options, plan->events.empty() ? 0 : plan->events.back().stamp.ms);
    }
    Outcome outcome = done_text(writer_of(what)(state, options));
    outcome.err = std::string(exchange::sharing_caution()) + "\n";
    return outcome;
}

}  // namespace tallyround::cli
