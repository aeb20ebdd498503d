#include "cli/cli.h"
#include "exchange/plan_schema.h"

namespace tallyround::cli {

Outcome run_schema(const Invocation& call) {
    if (!call.args.empty()) return wrong_usage("schema");
    return done_text(exchange::plan_schema());
}

}  // namespace tallyround::cli
