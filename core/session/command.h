#pragma once
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "model/state.h"
#include "record/event.h"

namespace tallyround::session {

using namespace model;  // NOLINT: commands speak the model's words throughout

// What a teacher can ask for -------------------------------------------------------------------
// Plain wishes; `decide` turns one into events or says why not.

struct MakeClass {
    std::string name;
    int grade = 6;
};
struct RenameClass {
    ClassId cls;
    std::string name;
    int grade = 6;
};
struct ArchiveClass {
    ClassId cls;
    bool archived = true;
};
struct NewStudent {
    std::string name;
    std::string source_id;
};
struct AddStudents {
    ClassId cls;
    std::vector<NewStudent> students;
};
struct RenameStudent {
    ClassId cls;
    StudentId student;
    std::string name;
};
struct SetStudentLeft {
    ClassId cls;
    StudentId student;
    bool left = true;
};
/// Deletes a student, or with nobody named the whole class, for good: nothing brings them back.
struct Erase {
    ClassId cls;
    StudentId student;
};
struct SetPair {
    ClassId cls;
    StudentId a;
    StudentId b;
    PairRule rule = PairRule::apart;
};
/// After a merge: what one device said is said again, so that it holds (see conflicts.h).
struct TakeOther {
    record::Body body;
    std::string said;
};
/// Who the student needs one of in the group; nobody: the wish is gone.
struct SetCompany {
    ClassId cls;
    StudentId student;
    std::vector<StudentId> partners;
};
struct AddOwnSkill {
    ClassId cls;
    std::string title;
    int grade = 6;
};
/// The teacher's own problems for an own skill, in place of those it had.
struct SetOwnCards {
    ClassId cls;
    SkillId skill;
    std::vector<OwnCard> cards;
};
/// A picture for one of the cards of an own skill, in place of the one it had.
struct SetCardPicture {
    ClassId cls;
    SkillId skill;
    int card = 0;      ///< its place among the skill's cards, from 0
    std::string file;  ///< bytes of a PNG, JPEG or WebP
};
/// Skills of a framework, as the teacher's own; those whose code the class has already stay as
/// they are.
struct BringSkills {
    ClassId cls;
    std::vector<OwnSkill> skills;  ///< `before` names others of this list by their ids in it
};
/// What the class owns of something; a negative count: nobody knows.
struct SetStock {
    ClassId cls;
    std::string item;
    int count = 0;
};

/// Reads the class's marks by the usual parameters (true) or lets them be fitted again.
struct KeepUsualReading {
    ClassId cls;
    bool usual = true;
};

/// A new block; with `like` set, its centers, timing and skills are copied from that block.
struct MakeBlock {
    ClassId cls;
    std::string title;
    BlockId like;
};
/// A new block with a center of this kind for each skill, all at once; devices and the lengths of
/// rounds and moves are those of `like`, if there is one.
struct MakeBlockFrom {
    struct Part {
        SkillId skill;
        std::string kind;
        std::vector<int> tiers = {};  ///< as in Center
    };
    ClassId cls;
    std::string title;
    BlockId like;
    std::vector<Part> parts;
};
struct ChooseSkill {
    ClassId cls;
    BlockId block;
    SkillId skill;
    bool chosen = true;
};
struct AddCenter {
    ClassId cls;
    BlockId block;
    std::string kind;
    SkillId skill;
};
/// One center of a fitting kind for each chosen skill that has none.
struct AddCentersForSkills {
    ClassId cls;
    BlockId block;
};
struct EditCenter {
    ClassId cls;
    BlockId block;
    Center center;
};
/// Levels of a center's cards by their dots, 1 to 3; none: those of the whole box.
struct SetCenterTiers {
    ClassId cls;
    BlockId block;
    CenterId center;
    std::vector<int> tiers;
};
struct CloseCenter {
    ClassId cls;
    BlockId block;
    CenterId center;
    bool closed = true;
};
/// Closes a center and opens one of another kind for the same skill in its place: its rounds not
/// yet begun go to the new one, everything else stays.
struct SwapCenter {
    ClassId cls;
    BlockId block;
    CenterId center;
    std::string kind;
};
struct SetTime {
    ClassId cls;
    BlockId block;
    std::vector<Period> periods;
    Timing timing;
};
/// Something of the prep list is ready, or is not after all.
struct SetReady {
    ClassId cls;
    BlockId block;
    std::string item;
    bool ready = true;
};
struct SetDevices {
    ClassId cls;
    BlockId block;
    int devices = 0;
};

enum class GroupPolicy : std::uint8_t { mixed, similar, any };
struct MakeGroups {
    ClassId cls;
    BlockId block;
    GroupPolicy policy = GroupPolicy::mixed;
    int size_max = 4;
    std::uint64_t seed = 1;
    int groups = 0;  ///< 0: as few as hold everybody
};
/// The least change of the block's groups that seats everybody who is here and keeps all rules.
struct MendGroups {
    ClassId cls;
    BlockId block;
};
/// Groups for this block and the ones to come in which as few students as can be meet again, seen
/// over all of them. Keeps who sits apart and together; the first groups are the block's.
struct PlanTerm {
    ClassId cls;
    BlockId block;
    int blocks = 6;  ///< this one and the next ones
    int size = 4;
    std::uint64_t seed = 1;
};
/// All that the block's groups keep to, in place of what was.
struct SetGroupRules {
    ClassId cls;
    BlockId block;
    GroupRules rules;
};
/// All that the block's chart keeps to, in place of what was; a chart that is there is mended.
struct SetChartRules {
    ClassId cls;
    BlockId block;
    ChartRules rules;
};
struct SwapStudents {
    ClassId cls;
    BlockId block;
    StudentId a;
    StudentId b;
};
struct MoveStudent {
    ClassId cls;
    BlockId block;
    StudentId student;
    int to_group = 0;
};
struct MakeChart {
    ClassId cls;
    BlockId block;
    std::uint64_t seed = 1;
};
/// Exchanges the centers of two groups in one round (1-based).
struct SwapCells {
    ClassId cls;
    BlockId block;
    int round = 1;
    int group_a = 0;
    int group_b = 0;
};

/// One of the rounds to come falls away; the rest is planned anew with as few changes as can be.
struct LoseRound {
    ClassId cls;
    BlockId block;
};

struct SetAbsent {
    ClassId cls;
    BlockId block;
    StudentId student;
    bool absent = true;
};
/// Starts the next day's rounds: as many of the rounds left as that day's period holds.
struct StartLesson {
    ClassId cls;
    BlockId block;
};
/// Whatever comes next: opening -> round 1 -> move -> round 2 -> … -> closing -> ended.
struct NextPhase {
    ClassId cls;
    BlockId block;
};
struct PauseLesson {
    ClassId cls;
    BlockId block;
};
struct ResumeLesson {
    ClassId cls;
    BlockId block;
};
struct AddTime {
    ClassId cls;
    BlockId block;
    int seconds = 60;
};
struct EndLesson {
    ClassId cls;
    BlockId block;
};

/// One tap. Everything the tap meant is said here, so that it counts for what was on screen when
/// the finger went down, whatever the lesson has moved on to.
struct PutMark {
    ClassId cls;
    BlockId block;
    StudentId student;
    SkillId skill;
    CenterId center;
    int round = 0;
    Level level = Level::secure;
    Help help = Help::none;
    std::string slip = {};  ///< the card's known wrong answer that was seen, if any
};
/// Marks everyone at the center who is there and has no mark in this round yet.
struct MarkGroup {
    ClassId cls;
    BlockId block;
    SkillId skill;
    CenterId center;
    int round = 0;
    std::vector<StudentId> students;
    Level level = Level::secure;
};
/// A few words about one student.
struct WriteNote {
    ClassId cls;
    BlockId block;
    StudentId student;
    SkillId skill;
    std::string text;
};
/// How the class works, one rule a line; empty for the usual ones.
struct SetProcedures {
    ClassId cls;
    std::string text;
};
/// A change of places was practised and took so long.
struct PractiseMove {
    ClassId cls;
    std::int64_t took_ms = 0;
};
/// The rounds left today take this long, so that the lesson ends with the bell.
struct RetimeRounds {
    ClassId cls;
    BlockId block;
    int seconds = 0;
};
struct SetFlag {
    ClassId cls;
    StudentId student;
    bool raised = true;
};

/// Takes back the newest thing that a person did on this device and that still counts.
struct Undo {};
/// Brings back what the newest Undo took.
struct Redo {};
/// Takes back the event at this place of the record (a mark in the lesson's list).
struct TakeBack {
    std::uint64_t event = 0;
};
/// Opens the demo class beside whatever there is; `today` gives its dates.
struct OpenDemo {
    base::Date today;
};

using Command =
    std::variant<MakeClass, RenameClass, ArchiveClass, AddStudents, RenameStudent, SetStudentLeft,
                 Erase, TakeOther, SetPair, SetCompany, AddOwnSkill, SetOwnCards, SetCardPicture,
                 BringSkills, SetStock, SetReady, KeepUsualReading, MakeBlock, MakeBlockFrom,
                 ChooseSkill, AddCenter, AddCentersForSkills, EditCenter, SetCenterTiers,
                 CloseCenter, SwapCenter, SetTime, SetDevices, SetGroupRules, SetChartRules,
                 MakeGroups, MendGroups, PlanTerm, SwapStudents, MoveStudent, MakeChart, SwapCells,
                 LoseRound, SetAbsent, StartLesson, NextPhase, PauseLesson, ResumeLesson, AddTime,
                 EndLesson, PutMark, MarkGroup, WriteNote, SetProcedures, PractiseMove,
                 RetimeRounds, SetFlag, Undo, Redo, TakeBack, OpenDemo>;

}  // namespace tallyround::session
