// tallyround advise: whom to see next, on which skill, and why.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "advise/next.h"
#include "base/text.h"
#include "evidence/levels.h"
#include "evidence_input.h"
#include "json/read.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "advise  < REQUEST.json";
constexpr std::size_t name_bytes = 1000;
constexpr double most_days = 1e7;
constexpr double minutes_a_day = 1440.0;
constexpr double longest_lesson_minutes = 120.0;

/// Everything of a request, students and skills numbered in the order of their lists.
struct Request {
    double now = 0.0;
    evidence::Model model;
    advise::Weighing weighing;
    Numbered students;
    Numbered skills;
    std::vector<PairMark> marks;
    std::vector<std::optional<double>> seen;    ///< day last seen in this lesson
    std::vector<std::optional<double>> raised;  ///< day the flag went up
    std::vector<std::string> warnings;
};

/// The list under `key` into `names`; without one, whatever the marks name.
void read_names(const json::Field& root, std::string_view key, const Numbered& in_marks,
                Numbered& names) {
    const auto list = root.find(key);
    if (!list) {
        names = in_marks;
        return;
    }
    for (const json::Field& entry : list->items(100'000)) {
        const std::string name = entry.text(name_bytes);
        if (name.empty()) entry.refuse("Expected 1 to 1000 bytes of text.");
        if (names.find(name) >= 0) entry.refuse("This name is in the list twice.");
        names.number(name);
    }
}

void say(std::size_t n, std::string_view place, std::string_view what,
         std::vector<std::string>& warnings) {
    if (n == 0) return;
    warnings.push_back(std::string(place) + ": " + base::count_of(n, "entry", "entries") + " " +
                       std::string(what));
}

void keep_usable_marks(const MarkList& list, const Numbered& students, const Numbered& skills,
                       Request& request) {
    std::size_t strangers = 0;
    std::size_t future = 0;
    for (PairMark m : list.marks) {
        m.student = request.students.find(students.name(m.student));
        m.skill = request.skills.find(skills.name(m.skill));
        if (m.student < 0 || m.skill < 0) {
            ++strangers;
        } else if (m.mark.day > request.now) {
            ++future;
        } else {
            request.marks.push_back(m);
        }
    }
    say(strangers, "/marks", "for a student or skill that is not in the lists left out.",
        request.warnings);
    say(future, "/marks", "later than now_day left out.", request.warnings);
}

/// Days from the list under `key`, the latest (or earliest) for each student, none after now.
std::vector<std::optional<double>> read_days(const json::Field& root, std::string_view key,
                                             std::string_view day_key, bool latest,
                                             Request& request) {
    std::vector<std::optional<double>> out(static_cast<std::size_t>(request.students.size()));
    const auto list = root.find(key);
    if (!list) return out;
    std::size_t strangers = 0;
    std::size_t future = 0;
    for (const json::Field& entry : list->items()) {
        const int student = request.students.find(entry.at("student").text(name_bytes));
        const double day = entry.at(day_key).number(-most_days, most_days);
        if (day > request.now) ++future;
        if (student < 0) {
            ++strangers;
            continue;
        }
        auto& held = out[static_cast<std::size_t>(student)];
        const double at = std::min(day, request.now);
        held = held ? (latest ? std::max(*held, at) : std::min(*held, at)) : at;
    }
    const std::string place = "/" + std::string(key);
    say(strangers, place, "for a student who is not in the list left out.", request.warnings);
    say(future, place, "later than now_day taken as now.", request.warnings);
    return out;
}

/// A mark is a look too. What is further back than a lesson lasts does not count for this one; it
/// began with the first look since.
void settle_lesson(Request& request) {
    const double earliest = request.now - longest_lesson_minutes / minutes_a_day;
    double start = request.now;
    for (const PairMark& m : request.marks) {
        if (m.mark.day < earliest) continue;
        auto& held = request.seen[static_cast<std::size_t>(m.student)];
        held = held ? std::max(*held, m.mark.day) : m.mark.day;
        start = std::min(start, m.mark.day);
    }
    for (auto& day : request.seen) {
        if (day && *day < earliest) day.reset();
        if (day) start = std::min(start, *day);
    }
    request.weighing.lesson_minutes = (request.now - start) * minutes_a_day;
}

Request read_request(const json::Field& root) {
    Request r;
    r.now = root.at("now_day").number(-most_days, most_days);
    r.model = read_model(root, r.warnings);
    r.weighing.fair_minutes = root.number_or("fair_minutes", 1.0, 1e6, r.weighing.fair_minutes);
    Numbered students;
    Numbered skills;
    const MarkList list = read_marks(root, students, skills);
    warn_about(list, r.warnings);
    read_names(root, "students", students, r.students);
    read_names(root, "skills", skills, r.skills);
    if (static_cast<double>(r.students.size()) * r.skills.size() > 4e6) {
        root.at("students").refuse("More than 4,000,000 pairs of student and skill.");
    }
    keep_usable_marks(list, students, skills, r);
    r.seen = read_days(root, "seen", "day", true, r);
    r.raised = read_days(root, "flags", "raised_day", false, r);
    settle_lesson(r);
    return r;
}

evidence::Levels fit_levels(const Request& r) {
    std::vector<evidence::Answer> answers;
    answers.reserve(r.marks.size());
    for (const PairMark& m : r.marks) {
        answers.push_back({m.student, m.skill, -1, evidence::credit(m.mark.level),
                           r.model.weight(m.mark.help), -m.mark.difficulty});
    }
    return evidence::Levels::fit(answers);
}

std::vector<advise::Candidate> candidates(Request& r) {
    const auto levels = fit_levels(r);
    sort_by_pair(r.marks);
    std::vector<advise::Candidate> out;
    auto next = r.marks.cbegin();
    for (int student = 0; student < r.students.size(); ++student) {
        for (int skill = 0; skill < r.skills.size(); ++skill) {
            evidence::Trace trace;
            for (; next != r.marks.cend() && next->student == student && next->skill == skill;
                 ++next) {
                trace.add(r.model, next->mark);
            }
            const double prior = levels.prior(r.model, student, skill);
            out.push_back({student, skill, trace.estimate_at(r.model, prior, r.now)});
        }
    }
    return out;
}

json::Json answer(const json::Field& root) {
    Request r = read_request(root);
    std::vector<advise::Walker> walkers;
    for (int student = 0; student < r.students.size(); ++student) {
        const auto& seen = r.seen[static_cast<std::size_t>(student)];
        const auto& raised = r.raised[static_cast<std::size_t>(student)];
        walkers.push_back({student, seen ? (r.now - *seen) * minutes_a_day : -1.0,
                           raised ? (r.now - *raised) * minutes_a_day : -1.0});
    }
    json::Json next = json::Json::array();
    for (const advise::Visit& v :
         advise::next_visits(r.model, walkers, candidates(r), r.weighing)) {
        next.push_back({{"student", r.students.name(v.student)},
                        {"skill", r.skills.name(v.skill)},
                        {"score", v.score},
                        {"why", advise::plain(v, r.skills.name(v.skill))},
                        {"p", v.p},
                        {"marks", v.marks}});
    }
    return {{"next", std::move(next)},
            {"fair_minutes", r.weighing.fair_minutes},
            {"model", model_json(r.model)},
            {"warnings", r.warnings}};
}

}  // namespace

Outcome run_advise(const Invocation& call) {
    Outcome failure;
    const auto request = stdin_json(call, synopsis, failure);
    if (!request) return failure;
    const auto result = json::read(*request, answer);
    return result ? done(*result) : bad_input("standard input", result.error());
}

}  // namespace tallyround::cli
