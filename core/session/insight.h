#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "base/civil.h"
#include "cards/generate.h"
#include "evidence/calibration.h"
#include "session/derived.h"

namespace tallyround::session {

// What the marks of a class say, beyond today's standing: computed, never stored.
// Everything here takes a class, its standings (updated for it) and the wall clock in UTC.
// Sentences speak of marks and skills, never of a kind of child.

/// Skills of the block being planned, then every other one with marks, in that order.
std::vector<model::SkillId> skills_of(const model::Class& cls);

/// `judge_centers` for every block of the class, in their order, at the cost of one.
std::vector<std::vector<CenterVerdict>> judge_blocks(const model::Class& cls,
                                                     const Standings& standings);

// How the marks are read ------------------------------------------------------------------------

/// One parameter as a teacher may read it.
struct ReadingLine {
    std::string what;  ///< "A secure mark by luck"
    std::string ours;  ///< "17 in 100"
    std::string usual;
};
/// The parameters by which this class's marks are read: fitted to them when there are enough, the
/// usual ones otherwise or when the teacher keeps those (command KeepUsualReading).
struct Reading {
    bool fitted = false;      ///< from this class's own marks
    bool kept_usual = false;  ///< the teacher's wish
    std::size_t marks = 0;    ///< marks the fit could use
    std::string why;          ///< one sentence: which it is, and since when or what is missing
    std::vector<ReadingLine> lines;
};
Reading reading_of(const model::Class& cls, const Standings& standings);

// A student over time ---------------------------------------------------------------------------

/// One mark of a student and the estimate just after it.
struct PathPoint {
    std::int64_t at_ms = 0;
    model::SkillId skill;
    model::Level level = model::Level::secure;
    model::Help help = model::Help::none;
    model::CenterId center;   ///< empty: not at a center
    model::BlockId block;     ///< where the center is
    int round = 0;            ///< 0 outside a round
    std::uint64_t event = 0;  ///< for TakeBack
    double p = 0.0;           ///< chance that the student has the skill, after this mark
    double low = 0.0;
    double high = 1.0;
    Word word = Word::early;
};
/// Oldest first; all skills when `skill` is empty.
std::vector<PathPoint> path_of(const model::Class& cls, const Standings& standings,
                               const model::StudentId& student, const model::SkillId& skill = {});

// A skill ---------------------------------------------------------------------------------------

/// A center that reviewed the skill, in whatever block.
struct CenterUse {
    model::BlockId block;
    CenterVerdict verdict;
};
/// A known error pattern of the skill.
struct SlipNote {
    std::string rule;
    std::string source;  ///< or "common practice, no source"
};
struct SkillPage {
    /// Present students by word, in the order of `Word`; inside one by chance, smallest first.
    std::vector<std::vector<model::StudentId>> by_word;
    double held = 0.0;                     ///< students expected to have it today
    cards::Tier tier = cards::Tier::core;  ///< of cards that suit the class as a whole
    std::vector<CenterUse> centers;        ///< newest block first
    std::vector<SlipNote> slips;
    std::string why;  ///< one sentence: where the class stands
};
SkillPage skill_page(const model::Class& cls, const Standings& standings,
                     const model::SkillId& skill);

// Were the words right --------------------------------------------------------------------------

/// What came at the next look after a word had been said. Looks with help are left out, since
/// help changes what comes.
struct WordRecord {
    Word word = Word::early;
    int said = 0;  ///< looks that came after it
    int secure = 0;
    int shaky = 0;
    int stuck = 0;
    double expected = 0.0;  ///< mean chance of secure that the model gave
    std::string text;       ///< "Said "likely has it" 40 times; the next look was secure 36 times."
};
struct Calibration {
    std::vector<WordRecord> words;  ///< in the order of `Word`, those never said left out
    evidence::Scores scores;        ///< chance of secure given before each look, and what came
    std::vector<evidence::CalibrationBin> bins;  ///< ten
    std::string why;                             ///< one sentence
};
/// Replays the marks: each forecast is made from the marks before it only, parameters and priors
/// included. Linear in the marks; ask once a screen, not once a frame.
Calibration calibration_of(const model::Class& cls);

// Keeping it ------------------------------------------------------------------------------------

/// A skill that a student likely has and when a look is due again: on the day its chance falls
/// below three quarters (a design choice without a source).
struct Due {
    model::StudentId student;
    model::SkillId skill;
    double p = 0.0;  ///< today
    double half_life_days = 0.0;
    std::int64_t due_ms = 0;  ///< not before now
    std::string why;          ///< "Last secure 12 days ago; due on 14 March."
};
/// Soonest first; what students likely have and nothing else.
std::vector<Due> due_looks(const model::Class& cls, const Standings& standings,
                           std::int64_t now_ms);

/// One skill of the class on a chosen day, if nothing is reviewed until then.
struct SkillForecast {
    model::SkillId skill;
    int students = 0;        ///< present ones
    double held_now = 0.0;   ///< students expected to have it today
    double held_then = 0.0;  ///< and on the day
    int due = 0;             ///< students whose look is due by then
    std::string why;
};
/// Every skill with marks and those of the current block; largest loss first.
std::vector<SkillForecast> forecast_for(const model::Class& cls, const Standings& standings,
                                        std::int64_t now_ms, std::int64_t then_ms);

/// What to review in the blocks left before a date.
struct ReadyBlock {
    base::Date date;
    std::vector<model::SkillId> skills;
    std::vector<std::string> why;  ///< one sentence a skill
};
struct ReadyPlan {
    std::vector<ReadyBlock> blocks;  ///< as the dates given
    double held_now = 0.0;           ///< student-skill pairs expected to be held today
    double held_without = 0.0;       ///< on the date without any review
    double held_with = 0.0;          ///< with this plan
    double held_equal = 0.0;         ///< with the same number of reviews for every skill in turn
    int pairs = 0;
    std::string why;
};
struct ReadyWish {
    std::vector<model::SkillId> skills;
    std::vector<base::Date> blocks;  ///< days on which a block begins, any order
    base::Date ready_by;
    int skills_a_block = 6;
    friend bool operator==(const ReadyWish&, const ReadyWish&) = default;
};
/// Blocks before today or after `ready_by` stay empty. At most 60 blocks, 40 skills.
ReadyPlan ready_plan(const model::Class& cls, const Standings& standings, const ReadyWish& wish,
                     std::int64_t now_ms);

// The next block --------------------------------------------------------------------------------

struct SkillProposal {
    model::SkillId skill;
    std::string why_skill;
    std::string kind;  ///< id of a CenterKind
    std::string why_kind;
    cards::Tier tier = cards::Tier::core;
    std::string why_tier;
};
/// At most four students who need one skill most: whom the teacher center is for.
struct TeacherGroup {
    model::SkillId skill;
    std::vector<model::StudentId> students;
    std::string why;
};
/// Cards for one group of the current block at one skill.
struct GroupTier {
    int group = 0;
    model::SkillId skill;
    cards::Tier tier = cards::Tier::core;
    std::string why;
};
/// Which cards suit one skill today: for the class as a whole and for each group of a block.
struct TierAdvice {
    cards::Tier tier = cards::Tier::core;
    std::string why;
    std::vector<GroupTier> groups;
    /// Their levels by dots, 1 to 3, rising: the class's and those of groups that differ.
    std::vector<int> dots() const;
};
TierAdvice tier_advice(const model::Class& cls, const model::Block& block,
                       const Standings& standings, const model::SkillId& skill);
struct NextBlock {
    std::vector<SkillProposal> skills;  ///< most worth first, at most `most_skills`
    std::vector<TeacherGroup> teacher;  ///< most pressing first, no student twice
    std::vector<GroupTier> tiers;       ///< for the current block's groups and proposed skills
    std::string why;                    ///< one sentence; also says when there is nothing to go by
};
NextBlock next_block(const model::Class& cls, const Standings& standings, std::int64_t now_ms,
                     std::size_t most_skills = 6);

/// Which cards suit a chance: support below .4, stretch from .85 on, core between.
cards::Tier tier_for(double p);

/// Another kind for the skill of a center, for one that did not help (command SwapCenter).
struct SwapIdea {
    std::string kind;
    std::string why;
};
/// Best first; never the center's own kind, one swapped out for this skill before, nor devices when
/// the block has too few.
std::vector<SwapIdea> swap_ideas(const model::Class& cls, const model::Block& block,
                                 const model::CenterId& center, const Standings& standings);

}  // namespace tallyround::session
