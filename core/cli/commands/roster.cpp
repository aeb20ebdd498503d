// A class list in any of the usual forms to one JSON form.
#include <nlohmann/json.hpp>

#include "base/text.h"
#include "cli/cli.h"
#include "exchange/oneroster.h"
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

constexpr std::string_view synopsis = "roster FILE... [--class ID]";

struct Request {
    std::vector<std::string> files;
    std::string cls;  ///< of a school's export
};

std::optional<Request> read_request(const std::vector<std::string>& args) {
    Request request;
    bool stdin_used = false;
    for (std::size_t i = 0; i < args.size(); ++i) {
        const std::string& arg = args[i];
        if (arg == "--class" && i + 1 < args.size() && request.cls.empty()) {
            request.cls = args[++i];
            continue;
        }
        const bool again = arg == "-" && stdin_used;
        if (again || (arg.size() > 1 && arg[0] == '-')) return std::nullopt;
        stdin_used = stdin_used || arg == "-";
        request.files.push_back(arg);
    }
    return request.files.empty() ? std::nullopt : std::optional(request);
}

/// The class that was asked for, or the only one; otherwise `failure` says which there are.
std::optional<exchange::Roster> class_of_school(const std::string& file, std::string_view bytes,
                                                const std::string& wanted, Outcome& failure) {
    auto school = exchange::read_oneroster(bytes);
    if (!school) {
        failure = bad_input(file, school.error());
        return std::nullopt;
    }
    Json classes = Json::array();
    for (exchange::OneRosterClass& cls : school->classes) {
        if (cls.id == wanted || (wanted.empty() && school->classes.size() == 1)) {
            for (const std::string& warning : school->warnings)
                cls.roster.warnings.push_back({0, warning});
            return std::move(cls.roster);
        }
        classes.push_back(
            {{"id", cls.id}, {"title", cls.title}, {"students", cls.roster.students.size()}});
    }
    failure = cannot(
        {{"classes", std::move(classes)}, {"version", school->version}},
        wanted.empty() ? file + " has several classes: choose one with --class ID."
                       : "There is no class \"" + base::tidy_line(wanted) + "\" in " + file + ".");
    return std::nullopt;
}

}  // namespace

/// `roster FILE…`: "-" is standard input. Several files make one list; students and warnings then
/// say which file they are from. A zip file is a school's OneRoster export.
Outcome run_roster(const Invocation& call) {
    const auto request = read_request(call.args);
    if (!request) return wrong_usage(synopsis);
    std::vector<exchange::Roster> rosters;
    for (const auto& file : request->files) {
        const std::string name = file == "-" ? "standard input" : file;
        const auto bytes = file == "-" ? call.read_stdin() : call.read_file(file);
        if (!bytes) return bad_input(name, bytes.error());
        if (exchange::looks_like_zip(*bytes)) {
            Outcome failure;
            auto roster = class_of_school(name, *bytes, request->cls, failure);
            if (!roster) return failure;
            rosters.push_back(*std::move(roster));
            continue;
        }
        auto roster = exchange::read_roster(*bytes, name);
        if (!roster) return bad_input(name, roster.error());
        rosters.push_back(*std::move(roster));
    }
    const auto joined = exchange::join_rosters(rosters);
    if (!joined) return bad_input(base::list_of(request->files), joined.error());
    const bool several = request->files.size() > 1;
    return done(to_json(*joined, several ? request->files : std::vector<std::string>{}));
}

}  // namespace tallyround::cli
