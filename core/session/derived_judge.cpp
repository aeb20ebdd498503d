#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "advise/judge.h"
#include "base/text.h"
#include "evidence/trace.h"
#include "session/derived.h"
#include "session/evidence_model.h"

namespace tallyround::session {

namespace {

using StudentSkill = std::pair<model::StudentId, model::SkillId>;
using Visit = std::tuple<model::CenterId, model::StudentId, int>;

/// What the marks of one visit (a student at a center in a round) say.
struct Seen {
    double before = 0;
    double after = 0;
    double stuck_minutes = 0;
    std::int64_t last_ms = 0;
    bool was_stuck = false;
    bool known_before = false;  ///< there was a mark on the skill to start from
    bool compared = false;      ///< there is a later mark to compare it with
};

double chance(const evidence::Trace& trace) {
    return trace.estimate(evidence_model()).p;
}

/// Replays the class's marks. A gain needs two marks on the skill: the first one a student ever
/// gets only says where the student starts.
std::map<Visit, Seen> visits_of(const model::Class& cls, const model::Block& block) {
    std::map<StudentSkill, evidence::Trace> traces;
    std::map<Visit, Seen> visits;
    for (const model::Mark& mark : cls.marks) {
        evidence::Trace& trace = traces[{mark.student, mark.skill}];
        const bool started = trace.marks() > 0;
        const bool here = mark.block == block.id && !mark.center.empty();
        const double before = started ? chance(trace) : 0.0;
        trace.add(evidence_model(), evidence_mark(mark));
        if (!here) continue;
        const auto [it, fresh] = visits.try_emplace({mark.center, mark.student, mark.round});
        Seen& seen = it->second;
        if (!fresh && seen.was_stuck) {
            seen.stuck_minutes += double(mark.at_ms - seen.last_ms) / 60'000.0;
        }
        if (!seen.known_before) {
            seen.before = started ? before : chance(trace);
            seen.known_before = true;
            seen.compared = started;
        } else {
            seen.compared = true;
        }
        seen.after = chance(trace);
        seen.last_ms = mark.at_ms;
        seen.was_stuck = mark.level == model::Level::stuck;
    }
    return visits;
}

std::string_view verdict_text(advise::Verdict verdict) {
    switch (verdict) {
        case advise::Verdict::keep:
            return "keep";
        case advise::Verdict::watch:
            return "watch";
        case advise::Verdict::swap:
            return "swap";
        case advise::Verdict::too_early:
            break;
    }
    return "too early";
}

std::string reason(const advise::CenterJudgement& judged) {
    const std::string students =
        base::count_of(std::size_t(judged.students), "student", "students");
    if (judged.verdict == advise::Verdict::too_early) {
        return "Too early to say: " + students + " with marks to compare, five are needed.";
    }
    const long points = std::lround(judged.gain * 100);
    std::string change = "the chance of having the skill ";
    change += points == 0  ? "stayed as it was"
              : points > 0 ? "rose by " + std::to_string(points) + " in 100"
                           : "fell by " + std::to_string(-points) + " in 100";
    return "From " + students + ": " + change + " on average.";
}

}  // namespace

std::vector<CenterVerdict> judge_centers(const model::Class& cls, const model::Block& block) {
    std::vector<advise::CenterLook> looks;
    std::map<model::CenterId, int> center_number;
    std::map<model::StudentId, int> student_number;
    for (std::size_t i = 0; i < block.centers.size(); ++i)
        center_number[block.centers[i].id] = int(i);
    for (const auto& [visit, seen] : visits_of(cls, block)) {
        const auto& [center, student, round] = visit;
        const auto number = center_number.find(center);
        if (!seen.compared || number == center_number.end()) continue;
        const int who =
            student_number.try_emplace(student, int(student_number.size())).first->second;
        looks.push_back({number->second, who, seen.before, seen.after, seen.stuck_minutes,
                         round > 0 ? round : -1, model::group_of(block, student)});
    }
    std::vector<CenterVerdict> verdicts;
    for (const model::Center& center : block.centers)
        verdicts.push_back({center.id, 0, 0.0, "too early", reason({})});
    for (const advise::CenterJudgement& judged : advise::judge_centers(looks)) {
        CenterVerdict& verdict = verdicts[std::size_t(judged.center)];
        verdict.students = judged.students;
        verdict.gain = judged.gain;
        verdict.verdict = verdict_text(judged.verdict);
        verdict.why = reason(judged);
    }
    return verdicts;
}

}  // namespace tallyround::session
