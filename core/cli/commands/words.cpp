// tallyround words: how often the app's words about the marks of a plan file were right later.
#include <nlohmann/json.hpp>

#include "cli/commands/plan_input.h"
#include "evidence_input.h"
#include "session/insight.h"

namespace tallyround::cli {

Outcome run_words(const Invocation& call) {
    if (call.args.size() != 1) return wrong_usage("words FILE");
    Outcome failure;
    auto plan = plan_from(call, call.args[0], failure);
    if (!plan) return failure;
    json::Json classes = json::Json::array();
    const model::State state = state_of(*plan);
    for (const model::Class& cls : state.classes) {
        const session::Calibration calibration = session::calibration_of(cls);
        json::Json words = json::Json::array();
        for (const session::WordRecord& r : calibration.words) {
            words.push_back({{"word", session::word_text(r.word)},
                             {"said", r.said},
                             {"secure", r.secure},
                             {"shaky", r.shaky},
                             {"stuck", r.stuck},
                             {"expected_secure", r.expected}});
        }
        classes.push_back({{"class", cls.id.str()},
                           {"marks", cls.marks.size()},
                           {"words", std::move(words)},
                           {"scores", scores_json(calibration.scores)},
                           {"why", calibration.why}});
    }
    return done({{"classes", std::move(classes)}});
}

}  // namespace tallyround::cli
