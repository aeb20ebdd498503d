#include "cli/cli.h"
#include "cli/commands/plan_commands.h"

namespace tallyround::cli {

Outcome run_roster(const Invocation& call);
Outcome run_check(const Invocation& call);
Outcome run_merge(const Invocation& call);
Outcome run_export(const Invocation& call);
Outcome run_schema(const Invocation& call);
Outcome run_demo(const Invocation& call);
Outcome run_advise(const Invocation& call);
Outcome run_judge(const Invocation& call);
Outcome run_predict(const Invocation& call);
Outcome run_trace(const Invocation& call);
Outcome run_words(const Invocation& call);
Outcome run_skills(const Invocation& call);
Outcome run_cards(const Invocation& call);
Outcome run_sheets(const Invocation& call);
Outcome run_framework(const Invocation& call);

// Each command is one file in commands/ and one pair of lines here.
const std::vector<Command>& commands() {
    static const std::vector<Command> all{
        {"roster", "roster FILE...", run_roster},
        {"advise", "advise  < REQUEST.json", run_advise},
        {"judge", "judge  < REQUEST.json", run_judge},
        {"predict", "predict  < REQUEST.json", run_predict},
        {"trace", "trace  < REQUEST.json", run_trace},
        {"skills", "skills", run_skills},
        {"cards", "cards  < REQUEST.json", run_cards},
        {"sheets", "sheets FILE --kind KIND --paper letter|a4 -o DIR", run_sheets},
        {"framework", "framework FILE", run_framework},
        {"fit", fit_synopsis, run_fit},
        {"group", group_synopsis, run_group},
        {"partners", partners_synopsis, run_partners},
        {"chart", chart_synopsis, run_chart},
        {"check", "check FILE", run_check},
        {"words", "words FILE", run_words},
        {"merge", "merge A B... -o OUT", run_merge},
        {"export",
         "export FILE --marks-csv|--calendar|--summary-csv|--xapi|--archive-csv "
         "[--pseudonyms]",
         run_export},
        {"schema", "schema", run_schema},
        {"demo", "demo -o OUT [--date YYYY-MM-DD]", run_demo},
    };
    return all;
}

}  // namespace tallyround::cli
