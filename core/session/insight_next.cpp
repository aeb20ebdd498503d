#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/text.h"
#include "model/kinds.h"
#include "session/evidence_model.h"
#include "session/insight.h"
#include "session/insight_parts.h"
#include "session/kinds_for.h"

namespace tallyround::session {

namespace {

constexpr std::size_t teacher_seats = 4;
constexpr double need_below = 0.5;
constexpr double review_days = 7.0;
constexpr double a_point = 0.01;

std::string kind_title(std::string_view kind) {
    const model::CenterKind* found = model::find_center_kind(kind);
    return std::string(found == nullptr ? kind : found->title);
}

/// What the class's own centers say about kinds: mean gain weighted by students, verdicts a skill.
class KindRecord {
  public:
    KindRecord(const model::Class& cls, const Standings& standings) {
        const auto verdicts = judge_blocks(cls, standings);
        for (std::size_t b = 0; b < verdicts.size(); ++b) {
            for (const CenterVerdict& v : verdicts[b]) {
                const model::Center* center = model::find_center(cls.blocks[b], v.center);
                if (center == nullptr || v.verdict == "too early") continue;
                Sum& sum = kinds_[center->kind];
                sum.gain += v.gain * v.students;
                sum.students += v.students;
                if (v.verdict == "swap") swapped_.insert({center->skill, center->kind});
            }
        }
    }
    int students(std::string_view kind) const { return sum(kind).students; }
    /// 0 for a kind without a verdict yet.
    double gain(std::string_view kind) const {
        const Sum s = sum(kind);
        return s.students == 0 ? 0.0 : s.gain / s.students;
    }
    bool swapped(const model::SkillId& skill, std::string_view kind) const {
        return swapped_.count({skill, std::string(kind)}) > 0;
    }

  private:
    struct Sum {
        double gain = 0.0;
        int students = 0;
    };
    Sum sum(std::string_view kind) const {
        const auto it = kinds_.find(std::string(kind));
        return it == kinds_.end() ? Sum{} : it->second;
    }
    std::map<std::string, Sum> kinds_;
    std::set<std::pair<model::SkillId, std::string>> swapped_;
};

/// Kinds for a skill, best first: those not swapped out for it before, those used least so far,
/// then the larger gain in this class, then what suits the strand.
std::vector<std::string_view> ranked_kinds(const KindRecord& record, const model::SkillId& skill,
                                           const std::map<std::string_view, int>& used) {
    std::vector<std::string_view> kinds = kinds_for(skill);
    const auto uses = [&](std::string_view kind) {
        const auto it = used.find(kind);
        return it == used.end() ? 0 : it->second;
    };
    std::stable_sort(kinds.begin(), kinds.end(), [&](std::string_view a, std::string_view b) {
        const auto key = [&](std::string_view kind) {
            return std::tuple(record.swapped(skill, kind), uses(kind),
                              -std::lround(record.gain(kind) / a_point));
        };
        return key(a) < key(b);
    });
    return kinds;
}

std::string kind_reason(const KindRecord& record, std::string_view kind) {
    const long points = std::lround(record.gain(kind) / a_point);
    if (record.students(kind) > 0 && points > 0) {
        return kind_title(kind) + " raised the chance of having the skill by " +
               std::to_string(points) + " in 100 in this class.";
    }
    const model::CenterKind* found = model::find_center_kind(kind);
    return found == nullptr ? kind_title(kind) : std::string(found->purpose);
}

struct Need {
    int students = 0;  ///< with marks that point to another go
    double held = 0.0;
};

Need need_of(const std::vector<const model::Student*>& students, const Standings& standings,
             const model::SkillId& skill) {
    Need need;
    for (const model::Student* student : students) {
        const Standing standing = standings.of(student->id, skill);
        need.held += standing.p;
        if (standing.marks > 0 && standing.p < need_below) ++need.students;
    }
    return need;
}

std::string tier_reason(double held, std::size_t students) {
    return std::to_string(std::lround(held)) + " of " +
           base::count_of(students, "student", "students") + " are expected to have it today.";
}

std::string skill_reason(const Need& need, const advise::SkillReview& review) {
    if (need.students > 0) {
        return "Marks of " + base::count_of(std::size_t(need.students), "student", "students") +
               " ask for another go.";
    }
    if (review.slipping > 0) {
        return base::count_of(std::size_t(review.slipping), "student", "students") +
               " may lose it within a week without another look.";
    }
    return "A review is expected to bring it to " +
           base::count_of(std::size_t(std::lround(review.gain)), "more student", "more students") +
           ".";
}

bool may_sit_with(const model::Class& cls, const std::vector<model::StudentId>& group,
                  const model::StudentId& student) {
    return std::none_of(group.begin(), group.end(), [&](const model::StudentId& other) {
        return cls.rule_between(other, student) == model::PairRule::apart;
    });
}

/// The students whose marks on the skill ask for another go, the smallest chance first.
std::vector<model::StudentId> needing(const model::Class& cls, const Standings& standings,
                                      const model::SkillId& skill,
                                      const std::set<model::StudentId>& taken) {
    std::vector<std::pair<double, model::StudentId>> found;
    for (const model::Student* student : present_students(cls)) {
        const Standing standing = standings.of(student->id, skill);
        if (standing.marks > 0 && standing.p < need_below && taken.count(student->id) == 0)
            found.emplace_back(standing.p, student->id);
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<model::StudentId> group;
    for (const auto& [p, student] : found) {
        if (group.size() < teacher_seats && may_sit_with(cls, group, student))
            group.push_back(student);
    }
    return group;
}

std::vector<TeacherGroup> teacher_groups(const model::Class& cls, const Standings& standings,
                                         const std::vector<SkillProposal>& skills) {
    std::vector<TeacherGroup> out;
    std::set<model::StudentId> taken;
    for (;;) {
        TeacherGroup best;
        for (const SkillProposal& proposal : skills) {
            std::vector<model::StudentId> group = needing(cls, standings, proposal.skill, taken);
            if (group.size() > best.students.size()) best = {proposal.skill, std::move(group), ""};
        }
        if (best.students.size() < 2) return out;
        best.why = "Their marks on " + skill_title(cls, best.skill) + " ask for another go.";
        taken.insert(best.students.begin(), best.students.end());
        out.push_back(std::move(best));
    }
}

GroupTier group_tier(const std::vector<model::StudentId>& group, int number,
                     const Standings& standings, const model::SkillId& skill) {
    double held = 0.0;
    for (const model::StudentId& student : group)
        held += standings.of(student, skill).p;
    return {number, skill, tier_for(held / double(group.size())), tier_reason(held, group.size())};
}

std::vector<GroupTier> group_tiers(const model::Block* block, const Standings& standings,
                                   const std::vector<SkillProposal>& skills) {
    std::vector<GroupTier> out;
    if (block == nullptr) return out;
    for (std::size_t g = 0; g < block->groups.size(); ++g) {
        if (block->groups[g].empty()) continue;
        for (const SkillProposal& proposal : skills)
            out.push_back(group_tier(block->groups[g], int(g), standings, proposal.skill));
    }
    return out;
}

/// Chooses a kind for each proposal in turn: the teacher center for the skill that most ask for,
/// then the best of the others that devices allow.
void choose_kinds(const model::Class& cls, const KindRecord& record, const std::vector<Need>& needs,
                  std::vector<SkillProposal>& skills) {
    const model::Block* block = cls.current_block();
    const int devices = block == nullptr ? 0 : block->devices;
    std::size_t most = 0;
    for (std::size_t i = 0; i < needs.size(); ++i) {
        if (needs[i].students > needs[most].students) most = i;
    }
    std::map<std::string_view, int> used;
    for (std::size_t i = 0; i < skills.size(); ++i) {
        if (i == most && needs[i].students >= 2) {
            skills[i].kind = "teacher";
            skills[i].why_kind = "Most students ask for another go here: you see every step.";
            continue;
        }
        for (const std::string_view kind : ranked_kinds(record, skills[i].skill, used)) {
            const model::CenterKind* found = model::find_center_kind(kind);
            if (!devices_suffice(*found, used[kind], devices)) continue;
            ++used[kind];
            skills[i].kind = kind;
            skills[i].why_kind = kind_reason(record, kind);
            break;
        }
    }
}

}  // namespace

NextBlock next_block(const model::Class& cls, const Standings& standings, std::int64_t now_ms,
                     std::size_t most_skills) {
    NextBlock out;
    const std::vector<model::SkillId> skills = skills_of(cls);
    const auto students = present_students(cls);
    if (skills.empty() || students.empty()) {
        out.why = students.empty() ? "Add students first." : "Choose a skill or make marks first.";
        return out;
    }
    std::vector<Need> needs;
    for (const advise::SkillReview& review : advise::order_review(
             standings.model(), holdings_of(cls, standings, skills, now_ms), review_days)) {
        if (out.skills.size() >= most_skills) break;
        const model::SkillId& skill = skills[std::size_t(review.skill)];
        needs.push_back(need_of(students, standings, skill));
        const double held = needs.back().held;
        out.skills.push_back({skill, skill_reason(needs.back(), review), "", "",
                              tier_for(held / double(students.size())),
                              tier_reason(held, students.size())});
    }
    choose_kinds(cls, KindRecord(cls, standings), needs, out.skills);
    out.teacher = teacher_groups(cls, standings, out.skills);
    out.tiers = group_tiers(cls.current_block(), standings, out.skills);
    out.why = cls.marks.empty() ? "No marks yet: these are the skills you planned."
                                : "From " + base::count_of(cls.marks.size(), "mark", "marks") +
                                      ", those with most to gain first.";
    return out;
}

std::vector<int> TierAdvice::dots() const {
    std::set<int> all{int(tier) + 1};
    for (const GroupTier& group : groups)
        all.insert(int(group.tier) + 1);
    return {all.begin(), all.end()};
}

TierAdvice tier_advice(const model::Class& cls, const model::Block& block,
                       const Standings& standings, const model::SkillId& skill) {
    TierAdvice out;
    const auto students = present_students(cls);
    if (students.empty()) return out;
    double held = 0.0;
    for (const model::Student* student : students)
        held += standings.of(student->id, skill).p;
    out.tier = tier_for(held / double(students.size()));
    out.why = tier_reason(held, students.size());
    for (std::size_t g = 0; g < block.groups.size(); ++g) {
        if (!block.groups[g].empty())
            out.groups.push_back(group_tier(block.groups[g], int(g), standings, skill));
    }
    return out;
}

std::vector<SwapIdea> swap_ideas(const model::Class& cls, const model::Block& block,
                                 const model::CenterId& center, const Standings& standings) {
    std::vector<SwapIdea> out;
    const model::Center* was = model::find_center(block, center);
    if (was == nullptr) return out;
    const KindRecord record(cls, standings);
    std::map<std::string_view, int> used;
    for (const model::Center* open : open_centers(block)) {
        const model::CenterKind* kind = model::find_center_kind(open->kind);
        if (kind != nullptr && open->id != center) ++used[kind->id];
    }
    for (const std::string_view kind : ranked_kinds(record, was->skill, used)) {
        const model::CenterKind* found = model::find_center_kind(kind);
        if (kind == was->kind || record.swapped(was->skill, kind)) continue;
        if (!devices_suffice(*found, used[kind], block.devices)) continue;
        out.push_back({std::string(kind), kind_reason(record, kind)});
    }
    return out;
}

}  // namespace tallyround::session
