#include <algorithm>
#include <array>
#include <unordered_map>

#include "base/text.h"
#include "evidence/trace.h"
#include "session/class_reading.h"
#include "session/evidence_model.h"
#include "session/insight.h"

namespace tallyround::session {

namespace {

constexpr std::size_t first_reading = 24;
constexpr std::size_t words = 5;

/// Goes through the marks in order; before each one the forecast from those before it. The reading
/// is made anew whenever the marks have doubled.
class Replay {
  public:
    explicit Replay(const model::Class& cls) : cls_(cls) {}

    /// The estimate for the student and skill of mark `i`, just before it.
    evidence::Estimate before(std::size_t i) {
        if (i >= next_reading_) read(i);
        const model::Mark& mark = cls_.marks[i];
        return trace(mark).estimate_at(reading_.model(), reading_.start(mark.student, mark.skill),
                                       evidence_mark(mark).day);
    }
    const evidence::Model& model() const { return reading_.model(); }
    void add(std::size_t i) {
        trace(cls_.marks[i]).add(reading_.model(), evidence_mark(cls_.marks[i]));
    }

  private:
    void read(std::size_t marks) {
        const bool was_fitted = reading_.fitted();
        reading_ = ClassReading(std::span(cls_.marks).first(marks), cls_.usual_reading);
        next_reading_ = 2 * marks;
        if (!reading_.fitted() && !was_fitted) return;
        traces_.clear();
        for (std::size_t i = 0; i < marks; ++i)
            add(i);
    }

    evidence::Trace& trace(const model::Mark& mark) { return traces_[mark.student][mark.skill]; }

    const model::Class& cls_;
    ClassReading reading_;
    std::size_t next_reading_ = first_reading;
    std::unordered_map<model::StudentId, std::unordered_map<model::SkillId, evidence::Trace>>
        traces_;
};

void count(WordRecord& record, model::Level level, double secure) {
    ++record.said;
    record.expected += secure;
    (level == model::Level::secure  ? record.secure
     : level == model::Level::shaky ? record.shaky
                                    : record.stuck) += 1;
}

std::string sentence(const WordRecord& r) {
    const auto times = [](int n) { return base::count_of(std::size_t(n), "time", "times"); };
    return "Said \"" + std::string(word_text(r.word)) + "\" " + times(r.said) +
           ": the next look was secure " + times(r.secure) + ", shaky " + times(r.shaky) +
           ", stuck " + times(r.stuck) + ".";
}

std::string summary(const std::vector<WordRecord>& records) {
    for (const WordRecord& r : records) {
        if (r.word != Word::likely_has_it) continue;
        return "\"Likely has it\" was followed by a secure mark " + std::to_string(r.secure) +
               " of " + base::count_of(std::size_t(r.said), "time", "times") + ".";
    }
    return "\"Likely has it\" has not been put to the test by a later mark yet.";
}

}  // namespace

Calibration calibration_of(const model::Class& cls) {
    std::array<WordRecord, words> records;
    std::vector<evidence::Forecast> forecasts;
    Replay replay(cls);
    for (std::size_t i = 0; i < cls.marks.size(); ++i) {
        const model::Mark& mark = cls.marks[i];
        const evidence::Estimate estimate = replay.before(i);
        if (mark.help == model::Help::none) {
            const double secure = evidence::next_mark(replay.model(), estimate.p).secure;
            count(records[std::size_t(word_of(estimate))], mark.level, secure);
            forecasts.push_back({secure, mark.level == model::Level::secure});
        }
        replay.add(i);
    }
    Calibration out;
    for (std::size_t w = 0; w < words; ++w) {
        WordRecord& record = records[w];
        if (record.said == 0) continue;
        record.word = Word(w);
        record.expected /= record.said;
        record.text = sentence(record);
        out.words.push_back(record);
    }
    out.scores = evidence::score(forecasts);
    out.bins = evidence::calibration(forecasts);
    out.why = summary(out.words);
    return out;
}

}  // namespace tallyround::session
