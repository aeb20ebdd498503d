// tallyround predict: the chance of a right answer, from other answers.
#include <nlohmann/json.hpp>

#include "evidence/levels.h"
#include "evidence_input.h"
#include "json/read.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "predict  < REQUEST.json";
constexpr std::size_t name_bytes = 1000;

/// The three names of a row; text, or a whole number taken as its text.
std::string name_of(const json::Field& field) {
    if (field.is_number()) {
        return std::to_string(field.integer(-1'000'000'000'000, 1'000'000'000'000));
    }
    return field.text(name_bytes);
}

struct Keys {
    Numbered students;
    Numbered skills;
    Numbered items;
};

evidence::Answer row_of(const json::Field& row, Keys& keys) {
    evidence::Answer a;
    a.student = keys.students.number(name_of(row.at("student")));
    a.skill = keys.skills.number(name_of(row.at("skill")));
    if (const auto item = row.find("item")) a.item = keys.items.number(name_of(*item));
    return a;
}

double right_of(const json::Field& correct) {
    if (correct.value().is_boolean()) return correct.boolean() ? 1.0 : 0.0;
    return static_cast<double>(correct.integer(0, 1));
}

/// "p" of the test rows; with "scores" when what came is given for all of them.
json::Json answer(const json::Field& root) {
    Keys keys;
    std::vector<evidence::Answer> train;
    for (const json::Field& row : root.at("train").items()) {
        evidence::Answer a = row_of(row, keys);
        a.right = right_of(row.at("correct"));
        train.push_back(a);
    }
    const auto levels = evidence::Levels::fit(train);
    json::Json chances = json::Json::array();
    std::vector<evidence::Forecast> came;
    for (const json::Field& row : root.at("test").items()) {
        const evidence::Answer a = row_of(row, keys);
        const double p = levels.chance(a.student, a.skill, a.item).p;
        chances.push_back(p);
        if (const auto correct = row.find("correct")) came.push_back({p, right_of(*correct) > 0.5});
    }
    const bool scored = !came.empty() && came.size() == chances.size();
    json::Json out{{"p", std::move(chances)}};
    if (scored) out["scores"] = scores_json(evidence::score(came));
    return out;
}

}  // namespace

Outcome run_predict(const Invocation& call) {
    Outcome failure;
    const auto request = stdin_json(call, synopsis, failure);
    if (!request) return failure;
    const auto result = json::read(*request, answer);
    return result ? done(*result) : bad_input("standard input", result.error());
}

}  // namespace tallyround::cli
