#include "evidence_input.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>
#include <tuple>

#include "base/text.h"

namespace tallyround::cli {

namespace {

using evidence::Emission;
using evidence::Help;
using evidence::Level;
using json::Field;
using json::Json;

constexpr double most_days = 1e7;
constexpr double most_difficulty = 100.0;
constexpr double told_apart = 10.0;
constexpr std::size_t name_bytes = 1000;

Emission read_emission(const Field& field) {
    const auto secure = field.find("secure");
    const auto stuck = field.find("stuck");
    Emission e;
    e.shaky = field.number_or("shaky", 0.0, 1.0, 0.0);
    if (!secure && !stuck) field.refuse("Expected \"secure\" and \"stuck\".");
    e.secure = secure ? secure->number(0.0, 1.0) : 1.0 - e.shaky - stuck->number(0.0, 1.0);
    e.stuck = stuck ? stuck->number(0.0, 1.0) : 1.0 - e.shaky - e.secure;
    if (e.secure < 0.0 || e.stuck < 0.0) {
        field.refuse("The chances of secure, shaky and stuck must sum to 1.");
    }
    return e;
}

/// A text member without building its pointer first: a million marks pass through here.
const std::string& quick_text(const Json& mark, const char* key, const std::string& pointer) {
    if (mark.is_object()) {
        const auto it = mark.find(key);
        if (it != mark.end() && it->is_string()) {
            const auto& text = it->get_ref<const std::string&>();
            if (!text.empty() && text.size() <= name_bytes) return text;
            Field(mark, pointer).at(key).refuse("Expected 1 to 1000 bytes of text.");
        }
    }
    Field(mark, pointer).at(key).refuse("Expected text.");
}

double quick_number(const Json& mark, const char* key, double reach, const std::string& pointer) {
    const auto it = mark.find(key);
    if (it == mark.end() || it->is_null()) return 0.0;
    if (it->is_number()) {
        const double x = it->get<double>();
        if (x >= -reach && x <= reach) return x;
    }
    return Field(mark, pointer).at(key).number(-reach, reach);
}

Level read_level(const Json& mark, const std::string& pointer) {
    const std::string& text = quick_text(mark, "level", pointer);
    if (text == "secure") return Level::secure;
    if (text == "shaky") return Level::shaky;
    if (text == "stuck") return Level::stuck;
    Field(mark, pointer).at("level").refuse("Expected \"secure\", \"shaky\" or \"stuck\".");
}

Help read_help(const Json& mark, const std::string& pointer) {
    const auto it = mark.find("help");
    if (it == mark.end() || it->is_null()) return Help::none;
    const std::string& text = quick_text(mark, "help", pointer);
    if (text == "none") return Help::none;
    if (text == "hint") return Help::hint;
    if (text == "together") return Help::together;
    Field(mark, pointer).at("help").refuse("Expected \"none\", \"hint\" or \"together\".");
}

bool same(const evidence::Mark& a, const evidence::Mark& b) {
    return a.day == b.day && a.level == b.level && a.help == b.help && a.difficulty == b.difficulty;
}

}  // namespace

int Numbered::number(std::string_view name) {
    const auto [it, added] = numbers_.try_emplace(std::string(name), size());
    if (added) names_.emplace_back(name);
    return it->second;
}

int Numbered::find(std::string_view name) const {
    const auto it = numbers_.find(std::string(name));
    return it == numbers_.end() ? -1 : it->second;
}

std::vector<int> Numbered::sorted() const {
    std::vector<int> order(names_.size());
    std::iota(order.begin(), order.end(), 0);
    std::sort(order.begin(), order.end(), [&](int a, int b) { return name(a) < name(b); });
    return order;
}

evidence::Model read_model(const Field& root, std::vector<std::string>& warnings) {
    evidence::Model m;
    const auto field = root.find("model");
    if (!field) return m;
    if (!field->is_object()) field->refuse("Expected an object.");
    m.prior = field->number_or("prior", 0.0, 1.0, m.prior);
    m.learn = field->number_or("learn", 0.0, 1.0, m.learn);
    if (const auto forget = field->find("forget_per_day")) {
        m.forget_per_day = forget->number(0.0, 1.0);
        m.spacing_growth = 1.0;
    }
    m.spacing_growth = field->number_or("spacing_growth", 1.0, 10.0, m.spacing_growth);
    if (const auto emit = field->find("emit")) {
        if (const auto known = emit->find("known")) m.known = read_emission(*known);
        if (const auto unknown = emit->find("unknown")) m.unknown = read_emission(*unknown);
    }
    if (const auto help = field->find("help")) {
        m.hint = help->number_or("hint", 0.0, 1.0, m.hint);
        m.together = help->number_or("together", 0.0, 1.0, m.together);
    }
    auto checked = evidence::check(m);
    if (!checked) {
        throw json::FieldError(field->pointer() + checked.error().where, checked.error().message);
    }
    for (auto& repair : checked->repairs)
        warnings.push_back("/model/emit: " + std::move(repair));
    return checked->model;
}

Json model_json(const evidence::Model& m) {
    const auto emission = [](const Emission& e) {
        return Json{{"secure", e.secure}, {"shaky", e.shaky}, {"stuck", e.stuck}};
    };
    return {{"prior", m.prior},
            {"learn", m.learn},
            {"forget_per_day", m.forget_per_day},
            {"spacing_growth", m.spacing_growth},
            {"emit", {{"known", emission(m.known)}, {"unknown", emission(m.unknown)}}},
            {"help", {{"hint", m.hint}, {"together", m.together}}}};
}

Json scores_json(const evidence::Scores& s) {
    return {{"forecasts", s.forecasts},
            {"log_loss", s.log_loss},
            {"auc", s.auc},
            {"brier", s.brier},
            {"calibration_error", s.calibration_error}};
}

MarkList read_marks(const Field& root, Numbered& students, Numbered& skills) {
    MarkList out;
    const auto field = root.find("marks");
    if (!field) return out;
    if (!field->is_array()) field->refuse("Expected a list.");
    out.marks.reserve(field->value().size());
    std::unordered_map<std::uint64_t, evidence::Mark> last;
    for (std::size_t i = 0; i < field->value().size(); ++i) {
        const Json& mark = field->value()[i];
        const std::string pointer = field->pointer() + "/" + std::to_string(i);
        PairMark pm;
        pm.student = students.number(quick_text(mark, "student", pointer));
        pm.skill = skills.number(quick_text(mark, "skill", pointer));
        pm.mark.level = read_level(mark, pointer);
        pm.mark.help = read_help(mark, pointer);
        pm.mark.day = quick_number(mark, "day", most_days, pointer);
        pm.mark.difficulty = quick_number(mark, "difficulty", most_difficulty, pointer);
        if (std::abs(pm.mark.difficulty) > told_apart) ++out.extreme_cards;
        const std::uint64_t pair =
            (static_cast<std::uint64_t>(pm.student) << 32U) | static_cast<std::uint64_t>(pm.skill);
        const auto [it, first] = last.try_emplace(pair, pm.mark);
        if (!first && pm.mark.day < it->second.day) ++out.out_of_order;
        if (!first && same(pm.mark, it->second)) ++out.copies;
        if (pm.mark.day >= it->second.day) it->second = pm.mark;
        out.marks.push_back(pm);
    }
    return out;
}

void warn_about(const MarkList& list, std::vector<std::string>& warnings) {
    if (list.out_of_order > 0) {
        warnings.push_back("/marks: " + base::count_of(list.out_of_order, "mark", "marks") +
                           " came after a later one of the same student and skill; all were put "
                           "in order of day.");
    }
    if (list.copies > 0) {
        warnings.push_back("/marks: " + base::count_of(list.copies, "mark is", "marks are") +
                           " like the one before of the same student and skill in day, level, help "
                           "and difficulty; counted as looks of their own.");
    }
    if (list.extreme_cards > 0) {
        warnings.push_back("/marks: " + base::count_of(list.extreme_cards, "mark", "marks") +
                           " with a difficulty beyond 10 or -10 counted as 10 or -10.");
    }
}

void sort_by_pair(std::vector<PairMark>& marks) {
    std::stable_sort(marks.begin(), marks.end(), [](const PairMark& a, const PairMark& b) {
        return std::tuple(a.student, a.skill, a.mark.day) <
               std::tuple(b.student, b.skill, b.mark.day);
    });
}

}  // namespace tallyround::cli
