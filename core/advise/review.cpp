#include "advise/review.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace tallyround::advise {

std::vector<SkillReview> order_review(const evidence::Model& model,
                                      std::span<const Holding> holdings, double days_ahead,
                                      const ReviewEffect& effect) {
    std::map<int, SkillReview> by_skill;
    for (const Holding& h : holdings) {
        SkillReview& s = by_skill[h.skill];
        s.skill = h.skill;
        const double without = h.p * evidence::kept(model, h.spaced, days_ahead);
        const int spaced = h.spaced + (h.days >= 1.0 ? 1 : 0);
        const double after = h.p + (1.0 - h.p) * effect.taught;
        s.gain += after * evidence::kept(model, spaced, days_ahead) - without;
        s.held += without;
        ++s.students;
        if (h.p < 0.5) ++s.need_it;
        if (h.p >= 0.5 && without < 0.5) ++s.slipping;
    }
    std::vector<SkillReview> out;
    out.reserve(by_skill.size());
    for (const auto& [skill, review] : by_skill)
        out.push_back(review);
    std::sort(out.begin(), out.end(), [](const SkillReview& a, const SkillReview& b) {
        return std::tuple(-a.gain, a.skill) < std::tuple(-b.gain, b.skill);
    });
    return out;
}

}  // namespace tallyround::advise
