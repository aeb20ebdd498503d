#include <algorithm>

#include "cards/bank.h"
#include "model/kinds.h"
#include "session/derived.h"

namespace tallyround::session {

std::string skill_title(const model::Class& cls, const model::SkillId& skill) {
    if (const model::OwnSkill* own = cls.own_skill(skill)) return own->title;
    const cards::SkillInfo* info = cards::find_skill(skill.view());
    return info == nullptr ? skill.str() : std::string(info->title);
}

int skill_grade(const model::Class& cls, const model::SkillId& skill) {
    if (const model::OwnSkill* own = cls.own_skill(skill)) return own->grade;
    const cards::SkillInfo* info = cards::find_skill(skill.view());
    return info == nullptr ? cls.grade : info->grade;
}

std::string center_title(const model::Center& center) {
    if (!center.title.empty()) return center.title;
    const model::CenterKind* kind = model::find_center_kind(center.kind);
    if (kind != nullptr) return std::string(kind->title);
    return center.kind.empty() ? "Center" : center.kind;
}

std::vector<const model::Student*> present_students(const model::Class& cls) {
    std::vector<const model::Student*> present;
    for (const model::Student& student : cls.students) {
        if (!student.left) present.push_back(&student);
    }
    return present;
}

std::vector<const model::Center*> open_centers(const model::Block& block) {
    std::vector<const model::Center*> open;
    for (const model::Center& center : block.centers) {
        if (!center.closed) open.push_back(&center);
    }
    return open;
}

std::string group_name(int group) {
    return "Group " + std::to_string(group + 1);
}

}  // namespace tallyround::session
