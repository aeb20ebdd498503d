// tallyround judge: did the centers help.
#include "advise/judge.h"
#include "json/read.h"

#include <nlohmann/json.hpp>

#include "evidence_input.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "judge  < REQUEST.json";
constexpr double most_minutes = 100'000.0;
constexpr std::size_t name_bytes = 1000;

std::string_view word(advise::Verdict verdict) {
    switch (verdict) {
        case advise::Verdict::keep:
            return "keep";
        case advise::Verdict::watch:
            return "watch";
        case advise::Verdict::swap:
            return "swap";
        case advise::Verdict::too_early:
            break;
    }
    return "too early";
}

/// Optional "round" or "group": a number or a name.
int sorted_by(const json::Field& row, std::string_view key, Numbered& names) {
    const auto field = row.find(key);
    if (!field) return -1;
    return names.number(field->is_number() ? std::to_string(field->integer(-1'000'000, 1'000'000))
                                           : field->text(name_bytes));
}

json::Json answer(const json::Field& root) {
    Numbered centers;
    Numbered students;
    Numbered rounds;
    Numbered groups;
    advise::JudgeSettings settings;
    settings.threshold = root.number_or("threshold", -1.0, 1.0, settings.threshold);
    std::vector<advise::CenterLook> looks;
    for (const json::Field& row : root.at("looks").items()) {
        advise::CenterLook look;
        look.center = centers.number(row.at("center").text(name_bytes));
        look.student = students.number(row.at("student").text(name_bytes));
        look.before = row.at("before").number(0.0, 1.0);
        look.after = row.at("after").number(0.0, 1.0);
        look.stuck_minutes = row.number_or("stuck_minutes", 0.0, most_minutes, 0.0);
        look.round = sorted_by(row, "round", rounds);
        look.group = sorted_by(row, "group", groups);
        looks.push_back(look);
    }
    const auto judged = advise::judge_centers(looks, settings);
    json::Json out = json::Json::array();
    for (const int number : centers.sorted()) {
        const advise::CenterJudgement& c = judged[static_cast<std::size_t>(number)];
        out.push_back({{"center", centers.name(number)},
                       {"students", c.students},
                       {"mean", c.mean},
                       {"gain", c.gain},
                       {"low", c.low},
                       {"high", c.high},
                       {"p_helps", c.p_helps},
                       {"stuck_minutes", c.stuck_minutes},
                       {"verdict", word(c.verdict)}});
    }
    return {{"centers", std::move(out)}};
}

}  // namespace

Outcome run_judge(const Invocation& call) {
    Outcome failure;
    const auto request = stdin_json(call, synopsis, failure);
    if (!request) return failure;
    const auto result = json::read(*request, answer);
    return result ? done(*result) : bad_input("standard input", result.error());
}

}  // namespace tallyround::cli
