#pragma once
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"
#include "evidence/model.h"
#include "model/state.h"

namespace tallyround::session {

// What screens ask of a state: computed, never stored.

/// The skill's title, from the bank or the class's own; the id itself if it is unknown.
std::string skill_title(const model::Class& cls, const model::SkillId& skill);
int skill_grade(const model::Class& cls, const model::SkillId& skill);
/// The center's own title or its kind's.
std::string center_title(const model::Center& center);
/// Students who have not left.
std::vector<const model::Student*> present_students(const model::Class& cls);
/// Centers that are not closed, in order.
std::vector<const model::Center*> open_centers(const model::Block& block);
/// "Group 1" ….
std::string group_name(int group);

/// Rounds the block takes: as many as the teacher wished, or else one for each open center; once a
/// lesson has begun, as many as the chart has.
int wished_rounds(const model::Block& block);

/// One round on the clock.
struct RoundTime {
    int number = 0;  ///< 1-based
    base::Date date;
    int period = 0;  ///< index into Block::periods
    int start_second = 0;
    int end_second = 0;
};
/// How the rounds of a block fall into its periods, or why they do not.
struct Fitted {
    bool fits = false;
    std::vector<RoundTime> rounds;
    int rounds_that_fit = 0;
    int longest_round_minutes = 0;
    int periods_needed = 0;
    std::vector<int> spare_minutes;
    std::string sentence;  ///< what is so, or what to change, in plain words
};
Fitted fit_block(const model::Block& block);
/// As fit_block, for wishes that are not in the record yet.
Fitted fit_wish(const std::vector<model::Period>& periods, const model::Timing& timing);

/// Milliseconds left in the running phase (may be negative), from the wall clock.
std::int64_t left_ms(const model::Lesson& lesson, std::int64_t now_ms);
/// Rounds that the next day of this block would hold: first and last number; {0,0} when all done.
std::pair<int, int> next_rounds(const model::Block& block);
/// The same with the wall clock looked at: when one of the days not yet used is today, its period
/// counts. Bell times are local and `now_ms` is UTC, so "today" is the day whose bell is nearest,
/// right from 10 hours behind UTC to 13 ahead.
std::pair<int, int> next_rounds(const model::Block& block, std::int64_t now_ms);

/// The estimate of one student on one skill, from marks of all blocks.
struct Standing {
    double p = 0;
    double low = 0;
    double high = 1;
    double strength = 0;  ///< full marks' worth of evidence: help weighs less, days wear it down
    int marks = 0;
    int spaced = 0;  ///< secure ones without help on a later day than the mark before
    std::int64_t last_ms = 0;
    model::Level last_level = model::Level::secure;
};
enum class Word : std::uint8_t { no_marks, early, likely_has_it, on_the_way, needs_time };
/// One of five plain words for a standing; "likely has it" only when the evidence carries it.
Word word_for(const Standing& standing);
std::string_view word_text(Word word);
/// How many it holds for, as a sentence has it: "1 likely has it", "19 likely have it".
std::string word_count(Word word, std::size_t students);

/// Standings of a class, re-estimated mark by mark. A function of the class's marks alone, however
/// they came in.
///
/// What a pair starts from (the student's general level, the skill's difficulty in this class) and
/// the parameters are taken from the marks up to a checkpoint: the marks' number rounded down to a
/// row that grows by an eighth, at least by twelve. So most marks cost the same few steps, and one
/// in twelve or fewer brings all starts up to date.
class Standings {
  public:
    /// Counts the marks that are new since the last call, everything from the start when they do
    /// not continue what was seen (undo, merge, another class). `now_ms` dates the estimates.
    void update(const model::Class& cls, std::int64_t now_ms);
    /// Without marks: the chance before any mark, between 0 and 1.
    Standing of(const model::StudentId& student, const model::SkillId& skill) const;

    /// What the pair's own marks are added to: the chance that the student's other skills and the
    /// other students give.
    double start(const model::StudentId& student, const model::SkillId& skill) const;
    /// The parameters by which the class is read.
    const evidence::Model& model() const;
    /// True when they were fitted to the class's marks, and how many of those were used.
    bool fitted() const;
    std::size_t marks_fitted() const;

    Standings();
    ~Standings();
    Standings(Standings&&) noexcept;
    Standings& operator=(Standings&&) noexcept;

  private:
    struct Inside;
    std::unique_ptr<Inside> in_;
};

/// Whom to look at next while walking, best first, one plain reason each.
struct NextLook {
    model::StudentId student;
    std::string why;
};
/// While a lesson runs only the skill of the student's center counts, otherwise all the block's.
/// Absent students and those without a group are left out.
std::vector<NextLook> whom_next(const model::Class& cls, const model::Block& block,
                                const Standings& standings, std::int64_t now_ms, std::size_t limit);

/// What to review next, most needed first.
struct ReviewNext {
    model::SkillId skill;
    int likely = 0;  ///< students who likely have it
    int on_the_way = 0;
    int needs_time = 0;
    int early = 0;   ///< seen, but too early to say
    int unseen = 0;  ///< no marks yet; the five add up to the students present
    std::string why;
};
/// The block's skills and every other skill that the class has marks on.
std::vector<ReviewNext> review_next(const model::Class& cls, const model::Block& block,
                                    const Standings& standings);

/// Whether each center of the block helped, as far as the marks carry a verdict.
struct CenterVerdict {
    model::CenterId center;
    int students = 0;
    double gain = 0;
    std::string verdict;  ///< "keep", "watch", "swap", "too early"
    std::string why;
    double low = 0;  ///< 95 % interval of the gain; 0 without students
    double high = 0;
    double p_helps = 0;        ///< belief that the gain is worth a center's time
    double stuck_minutes = 0;  ///< mean a student, from a stuck mark to the next one there
};
/// One for each center, in the block's order. A visit counts when the student has two marks on the
/// skill to compare; the very first one only says where the student started. Chances before and
/// after are those of marks alone, without the learning that the model expects of any look, so that
/// a center is not praised for what was assumed.
std::vector<CenterVerdict> judge_centers(const model::Class& cls, const model::Block& block,
                                         const Standings& standings);

/// How far along the path a class is: the first step that still needs something.
enum class Step : std::uint8_t { students, skills, centers, fit, groups, chart, walk, review };
Step next_step(const model::Class& cls);
/// Why a step cannot be done yet in one sentence, or empty.
std::string step_needs(const model::Class& cls, Step step);

}  // namespace tallyround::session
