#include "cli/cli.h"
#include "cli/commands/plan_commands.h"

namespace tallyround::cli {

Outcome run_roster(const Invocation& call);
Outcome run_check(const Invocation& call);
Outcome run_merge(const Invocation& call);
Outcome run_export(const Invocation& call);
Outcome run_predict(const Invocation& call);
Outcome run_trace(const Invocation& call);
Outcome run_skills(const Invocation& call);
Outcome run_cards(const Invocation& call);

// Each command is one file in commands/ and one pair of lines here.
const std::vector<Command>& commands() {
    static const std::vector<Command> all{
        {"roster", "roster FILE...", run_roster},
        {"predict", "predict  < REQUEST.json", run_predict},
        {"trace", "trace  < REQUEST.json", run_trace},
        {"skills", "skills", run_skills},
        {"cards", "cards  < REQUEST.json", run_cards},
        {"fit", fit_synopsis, run_fit},
        {"group", group_synopsis, run_group},
        {"check", "check FILE", run_check},
        {"merge", "merge A B... -o OUT", run_merge},
        {"export", "export FILE --marks-csv|--calendar|--summary-csv [--pseudonyms]", run_export},
    };
    return all;
}

}  // namespace tallyround::cli
