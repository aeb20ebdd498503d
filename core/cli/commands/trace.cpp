// tallyround trace: what the marks say about each student and skill.
#include "evidence/trace.h"
#include "json/read.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <tuple>

#include "evidence/fit.h"
#include "evidence_input.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "trace  < REQUEST.json";

/// Replaces each number by its rank in byte order of the names, so that sorting numbers sorts
/// names.
std::vector<int> ranks(const Numbered& names) {
    const auto order = names.sorted();
    std::vector<int> rank(order.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        rank[static_cast<std::size_t>(order[i])] = static_cast<int>(i);
    return rank;
}

json::Json estimates(const evidence::Model& model, std::vector<PairMark> marks,
                     const Numbered& students, const Numbered& skills) {
    const auto student_rank = ranks(students);
    const auto skill_rank = ranks(skills);
    const auto student_at = students.sorted();
    const auto skill_at = skills.sorted();
    for (PairMark& m : marks) {
        m.student = student_rank[static_cast<std::size_t>(m.student)];
        m.skill = skill_rank[static_cast<std::size_t>(m.skill)];
    }
    sort_by_pair(marks);
    json::Json out = json::Json::array();
    for (std::size_t i = 0; i < marks.size();) {
        evidence::Trace trace;
        const PairMark& first = marks[i];
        for (;
             i < marks.size() && marks[i].student == first.student && marks[i].skill == first.skill;
             ++i) {
            trace.add(model, marks[i].mark);
        }
        const evidence::Estimate e = trace.estimate(model);
        out.push_back(
            {{"student", students.name(student_at[static_cast<std::size_t>(first.student)])},
             {"skill", skills.name(skill_at[static_cast<std::size_t>(first.skill)])},
             {"p", e.p},
             {"low", e.low},
             {"high", e.high},
             {"strength", e.strength},
             {"marks", e.marks},
             {"last_day", e.last_day}});
    }
    return out;
}

/// With "fit": true, the model fitted to the marks, starting from the one given.
evidence::Fitted fit(const evidence::Model& start, std::vector<PairMark> marks) {
    sort_by_pair(marks);
    evidence::Sequences all;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const bool next = i > 0 && (marks[i].student != marks[i - 1].student ||
                                    marks[i].skill != marks[i - 1].skill);
        if (next) all.close();
        all.marks.push_back(marks[i].mark);
    }
    if (!marks.empty()) all.close();
    return evidence::fit_model(all, start);
}

json::Json answer(const json::Field& root) {
    (void)root.at("marks");
    std::vector<std::string> warnings;
    evidence::Model model = read_model(root, warnings);
    Numbered students;
    Numbered skills;
    MarkList list = read_marks(root, students, skills);
    warn_about(list, warnings);
    const auto wish = root.find("fit");
    if (wish && wish->boolean()) {
        const evidence::Fitted fitted = fit(model, list.marks);
        model = fitted.model;
        if (!fitted.enough) {
            warnings.push_back("/fit: too few marks to fit the model to, it stays as it was: " +
                               std::to_string(evidence::fit_least_marks) + " marks in " +
                               std::to_string(evidence::fit_least_pairs) +
                               " pairs of two or more are needed.");
        }
    }
    return {{"estimates", estimates(model, std::move(list.marks), students, skills)},
            {"model", model_json(model)},
            {"warnings", warnings}};
}

}  // namespace

Outcome run_trace(const Invocation& call) {
    Outcome failure;
    const auto request = stdin_json(call, synopsis, failure);
    if (!request) return failure;
    const auto result = json::read(*request, answer);
    return result ? done(*result) : bad_input("standard input", result.error());
}

}  // namespace tallyround::cli
