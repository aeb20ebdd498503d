#include <span>
#include <unordered_map>

#include "evidence/trace.h"
#include "session/class_reading.h"
#include "session/derived.h"
#include "session/evidence_model.h"

namespace tallyround::session {

struct Standings::Inside {
    struct OnSkill {
        model::SkillId skill;
        evidence::Trace trace;
        double start = 0.5;
        std::int64_t last_ms = 0;
        model::Level last_level = model::Level::secure;
    };

    model::ClassId cls;
    bool usual = false;
    ClassReading reading;
    std::size_t read = 0;          ///< marks the reading was made from
    std::size_t counted = 0;       ///< marks of the class taken in so far
    std::uint64_t last_event = 0;  ///< place of the last of them
    std::int64_t now_ms = 0;
    std::unordered_map<model::StudentId, std::vector<OnSkill>> students;

    const OnSkill* find(const model::StudentId& student, const model::SkillId& skill) const {
        const auto it = students.find(student);
        if (it == students.end()) return nullptr;
        for (const OnSkill& on : it->second) {
            if (on.skill == skill) return &on;
        }
        return nullptr;
    }

    bool continues(const model::Class& c) const {
        if (c.id != cls || c.usual_reading != usual || c.marks.size() < counted) return false;
        return counted == 0 || c.marks[counted - 1].event == last_event;
    }

    void begin(const model::Class& c) {
        *this = Inside();
        cls = c.id;
        usual = c.usual_reading;
    }

    /// Reads the marks up to the checkpoint anew; the traces start over when the parameters change.
    void read_again(const model::Class& c, std::size_t marks) {
        const bool was_fitted = reading.fitted();
        reading = ClassReading(std::span(c.marks).first(marks), usual);
        read = marks;
        if (reading.fitted() || was_fitted) {
            students.clear();
            counted = 0;
        }
        for (auto& [student, skills] : students) {
            for (OnSkill& on : skills)
                on.start = reading.start(student, on.skill);
        }
    }

    void add(const model::Mark& mark) {
        std::vector<OnSkill>& skills = students[mark.student];
        OnSkill* on = nullptr;
        for (OnSkill& there : skills) {
            if (there.skill == mark.skill) on = &there;
        }
        if (on == nullptr) {
            on = &skills.emplace_back();
            on->skill = mark.skill;
            on->start = reading.start(mark.student, mark.skill);
        }
        // Records are ordered by time, so a mark is never older than the one before it.
        on->trace.add(reading.model(), evidence_mark(mark));
        on->last_ms = mark.at_ms;
        on->last_level = mark.level;
    }
};

Standings::Standings() : in_(std::make_unique<Inside>()) {}
Standings::~Standings() = default;
Standings::Standings(Standings&&) noexcept = default;
Standings& Standings::operator=(Standings&&) noexcept = default;

void Standings::update(const model::Class& cls, std::int64_t now_ms) {
    if (!in_->continues(cls)) in_->begin(cls);
    in_->now_ms = now_ms;
    const std::size_t marks = checkpoint(cls.marks.size());
    if (marks != in_->read) in_->read_again(cls, marks);
    for (; in_->counted < cls.marks.size(); ++in_->counted) {
        in_->add(cls.marks[in_->counted]);
        in_->last_event = cls.marks[in_->counted].event;
    }
}

Standing Standings::of(const model::StudentId& student, const model::SkillId& skill) const {
    Standing standing;
    const Inside::OnSkill* on = in_->find(student, skill);
    if (on == nullptr) {
        standing.p = in_->reading.start(student, skill);
        return standing;
    }
    const evidence::Estimate estimate =
        on->trace.estimate_at(in_->reading.model(), on->start, double(in_->now_ms) / day_ms);
    standing.p = estimate.p;
    standing.low = estimate.low;
    standing.high = estimate.high;
    standing.strength = estimate.strength;
    standing.marks = estimate.marks;
    standing.spaced = on->trace.spaced();
    standing.last_ms = on->last_ms;
    standing.last_level = on->last_level;
    return standing;
}

double Standings::start(const model::StudentId& student, const model::SkillId& skill) const {
    return in_->reading.start(student, skill);
}

const evidence::Model& Standings::model() const {
    return in_->reading.model();
}

bool Standings::fitted() const {
    return in_->reading.fitted();
}

std::size_t Standings::marks_fitted() const {
    return in_->reading.marks_fitted();
}

evidence::Estimate evidence_estimate(const Standing& standing) {
    evidence::Estimate estimate;
    estimate.p = standing.p;
    estimate.low = standing.low;
    estimate.high = standing.high;
    estimate.strength = standing.strength;
    estimate.marks = standing.marks;
    estimate.last_day = double(standing.last_ms) / day_ms;
    return estimate;
}

Word word_for(const Standing& standing) {
    return word_of(evidence_estimate(standing));
}

Word word_of(const evidence::Estimate& estimate) {
    switch (evidence::standing(estimate)) {
        case evidence::Standing::no_marks:
            return Word::no_marks;
        case evidence::Standing::too_early:
            return Word::early;
        case evidence::Standing::likely:
            return Word::likely_has_it;
        case evidence::Standing::not_yet:
            return Word::needs_time;
        case evidence::Standing::mixed:
            break;
    }
    return Word::on_the_way;
}

std::string_view word_text(Word word) {
    switch (word) {
        case Word::no_marks:
            return "not seen yet";
        case Word::early:
            return "too early to say";
        case Word::likely_has_it:
            return "likely has it";
        case Word::on_the_way:
            return "on the way";
        case Word::needs_time:
            break;
    }
    return "needs time with this";
}

std::string word_count(Word word, std::size_t students) {
    std::string_view text = word_text(word);
    if (students != 1 && word == Word::likely_has_it) text = "likely have it";
    if (students != 1 && word == Word::needs_time) text = "need time with this";
    return std::to_string(students) + " " + std::string(text);
}

}  // namespace tallyround::session
