#pragma once
#include <compare>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "model/block.h"
#include "model/class.h"
#include "model/mark.h"

namespace tallyround::record {

using namespace model;  // NOLINT: events speak the model's words throughout

/// When and where an event was made. Events of all replicas are totally ordered by hybrid logical
/// clock (Kulkarni et al. 2014: wall time that never runs back, then a counter), then replica,
/// then sequence; (replica, sequence) names the event.
struct Stamp {
    std::int64_t ms = 0;
    std::uint32_t counter = 0;
    ReplicaId replica;
    std::uint64_t sequence = 0;  ///< 1, 2, 3 … on its replica

    friend bool operator==(const Stamp&, const Stamp&) = default;
    friend auto operator<=>(const Stamp&, const Stamp&) = default;
};

/// Names an event: one replica never uses a sequence number twice.
struct EventRef {
    ReplicaId replica;
    std::uint64_t sequence = 0;
    friend bool operator==(const EventRef&, const EventRef&) = default;
    friend auto operator<=>(const EventRef&, const EventRef&) = default;
};

// What can happen ------------------------------------------------------------------------------
// Plain facts, in the past tense. Each says all it needs; a fold never fails on one: what names
// something unknown (yet) is passed over, so any order of merging ends in the same state.

struct ClassMade {
    ClassId cls;
    std::string name;
    int grade = 6;
};
struct ClassRenamed {
    ClassId cls;
    std::string name;
    int grade = 6;
};
struct ClassArchived {
    ClassId cls;
    bool archived = true;
};
struct StudentAdded {
    ClassId cls;
    StudentId student;
    std::string name;
    std::string source_id;
};
struct StudentRenamed {
    ClassId cls;
    StudentId student;
    std::string name;
};
struct StudentLeft {
    ClassId cls;
    StudentId student;
    bool left = true;
};
struct PairRuled {
    ClassId cls;
    StudentId a;
    StudentId b;
    PairRule rule = PairRule::apart;
};
/// Who the student needs one of; nobody: the wish is gone.
struct CompanySet {
    ClassId cls;
    StudentId student;
    std::vector<StudentId> partners;
};
struct OwnSkillSet {
    ClassId cls;
    SkillId skill;
    std::string title;
    int grade = 6;
    std::string code = {};
    std::vector<SkillId> before = {};
};
/// All cards of a skill of the teacher's own.
struct OwnCardsSet {
    ClassId cls;
    SkillId skill;
    std::vector<OwnCard> cards;
};
/// A picture for cards came in; as in CardPicture.
struct CardPictureKept {
    ClassId cls;
    PictureId picture;
    int width = 0;
    int height = 0;
    std::string data;
};
/// What the class owns of something; a negative count: nobody knows.
struct StockSet {
    ClassId cls;
    std::string item;
    int count = 0;
};
/// Whether marks are read by the usual parameters even when the class's own could be fitted.
struct ReadingSet {
    ClassId cls;
    bool usual = true;
};

struct BlockMade {
    ClassId cls;
    BlockId block;
    std::string title;
};
struct SkillsChosen {
    ClassId cls;
    BlockId block;
    std::vector<SkillId> skills;
};
/// Adds the center, or sets every field of the one of that id.
struct CenterSet {
    ClassId cls;
    BlockId block;
    CenterId center;
    std::string kind;
    SkillId skill;
    std::string title;
    std::string instructions;
    std::string materials;
    int holds = 1;
    std::vector<int> tiers = {};
};
struct CenterClosed {
    ClassId cls;
    BlockId block;
    CenterId center;
    bool closed = true;
};
struct TimeSet {
    ClassId cls;
    BlockId block;
    std::vector<Period> periods;
    Timing timing;
};
struct DevicesSet {
    ClassId cls;
    BlockId block;
    int devices = 0;
};
/// Something of the prep list is ready, or is not after all.
struct ReadySet {
    ClassId cls;
    BlockId block;
    std::string item;
    bool ready = true;
};
struct GroupsSet {
    ClassId cls;
    BlockId block;
    Groups groups;
};
struct ChartSet {
    ClassId cls;
    BlockId block;
    Chart chart;
};

/// All that the block's groups keep to.
struct GroupRulesSet {
    ClassId cls;
    BlockId block;
    GroupRules rules;
};
/// All that the block's chart keeps to.
struct ChartRulesSet {
    ClassId cls;
    BlockId block;
    ChartRules rules;
};

struct AbsenceSet {
    ClassId cls;
    BlockId block;
    StudentId student;
    bool absent = true;
};
struct LessonStarted {
    ClassId cls;
    BlockId block;
    int first_round = 1;
    int last_round = 1;
    std::int64_t ends_ms = 0;
};
/// The lesson is now in this phase; `round` as in Lesson.
struct PhaseBegan {
    ClassId cls;
    BlockId block;
    Phase phase = Phase::working;
    int round = 1;
    std::int64_t ends_ms = 0;
};
struct LessonPaused {
    ClassId cls;
    BlockId block;
    std::int64_t left_ms = 0;
};
struct LessonResumed {
    ClassId cls;
    BlockId block;
    std::int64_t ends_ms = 0;
};
struct TimeAdded {
    ClassId cls;
    BlockId block;
    std::int64_t add_ms = 60'000;
};
struct LessonEnded {
    ClassId cls;
    BlockId block;
};

struct Marked {
    ClassId cls;
    BlockId block;
    StudentId student;
    SkillId skill;
    CenterId center;
    int round = 0;
    Level level = Level::secure;
    Help help = Help::none;
    std::string slip = {};  ///< the known wrong answer that was seen, may be empty
};
struct FlagSet {
    ClassId cls;
    StudentId student;
    bool raised = true;
};

struct Noted {
    ClassId cls;
    BlockId block;
    StudentId student;
    SkillId skill;
    std::string text;
};
struct ProceduresSet {
    ClassId cls;
    std::string text;
};
struct MovePractised {
    ClassId cls;
    std::int64_t took_ms = 0;
};
/// The rounds left today take this long.
struct RoundsRetimed {
    ClassId cls;
    BlockId block;
    std::int64_t round_ms = 0;
};

/// The student, or with nobody named the whole class, is deleted for good: `purge` (erase.h) takes
/// what the record holds about them out, before or after this event and on every device that hears
/// of it. Ids only, so that nothing of them is left in what says that they are gone. Cannot be
/// taken back.
struct Erased {
    ClassId cls;
    StudentId student;  ///< empty: the class with everything in it
};
/// Takes earlier events back (or, naming a retraction, brings its events back).
struct Retracted {
    std::vector<EventRef> events;
};
/// A kind that this version does not know, kept as it came.
struct Foreign {
    std::string kind;
    std::string json;
};

using Body =
    std::variant<ClassMade, ClassRenamed, ClassArchived, StudentAdded, StudentRenamed, StudentLeft,
                 PairRuled, CompanySet, OwnSkillSet, OwnCardsSet, CardPictureKept, StockSet,
                 ReadySet, ReadingSet, BlockMade, SkillsChosen, CenterSet, CenterClosed, TimeSet,
                 DevicesSet, GroupsSet, ChartSet, GroupRulesSet, ChartRulesSet, AbsenceSet,
                 LessonStarted, PhaseBegan, LessonPaused, LessonResumed, TimeAdded, LessonEnded,
                 Marked, FlagSet, Noted, ProceduresSet, MovePractised, RoundsRetimed, Erased,
                 Retracted, Foreign>;

struct Event {
    Stamp stamp;
    Body body;
    /// Members of the event's JSON that this version does not know, as one JSON object; usually
    /// empty. Written back untouched.
    std::string extra;

    EventRef ref() const { return {stamp.replica, stamp.sequence}; }
};

}  // namespace tallyround::record
