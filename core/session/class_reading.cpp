#include "session/class_reading.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "session/evidence_model.h"

namespace tallyround::session {

namespace {

constexpr std::size_t smallest_step = 12;
/// Marks a fit reads at most, whole pairs, those marked last first: plenty for six parameters, and
/// the same time however long the record is.
constexpr std::size_t most_fitted = 4000;

/// One student and one skill: places of their marks, in order.
struct PairMarks {
    int student = 0;
    int skill = 0;
    std::vector<std::size_t> places;
};

evidence::Sequences latest_sequences(std::span<const model::Mark> marks,
                                     std::vector<PairMarks> pairs) {
    std::sort(pairs.begin(), pairs.end(), [](const PairMarks& a, const PairMarks& b) {
        return a.places.back() > b.places.back();
    });
    evidence::Sequences out;
    for (const PairMarks& pair : pairs) {
        if (out.marks.size() >= most_fitted) break;
        for (const std::size_t place : pair.places)
            out.marks.push_back(evidence_mark(marks[place]));
        out.close();
    }
    return out;
}

/// Marks of one pair on one skill share their log odds, so that one answer with the sum of their
/// weights stands for all of them.
std::vector<evidence::Answer> answers_of(std::span<const model::Mark> marks,
                                         const std::vector<PairMarks>& pairs,
                                         const evidence::Model& model) {
    std::vector<evidence::Answer> out;
    out.reserve(pairs.size());
    for (const PairMarks& pair : pairs) {
        evidence::Answer answer{pair.student, pair.skill, -1, 0.0, 0.0, 0.0};
        for (const std::size_t place : pair.places) {
            const evidence::Mark mark = evidence_mark(marks[place]);
            const double weight = model.weight(mark.help);
            answer.weight += weight;
            answer.right += weight * evidence::credit(mark.level);
        }
        if (answer.weight <= 0.0) continue;
        answer.right /= answer.weight;
        out.push_back(answer);
    }
    return out;
}

}  // namespace

std::size_t checkpoint(std::size_t marks) {
    std::size_t at = 0;
    for (;;) {
        const std::size_t next = at + std::max(smallest_step, at / 8);
        if (next > marks) return at;
        at = next;
    }
}

ClassReading::ClassReading(std::span<const model::Mark> marks, bool usual) {
    std::vector<PairMarks> pairs;
    std::unordered_map<std::uint64_t, std::size_t> number;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const int student =
            students_.try_emplace(marks[i].student, int(students_.size())).first->second;
        const int skill = skills_.try_emplace(marks[i].skill, int(skills_.size())).first->second;
        const std::uint64_t key = (std::uint64_t(student) << 32U) | std::uint64_t(skill);
        const auto [it, fresh] = number.try_emplace(key, pairs.size());
        if (fresh) pairs.push_back({student, skill, {}});
        pairs[it->second].places.push_back(i);
    }
    if (!usual && marks.size() >= evidence::fit_least_marks) {
        evidence::FitSettings settings;
        settings.most_rounds = 30;
        settings.settled = 1e-3;
        const evidence::Fitted fit =
            evidence::fit_model(latest_sequences(marks, pairs), evidence_model(), settings);
        model_ = fit.model;
        fitted_ = fit.enough;
        marks_fitted_ = fit.marks;
    }
    levels_ = evidence::Levels::fit(answers_of(marks, pairs, model_));
}

double ClassReading::start(const model::StudentId& student, const model::SkillId& skill) const {
    const auto s = students_.find(student);
    const auto k = skills_.find(skill);
    return levels_.prior(model_, s == students_.end() ? -1 : s->second,
                         k == skills_.end() ? -1 : k->second);
}

}  // namespace tallyround::session
