#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/commands/plan_input.h"
#include "record/log.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "merge A B... -o OUT";

/// Unknown members of all the files; of two of one name the smaller text, whatever the order.
void add_members(json::Json& all, const std::string& extra) {
    if (extra.empty()) return;
    const auto more = json::parse(extra);
    if (!more) return;
    for (const auto& [name, value] : more->items()) {
        const auto there = all.find(name);
        if (there == all.end() || value.dump() < there->dump()) all[name] = value;
    }
}

}  // namespace

Outcome run_merge(const Invocation& call) {
    std::vector<std::string> files = call.args;
    const auto o = std::find(files.begin(), files.end(), "-o");
    if (o == files.end() || o + 1 == files.end()) return wrong_usage(synopsis);
    const std::string target = *(o + 1);
    files.erase(o, o + 2);
    if (files.empty() || std::find(files.begin(), files.end(), "-o") != files.end()) {
        return wrong_usage(synopsis);
    }
    record::Log log{record::ReplicaId("merge")};
    json::Json extra = json::Json::object();
    json::Json new_from = json::Json::array();
    for (const std::string& file : files) {
        Outcome failure;
        const auto plan = plan_from(call, file, failure);
        if (!plan) return failure;
        new_from.push_back(log.merge(plan->events));
        add_members(extra, plan->extra);
    }
    const auto written = call.write_file(target, exchange::write_plan(log.events(), extra.dump()));
    if (!written) {
        return cannot({{"written", false}, {"file", target}},
                      target + ": " + written.error().text());
    }
    return done({{"events", log.events().size()},
                 {"state_hash", record::state_hash(log.state())},
                 {"new_from", new_from}});
}

}  // namespace tallyround::cli
