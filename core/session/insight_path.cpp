#include <unordered_map>

#include "evidence/trace.h"
#include "session/evidence_model.h"
#include "session/insight.h"

namespace tallyround::session {

std::vector<PathPoint> path_of(const model::Class& cls, const Standings& standings,
                               const model::StudentId& student, const model::SkillId& skill) {
    std::unordered_map<model::SkillId, evidence::Trace> traces;
    std::vector<PathPoint> path;
    for (const model::Mark& mark : cls.marks) {
        if (mark.student != student || (!skill.empty() && mark.skill != skill)) continue;
        evidence::Trace& trace = traces[mark.skill];
        trace.add(standings.model(), evidence_mark(mark));
        const evidence::Estimate estimate =
            trace.estimate(standings.model(), standings.start(student, mark.skill));
        path.push_back({mark.at_ms, mark.skill, mark.level, mark.help, mark.center, mark.block,
                        mark.round, mark.event, estimate.p, estimate.low, estimate.high,
                        word_of(estimate)});
    }
    return path;
}

}  // namespace tallyround::session
