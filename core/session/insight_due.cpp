#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/text.h"
#include "evidence/trace.h"
#include "session/evidence_model.h"
#include "session/insight.h"
#include "session/insight_parts.h"

namespace tallyround::session {

namespace {

constexpr double due_below = 0.75;
constexpr double farthest_days = 3650.0;

base::Date date_of(std::int64_t ms) {
    return base::civil_from_days(std::int64_t(std::floor(double(ms) / day_ms)));
}

std::string due_reason(const Standing& standing, std::int64_t due_ms, std::int64_t now_ms) {
    const std::string last = base::count_of(std::size_t(standing.marks), "mark", "marks") +
                             ", last on " + base::short_day(date_of(standing.last_ms));
    return last + (due_ms <= now_ms
                       ? "; a look is due now."
                       : "; the next look is due on " + base::short_day(date_of(due_ms)) + ".");
}

std::string forecast_reason(const SkillForecast& f, std::int64_t then_ms) {
    const auto whole = [](double x) { return std::to_string(std::lround(x)); };
    return whole(f.held_now) + " of " +
           base::count_of(std::size_t(f.students), "student", "students") +
           " expected to have it today, " + whole(f.held_then) + " on " +
           base::short_day(date_of(then_ms)) + " without a review.";
}

}  // namespace

std::vector<Due> due_looks(const model::Class& cls, const Standings& standings,
                           std::int64_t now_ms) {
    std::vector<Due> out;
    const std::vector<model::SkillId> skills = skills_of(cls);
    for (const model::Student* student : present_students(cls)) {
        for (const model::SkillId& skill : skills) {
            const Standing standing = standings.of(student->id, skill);
            if (word_for(standing) != Word::likely_has_it) continue;
            const double half = evidence::half_life(standings.model(), standing.spaced);
            const double days =
                std::clamp(half * std::log2(standing.p / due_below), 0.0, farthest_days);
            const std::int64_t due_ms = now_ms + std::int64_t(days * day_ms);
            out.push_back({student->id, skill, standing.p, half, due_ms,
                           due_reason(standing, due_ms, now_ms)});
        }
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Due& a, const Due& b) { return a.due_ms < b.due_ms; });
    return out;
}

std::vector<SkillForecast> forecast_for(const model::Class& cls, const Standings& standings,
                                        std::int64_t now_ms, std::int64_t then_ms) {
    std::vector<SkillForecast> out;
    const double days = std::max(0.0, double(then_ms - now_ms) / day_ms);
    const auto students = present_students(cls);
    for (const model::SkillId& skill : skills_of(cls)) {
        SkillForecast forecast;
        forecast.skill = skill;
        forecast.students = int(students.size());
        for (const model::Student* student : students) {
            const Standing standing = standings.of(student->id, skill);
            const double then =
                standing.p * evidence::kept(standings.model(), standing.spaced, days);
            forecast.held_now += standing.p;
            forecast.held_then += then;
            if (word_for(standing) == Word::likely_has_it && then < due_below) ++forecast.due;
        }
        forecast.why = forecast_reason(forecast, then_ms);
        out.push_back(std::move(forecast));
    }
    std::stable_sort(out.begin(), out.end(), [](const SkillForecast& a, const SkillForecast& b) {
        return a.held_now - a.held_then > b.held_now - b.held_then;
    });
    return out;
}

}  // namespace tallyround::session
