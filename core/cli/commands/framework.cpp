#include "exchange/framework.h"

#include <nlohmann/json.hpp>

#include "cli/cli.h"

namespace tallyround::cli {

/// `framework FILE`: the skills of a CASE package, with their codes and what comes before them.
Outcome run_framework(const Invocation& call) {
    if (call.args.size() != 1 || call.args[0].starts_with("--"))
        return wrong_usage("framework FILE");
    const bool from_stdin = call.args[0] == "-";
    const std::string name = from_stdin ? "standard input" : call.args[0];
    const auto bytes = from_stdin ? call.read_stdin() : call.read_file(name);
    if (!bytes) return bad_input(name, bytes.error());
    const auto framework = exchange::read_framework(*bytes);
    if (!framework) return bad_input(name, framework.error());
    json::Json skills = json::Json::array();
    for (const exchange::FrameworkSkill& skill : framework->skills) {
        skills.push_back({{"id", skill.id},
                          {"title", skill.title},
                          {"code", skill.code},
                          {"grade", skill.grade},
                          {"before", skill.before}});
    }
    return done({{"title", framework->title},
                 {"skills", std::move(skills)},
                 {"warnings", framework->warnings}});
}

}  // namespace tallyround::cli
