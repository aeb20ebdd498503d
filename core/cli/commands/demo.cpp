#include <nlohmann/json.hpp>

#include "cli/cli.h"
#include "exchange/plan_file.h"
#include "record/log.h"
#include "session/demo.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "demo -o OUT [--date YYYY-MM-DD]";
/// The day the demo is for when nobody says another: always the same, so the file is, too.
constexpr base::Date usual_day{2026, 12, 1};

}  // namespace

Outcome run_demo(const Invocation& call) {
    std::string target;
    base::Date day = usual_day;
    for (std::size_t i = 0; i < call.args.size(); i += 2) {
        if (i + 1 == call.args.size()) return wrong_usage(synopsis);
        const std::string& value = call.args[i + 1];
        if (call.args[i] == "-o") {
            target = value;
        } else if (call.args[i] == "--date") {
            const auto date = base::parse_date(value);
            if (!date || date->year < 1971 || date->year > 9000) return wrong_usage(synopsis);
            day = *date;
        } else {
            return wrong_usage(synopsis);
        }
    }
    if (target.empty()) return wrong_usage(synopsis);
    record::Log log{record::ReplicaId("demo")};
    log.load(session::demo_events(day));
    const auto written = call.write_file(target, exchange::write_plan(log.events()));
    if (!written) {
        return cannot({{"written", false}, {"file", target}},
                      target + ": " + written.error().text());
    }
    const model::Class& cls = log.state().classes.front();
    return done({{"file", target},
                 {"events", log.events().size()},
                 {"students", cls.students.size()},
                 {"marks", cls.marks.size()},
                 {"state_hash", record::state_hash(log.state())}});
}

}  // namespace tallyround::cli
