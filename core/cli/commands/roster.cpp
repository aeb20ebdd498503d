// A class list in any of the usual forms to one JSON form.
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/cli.h"
#include "exchange/roster.h"

namespace tallyround::cli {

namespace {

using json::Json;

/// `files` has the names to put beside students and warnings, or is empty for a single file.
Json to_json(const exchange::Roster& roster, const std::vector<std::string>& files) {
    const auto with_file = [&](Json value, std::size_t file) {
        if (!files.empty()) value["file"] = base::tidy_line(files[file]);
        return value;
    };
    Json out{{"format", exchange::name_of(roster.format)},
             {"encoding", exchange::name_of(roster.encoding)},
             {"students", Json::array()},
             {"warnings", Json::array()}};
    for (const auto& s : roster.students) {
        out["students"].push_back(with_file({{"id", s.id},
                                             {"name", s.name},
                                             {"given", s.given},
                                             {"family", s.family},
                                             {"source_id", s.source_id},
                                             {"row", s.row}},
                                            s.file));
    }
    for (const auto& w : roster.warnings) {
        out["warnings"].push_back(with_file({{"row", w.row}, {"message", w.message}}, w.file));
    }
    return out;
}

}  // namespace

/// `roster FILE…`: "-" is standard input. Several files make one list; students and warnings then
/// say which file they are from.
Outcome run_roster(const Invocation& call) {
    bool stdin_used = false;
    for (const auto& arg : call.args) {
        const bool again = arg == "-" && stdin_used;
        if (again || (arg.size() > 1 && arg[0] == '-')) return wrong_usage("roster FILE...");
        stdin_used = stdin_used || arg == "-";
    }
    if (call.args.empty()) return wrong_usage("roster FILE...");
    std::vector<exchange::Roster> rosters;
    for (const auto& arg : call.args) {
        const std::string name = arg == "-" ? "standard input" : arg;
        const auto bytes = arg == "-" ? call.read_stdin() : call.read_file(arg);
        if (!bytes) return bad_input(name, bytes.error());
        auto roster = exchange::read_roster(*bytes, name);
        if (!roster) return bad_input(name, roster.error());
        rosters.push_back(*std::move(roster));
    }
    const auto joined = exchange::join_rosters(rosters);
    if (!joined) return bad_input(base::list_of(call.args), joined.error());
    return done(to_json(*joined, call.args.size() > 1 ? call.args : std::vector<std::string>{}));
}

}  // namespace tallyround::cli
