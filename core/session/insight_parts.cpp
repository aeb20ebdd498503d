#include "session/insight_parts.h"

#include <unordered_set>

#include "session/evidence_model.h"

namespace tallyround::session {

std::vector<model::SkillId> skills_of(const model::Class& cls) {
    std::vector<model::SkillId> out;
    std::unordered_set<model::SkillId> there;
    const auto add = [&](const model::SkillId& skill) {
        if (!skill.empty() && there.insert(skill).second) out.push_back(skill);
    };
    if (const model::Block* block = cls.current_block()) {
        for (const model::SkillId& skill : block->skills)
            add(skill);
    }
    for (const model::Mark& mark : cls.marks)
        add(mark.skill);
    return out;
}

std::vector<advise::Holding> holdings_of(const model::Class& cls, const Standings& standings,
                                         const std::vector<model::SkillId>& skills,
                                         std::int64_t now_ms) {
    std::vector<advise::Holding> out;
    int number = 0;
    for (const model::Student* student : present_students(cls)) {
        for (std::size_t k = 0; k < skills.size(); ++k) {
            const Standing standing = standings.of(student->id, skills[k]);
            const double days = standing.marks == 0
                                    ? -1.0
                                    : std::max(0.0, double(now_ms - standing.last_ms) / day_ms);
            out.push_back({number, int(k), standing.p, standing.spaced, days});
        }
        ++number;
    }
    return out;
}

}  // namespace tallyround::session
