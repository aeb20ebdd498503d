#include <algorithm>
#include <map>
#include <optional>

#include "advise/next.h"
#include "advise/review.h"
#include "base/text.h"
#include "session/derived.h"
#include "session/evidence_model.h"

namespace tallyround::session {

namespace {

constexpr double minute_ms = 60'000.0;
constexpr double days_to_next_review = 7.0;

/// Skills numbered in the order they are first met.
class SkillNumbers {
  public:
    int of(const model::SkillId& skill) {
        const auto [it, fresh] = number_.try_emplace(skill, int(skills_.size()));
        if (fresh) skills_.push_back(skill);
        return it->second;
    }
    const std::vector<model::SkillId>& all() const { return skills_; }

  private:
    std::map<model::SkillId, int> number_;
    std::vector<model::SkillId> skills_;
};

/// Skills a student works on now: that of the group's center in this round, or all planned.
std::vector<model::SkillId> skills_now(const model::Block& block, int group) {
    if (block.lesson.running()) {
        const model::Center* center =
            model::find_center(block, model::center_at(block, group, block.lesson.round));
        if (center != nullptr && !center->skill.empty()) return {center->skill};
    }
    return block.skills;
}

/// When each student was last looked at in the lesson that runs.
std::map<model::StudentId, std::int64_t> seen_in_lesson(const model::Class& cls,
                                                        const model::Block& block) {
    std::map<model::StudentId, std::int64_t> seen;
    if (!block.lesson.running()) return seen;
    for (auto it = cls.marks.rbegin(); it != cls.marks.rend(); ++it) {
        if (it->at_ms < block.lesson.started_ms) break;
        seen.try_emplace(it->student, it->at_ms);
    }
    return seen;
}

double minutes_between(std::int64_t from_ms, std::int64_t to_ms) {
    return std::max(0.0, double(to_ms - from_ms) / minute_ms);
}

std::string review_reason(const ReviewNext& r, int slipping) {
    const auto students = [](int n) {
        return base::count_of(std::size_t(n), "student", "students");
    };
    if (r.needs_time > 0) {
        return students(r.needs_time) + (r.needs_time == 1 ? " needs" : " need") +
               " time with this.";
    }
    if (r.likely + r.on_the_way == 0) {
        return r.early == 0 ? "Nobody has been seen on this yet."
                            : "Too few marks to say for anyone yet.";
    }
    if (r.on_the_way > 0) {
        return students(r.on_the_way) + (r.on_the_way == 1 ? " is" : " are") + " on the way.";
    }
    if (slipping > 0) {
        return students(slipping) + " may lose it within a week without another look.";
    }
    return students(r.likely) + " likely " + (r.likely == 1 ? "has" : "have") + " it.";
}

void count_word(ReviewNext& review, Word word) {
    switch (word) {
        case Word::no_marks:
            ++review.unseen;
            break;
        case Word::early:
            ++review.early;
            break;
        case Word::likely_has_it:
            ++review.likely;
            break;
        case Word::on_the_way:
            ++review.on_the_way;
            break;
        case Word::needs_time:
            ++review.needs_time;
            break;
    }
}

}  // namespace

std::vector<NextLook> whom_next(const model::Class& cls, const model::Block& block,
                                const Standings& standings, std::int64_t now_ms,
                                std::size_t limit) {
    const auto seen = seen_in_lesson(cls, block);
    std::vector<model::StudentId> students;
    std::vector<advise::Walker> walkers;
    std::vector<advise::Candidate> candidates;
    SkillNumbers skills;
    for (std::size_t g = 0; g < block.groups.size(); ++g) {
        const std::vector<model::SkillId> now = skills_now(block, int(g));
        for (const model::StudentId& id : block.groups[g]) {
            if (model::is_absent(block, id)) continue;
            advise::Walker walker;
            walker.student = int(students.size());
            const auto last = seen.find(id);
            if (last != seen.end())
                walker.minutes_since_seen = minutes_between(last->second, now_ms);
            for (const model::Flag& flag : cls.flags) {
                if (flag.student == id)
                    walker.minutes_waiting = minutes_between(flag.raised_ms, now_ms);
            }
            for (const model::SkillId& skill : now) {
                candidates.push_back(
                    {walker.student, skills.of(skill), evidence_estimate(standings.of(id, skill))});
            }
            students.push_back(id);
            walkers.push_back(walker);
        }
    }
    advise::Weighing weighing;
    if (block.lesson.running()) {
        weighing.lesson_minutes = minutes_between(block.lesson.started_ms, now_ms);
    }
    const auto visits = advise::next_visits(standings.model(), walkers, candidates, weighing);
    std::vector<NextLook> next;
    for (std::size_t i = 0; i < std::min(limit, visits.size()); ++i) {
        const model::SkillId& skill = skills.all()[std::size_t(visits[i].skill)];
        next.push_back({students[std::size_t(visits[i].student)],
                        advise::plain(visits[i], skill_title(cls, skill))});
    }
    return next;
}

std::vector<ReviewNext> review_next(const model::Class& cls, const model::Block& block,
                                    const Standings& standings) {
    SkillNumbers skills;
    for (const model::SkillId& skill : block.skills)
        skills.of(skill);
    std::int64_t latest_ms = 0;
    for (const model::Mark& mark : cls.marks) {
        skills.of(mark.skill);
        latest_ms = std::max(latest_ms, mark.at_ms);
    }
    std::vector<advise::Holding> holdings;
    std::vector<ReviewNext> counted(skills.all().size());
    int number = 0;
    for (const model::Student* student : present_students(cls)) {
        for (std::size_t k = 0; k < skills.all().size(); ++k) {
            const Standing standing = standings.of(student->id, skills.all()[k]);
            count_word(counted[k], word_for(standing));
            const double days =
                standing.marks == 0 ? -1.0 : double(latest_ms - standing.last_ms) / day_ms;
            holdings.push_back({number, int(k), standing.p, standing.spaced, days});
        }
        ++number;
    }
    std::vector<ReviewNext> next;
    for (const advise::SkillReview& review :
         advise::order_review(standings.model(), holdings, days_to_next_review)) {
        ReviewNext& entry = counted[std::size_t(review.skill)];
        entry.skill = skills.all()[std::size_t(review.skill)];
        entry.why = review_reason(entry, review.slipping);
        next.push_back(std::move(entry));
    }
    return next;
}

}  // namespace tallyround::session
