#include <cmath>
#include <map>
#include <tuple>
#include <unordered_map>

#include "advise/judge.h"
#include "base/text.h"
#include "evidence/trace.h"
#include "session/derived.h"
#include "session/evidence_model.h"
#include "session/insight_parts.h"

namespace tallyround::session {

namespace {

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
using Visits = std::map<Visit, Seen>;

/// Replays the class's marks. A gain needs two marks on the skill: the first one a student ever
/// gets only says where the student starts.
class Replay {
  public:
    explicit Replay(const Standings& standings) : standings_(standings), model_(standings.model()) {
        model_.learn = 0.0;
    }

    /// `visits`: where a mark at a center counts, or nothing.
    void add(const model::Mark& mark, Visits* visits) {
        OnSkill& on = traces_[mark.student][mark.skill];
        const evidence::Mark seen_now = evidence_mark(mark);
        const bool started = on.trace.marks() > 0;
        if (!started) on.start = standings_.start(mark.student, mark.skill);
        const auto chance = [&] { return on.trace.estimate_at(model_, on.start, seen_now.day).p; };
        const double before = visits != nullptr && started ? chance() : 0.0;
        on.trace.add(model_, seen_now);
        if (visits == nullptr || mark.center.empty()) return;
        const auto [it, fresh] = visits->try_emplace({mark.center, mark.student, mark.round});
        Seen& seen = it->second;
        if (!fresh && seen.was_stuck) {
            seen.stuck_minutes += double(mark.at_ms - seen.last_ms) / 60'000.0;
        }
        if (!seen.known_before) {
            seen.before = started ? before : chance();
            seen.known_before = true;
            seen.compared = started;
        } else {
            seen.compared = true;
        }
        seen.after = chance();
        seen.last_ms = mark.at_ms;
        seen.was_stuck = mark.level == model::Level::stuck;
    }

  private:
    struct OnSkill {
        evidence::Trace trace;
        double start = 0.5;
    };
    const Standings& standings_;
    evidence::Model model_;
    std::unordered_map<model::StudentId, std::unordered_map<model::SkillId, OnSkill>> traces_;
};

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

std::vector<CenterVerdict> verdicts_of(const model::Block& block, const Visits& visits) {
    std::vector<advise::CenterLook> looks;
    std::map<model::CenterId, int> center_number;
    std::map<model::StudentId, int> student_number;
    for (std::size_t i = 0; i < block.centers.size(); ++i)
        center_number[block.centers[i].id] = int(i);
    for (const auto& [visit, seen] : visits) {
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
        verdicts.push_back({center.id, 0, 0.0, "too early", reason({}), 0.0, 0.0, 0.0, 0.0});
    for (const advise::CenterJudgement& judged : advise::judge_centers(looks)) {
        CenterVerdict& verdict = verdicts[std::size_t(judged.center)];
        verdict.students = judged.students;
        verdict.gain = judged.gain;
        verdict.verdict = verdict_text(judged.verdict);
        verdict.why = reason(judged);
        verdict.low = judged.low;
        verdict.high = judged.high;
        verdict.p_helps = judged.p_helps;
        verdict.stuck_minutes = judged.stuck_minutes;
    }
    return verdicts;
}

}  // namespace

std::vector<CenterVerdict> judge_centers(const model::Class& cls, const model::Block& block,
                                         const Standings& standings) {
    Visits visits;
    Replay replay(standings);
    for (const model::Mark& mark : cls.marks)
        replay.add(mark, mark.block == block.id ? &visits : nullptr);
    return verdicts_of(block, visits);
}

std::vector<std::vector<CenterVerdict>> judge_blocks(const model::Class& cls,
                                                     const Standings& standings) {
    std::unordered_map<model::BlockId, std::size_t> place;
    for (std::size_t i = 0; i < cls.blocks.size(); ++i)
        place.emplace(cls.blocks[i].id, i);
    std::vector<Visits> visits(cls.blocks.size());
    Replay replay(standings);
    for (const model::Mark& mark : cls.marks) {
        const auto block = place.find(mark.block);
        replay.add(mark, block == place.end() ? nullptr : &visits[block->second]);
    }
    std::vector<std::vector<CenterVerdict>> out;
    for (std::size_t i = 0; i < visits.size(); ++i)
        out.push_back(verdicts_of(cls.blocks[i], visits[i]));
    return out;
}

}  // namespace tallyround::session
