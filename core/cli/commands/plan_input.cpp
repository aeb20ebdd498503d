#include "cli/commands/plan_input.h"

#include "record/fold.h"
#include "record/log.h"

namespace tallyround::cli {

std::optional<exchange::PlanFile> plan_from(const Invocation& call, const std::string& file,
                                            Outcome& failure) {
    const auto bytes = call.read_file(file);
    if (!bytes) {
        failure = bad_input(file, bytes.error());
        return std::nullopt;
    }
    auto plan = exchange::read_plan(*bytes);
    if (!plan) {
        failure = bad_input(file, plan.error());
        return std::nullopt;
    }
    return *std::move(plan);
}

model::State state_of(exchange::PlanFile& plan) {
    record::normalise(plan.events);
    return record::fold(plan.events);
}

}  // namespace tallyround::cli
