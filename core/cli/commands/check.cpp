#include <nlohmann/json.hpp>

#include "cli/commands/plan_input.h"
#include "record/hash.h"

namespace tallyround::cli {

Outcome run_check(const Invocation& call) {
    if (call.args.size() != 1) return wrong_usage("check FILE");
    Outcome failure;
    auto plan = plan_from(call, call.args[0], failure);
    if (!plan) return failure;
    const model::State state = state_of(*plan);
    std::size_t students = 0;
    std::size_t marks = 0;
    for (const auto& cls : state.classes) {
        students += cls.students.size();
        marks += cls.marks.size();
    }
    json::Json out = {{"ok", true},
                      {"format", plan->version},
                      {"events", plan->events.size()},
                      {"students", students},
                      {"marks", marks},
                      {"state_hash", record::state_hash(state)}};
    return done(out);
}

}  // namespace tallyround::cli
