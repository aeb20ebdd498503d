#include "session/slips.h"

#include <algorithm>
#include <map>
#include <set>

#include "cards/generate.h"

namespace tallyround::session {

std::vector<SlipCount> slips_seen(const model::Class& cls, const model::SkillId& skill) {
    struct Seen {
        std::set<model::StudentId> students;
        int times = 0;
    };
    std::map<std::string, Seen> all;
    for (const model::SlipSeen& one : cls.slips) {
        if (one.skill != skill) continue;
        Seen& seen = all[one.slip];
        seen.students.insert(one.student);
        ++seen.times;
    }
    std::vector<SlipCount> out;
    for (const auto& [id, seen] : all) {
        const cards::SlipInfo* info = cards::find_slip(id);
        out.push_back({id, info == nullptr ? id : std::string(info->rule),
                       int(seen.students.size()), seen.times});
    }
    std::stable_sort(out.begin(), out.end(), [](const SlipCount& a, const SlipCount& b) {
        return a.students != b.students ? a.students > b.students : a.times > b.times;
    });
    return out;
}

}  // namespace tallyround::session
