#include "exchange/export.h"

#include <algorithm>
#include <map>
#include <vector>

#include "exchange/bell.h"
#include "exchange/calendar.h"
#include "exchange/csv_out.h"
#include "exchange/export_names.h"
#include "plan/fit.h"
#include "record/hash.h"

namespace tallyround::exchange {

using namespace model;  // NOLINT

namespace {

constexpr std::int64_t day_ms = 86'400'000;
constexpr std::int64_t max_time_ms = 253'402'300'799'999;  // 9999-12-31T23:59:59.999Z
constexpr std::int64_t min_time_ms = -62'167'219'200'000;  // 0000-01-01

/// Milliseconds as a day and the second of that day.
std::pair<base::Date, int> day_and_second(std::int64_t ms) {
    ms = std::clamp(ms, min_time_ms, max_time_ms);
    std::int64_t day = ms / day_ms;
    if (ms % day_ms < 0) --day;
    return {base::civil_from_days(day), static_cast<int>((ms - day * day_ms) / 1000)};
}

std::string two(int value) {
    return (value < 10 ? "0" : "") + std::to_string(value);
}

struct Tally {
    int by_level[3] = {0, 0, 0};
    int with_help = 0;
    const Mark* last = nullptr;
};

/// Marks of each student and skill, in the order of the export.
std::map<std::pair<std::size_t, SkillId>, Tally> tallies(const Class& cls,
                                                         const ExportNames& names) {
    std::map<std::pair<std::size_t, SkillId>, Tally> out;
    for (const Mark& m : cls.marks) {
        Tally& t = out[{names.order(m.student), m.skill}];
        ++t.by_level[static_cast<std::size_t>(m.level)];
        if (m.help != Help::none) ++t.with_help;
        t.last = &m;
    }
    return out;
}

/// Which rounds the bell of each period holds; nothing when they cannot be laid out.
plan::Fit rounds_of(const Block& block, const std::vector<Period>& periods) {
    auto fit = plan::fit(bell_request(periods, block.timing));
    return fit ? *std::move(fit) : plan::Fit{};
}

std::string description_of(const Block& block, const ExportNames& names, const plan::Fit& fit,
                           std::size_t period) {
    std::string out;
    for (const plan::RoundTime& r : fit.rounds) {
        if (static_cast<std::size_t>(r.period) != period) continue;
        out += "Round " + std::to_string(r.number) + ": " + base::clock_text(r.start) + "-" +
               base::clock_text(r.end) + "\n";
    }
    for (const Center& c : block.centers) {
        if (c.closed) continue;
        const std::string title = names.skill_title(c.skill);
        out += names.center(c) + (c.skill.empty() ? "" : ": ");
        out += (title.empty() ? c.skill.str() : title) + "\n";
    }
    return out;
}

void add_block(std::vector<CalendarEvent>& out, const Class& cls, const Block& block,
               const ExportNames& names) {
    std::vector<Period> periods;
    for (const Period& p : block.periods) {
        const bool usable = p.start_minute >= 0 && p.start_minute < p.end_minute &&
                            p.end_minute <= 24 * 60 && p.date.year >= 1 && p.date.year <= 9999;
        if (usable) periods.push_back(p);
    }
    const plan::Fit fit = rounds_of(block, periods);
    for (std::size_t i = 0; i < periods.size(); ++i) {
        const Period& p = periods[i];
        const std::string name = cls.id.str() + "/" + block.id.str() + "/" + std::to_string(i);
        out.push_back({uuid_of(name), names.class_name() + ": " + names.block(block.id),
                       description_of(block, names, fit, i), "", p.date, p.start_minute * 60,
                       p.end_minute * 60});
    }
}

}  // namespace

std::string uuid_of(const std::string& name) {
    std::string hex = record::bytes_hash(name);
    hex[12] = '8';
    hex[16] = '8';
    return hex.substr(0, 8) + "-" + hex.substr(8, 4) + "-" + hex.substr(12, 4) + "-" +
           hex.substr(16, 4) + "-" + hex.substr(20);
}

std::string utc_text(std::int64_t ms) {
    const auto [date, second] = day_and_second(ms);
    return base::to_text(date) + "T" + two(second / 3600) + ":" + two(second / 60 % 60) + ":" +
           two(second % 60) + "Z";
}

std::string_view sharing_caution() {
    return "Caution: marks are a teacher's own memory aid. Once shared they may become education "
           "records (United States: 34 CFR 99.3); follow your school's policy before you pass "
           "this file on.";
}

std::string marks_csv(const State& state, const ExportOptions& options) {
    std::vector<std::vector<std::string>> rows{{"class", "student", "student_id", "time_utc",
                                                "block", "round", "center", "skill", "skill_title",
                                                "level", "help"}};
    for (std::size_t c = 0; c < state.classes.size(); ++c) {
        const Class& cls = state.classes[c];
        const ExportNames names(cls, c, options);
        for (const Mark& m : cls.marks) {
            const Student* student = cls.student(m.student);
            if (!student) continue;
            rows.push_back({names.class_name(), names.student(*student), names.student_id(*student),
                            utc_text(m.at_ms), names.block(m.block),
                            m.round > 0 ? std::to_string(m.round) : "",
                            names.center(m.block, m.center), m.skill.str(),
                            names.skill_title(m.skill), std::string(to_text(m.level)),
                            std::string(to_text(m.help))});
        }
    }
    return csv_text(rows);
}

std::string summary_csv(const State& state, const ExportOptions& options) {
    std::vector<std::vector<std::string>> rows{{"class", "student", "student_id", "skill",
                                                "skill_title", "marks", "secure", "shaky", "stuck",
                                                "with_help", "last_level", "last_utc"}};
    for (std::size_t c = 0; c < state.classes.size(); ++c) {
        const Class& cls = state.classes[c];
        const ExportNames names(cls, c, options);
        for (const auto& [key, t] : tallies(cls, names)) {
            const Student* student = cls.student(t.last->student);
            if (!student) continue;
            const auto& n = t.by_level;
            rows.push_back({names.class_name(), names.student(*student), names.student_id(*student),
                            key.second.str(), names.skill_title(key.second),
                            std::to_string(n[0] + n[1] + n[2]), std::to_string(n[0]),
                            std::to_string(n[1]), std::to_string(n[2]), std::to_string(t.with_help),
                            std::string(to_text(t.last->level)), utc_text(t.last->at_ms)});
        }
    }
    return csv_text(rows);
}

std::string calendar_of(const State& state, const ExportOptions& options, std::int64_t written_ms) {
    std::vector<CalendarEvent> events;
    for (std::size_t c = 0; c < state.classes.size(); ++c) {
        const Class& cls = state.classes[c];
        if (cls.archived) continue;
        const ExportNames names(cls, c, options);
        for (const Block& block : cls.blocks)
            add_block(events, cls, block, names);
    }
    const auto [date, second] = day_and_second(written_ms);
    return calendar_text(events, {date, second});
}

}  // namespace tallyround::exchange
