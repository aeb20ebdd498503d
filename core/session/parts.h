#pragma once
#include <cstdint>
#include <string>
#include <string_view>

#include "model/kinds.h"
#include "session/chart_plan.h"
#include "session/derived.h"
#include "session/history.h"
#include "session/session.h"

namespace tallyround::session {

// What the files that decide share. Only decide_*.cpp and session.cpp include this.

/// Everything a decision may look at.
struct Context {
    const record::Log& log;
    std::int64_t now_ms;
    base::Random& entropy;
    const History* history = nullptr;  ///< kept by a Session; otherwise read from the log
    /// Up to date for the class that the wish is about, if anybody keeps them.
    const Standings* standings = nullptr;

    const State& state() const { return log.state(); }
};

using Answer = base::Result<Decision>;

/// A class that is there and not archived, and in it the block asked for.
struct Spot {
    const Class* cls = nullptr;
    const Block* block = nullptr;
};
base::Result<const Class*> open_class(const Context& ctx, const ClassId& id);
base::Result<Spot> open_block(const Context& ctx, const ClassId& cls, const BlockId& block);
base::Result<const Student*> student_in(const Class& cls, const StudentId& id);
base::Result<const Center*> center_in(const Block& block, const CenterId& id);
/// True for bank skills and the class's own.
bool knows_skill(const Class& cls, const SkillId& skill);

/// At most this many letters in a name or title.
inline constexpr std::size_t name_limit = 120;
/// A name tidied for keeping; empty or longer than `name_limit` is an Error at `where`.
base::Result<std::string> checked_name(std::string_view where, std::string_view text);
/// Lines tidied one by one, empty ones dropped at both ends.
base::Result<std::string> checked_lines(std::string_view where, std::string_view text,
                                        std::size_t limit);
base::Result<int> checked_number(std::string_view where, int value, int low, int high,
                                 std::string_view unit);

/// Levels of cards by their dots, in order and each once; other numbers are an Error.
base::Result<std::vector<int>> checked_tiers(std::vector<int> tiers);

/// The error of a failed result, to hand on.
template <class T>
tl::unexpected<base::Error> pass(const base::Result<T>& failed) {
    return tl::make_unexpected(failed.error());
}

/// An id for one more center, unlike those of the block and of what the decision made so far.
CenterId new_center_id(const Context& ctx, const Block& block, const Decision& decision);
/// A center of that kind, with the kind's own instructions and materials.
Center center_of_kind(const CenterId& id, const CenterKind& kind, const SkillId& skill);
record::CenterSet set_event(const ClassId& cls, const BlockId& block, const Center& center);

/// "Ana", "Ana and Bo", "Ana, Bo and 4 more".
std::string names_of(const Class& cls, const std::vector<StudentId>& students);
std::string name_of(const Class& cls, const StudentId& student);
/// The events of new groups; another number of groups needs another chart.
void set_groups(Decision& decision, const Class& cls, const Block& block, const Groups& groups);
/// Most students in a group.
inline constexpr int most_in_group = 4;  // common practice, no source: at most four at a center
/// Two students of one group who must sit apart, as an Error; nothing when all is well.
base::Result<bool> checked_apart(const Class& cls, const std::vector<StudentId>& group);

/// No student in this class's present list is without a seat, or a sentence that names them.
std::string seatless(const Class& cls, const Groups& groups);

/// Appends the events and words that keep the chart true to `wanted`, the block as it will be
/// after `decision`. Nothing when there is no chart; cells of closed centers are emptied when no
/// plan can be found.
void keep_chart_true(Decision& decision, const ClassId& cls, const Block& wanted);
/// The same after a change of the chart's rules; an error where no chart keeps them all.
base::Result<bool> keep_rules(Decision& decision, const ClassId& cls, const Block& was,
                              const Block& wanted);

// One overload a command ------------------------------------------------------------------------
Answer on(const Context& ctx, const MakeClass& wish);
Answer on(const Context& ctx, const RenameClass& wish);
Answer on(const Context& ctx, const ArchiveClass& wish);
Answer on(const Context& ctx, const AddStudents& wish);
Answer on(const Context& ctx, const RenameStudent& wish);
Answer on(const Context& ctx, const SetStudentLeft& wish);
Answer on(const Context& ctx, const Erase& wish);
Answer on(const Context& ctx, const TakeOther& wish);
Answer on(const Context& ctx, const SetPair& wish);
Answer on(const Context& ctx, const SetCompany& wish);
Answer on(const Context& ctx, const AddOwnSkill& wish);
Answer on(const Context& ctx, const KeepUsualReading& wish);
Answer on(const Context& ctx, const SetOwnCards& wish);
Answer on(const Context& ctx, const SetCardPicture& wish);
Answer on(const Context& ctx, const SetCenterTiers& wish);
Answer on(const Context& ctx, const BringSkills& wish);
Answer on(const Context& ctx, const SetStock& wish);
Answer on(const Context& ctx, const SetReady& wish);
Answer on(const Context& ctx, const MakeBlock& wish);
Answer on(const Context& ctx, const MakeBlockFrom& wish);
Answer on(const Context& ctx, const ChooseSkill& wish);
Answer on(const Context& ctx, const AddCenter& wish);
Answer on(const Context& ctx, const AddCentersForSkills& wish);
Answer on(const Context& ctx, const EditCenter& wish);
Answer on(const Context& ctx, const CloseCenter& wish);
Answer on(const Context& ctx, const SwapCenter& wish);
Answer on(const Context& ctx, const SetTime& wish);
Answer on(const Context& ctx, const SetDevices& wish);
Answer on(const Context& ctx, const SetGroupRules& wish);
Answer on(const Context& ctx, const SetChartRules& wish);
Answer on(const Context& ctx, const MakeGroups& wish);
Answer on(const Context& ctx, const MendGroups& wish);
Answer on(const Context& ctx, const PlanTerm& wish);
Answer on(const Context& ctx, const SwapStudents& wish);
Answer on(const Context& ctx, const MoveStudent& wish);
Answer on(const Context& ctx, const MakeChart& wish);
Answer on(const Context& ctx, const SwapCells& wish);
Answer on(const Context& ctx, const LoseRound& wish);
Answer on(const Context& ctx, const SetAbsent& wish);
Answer on(const Context& ctx, const StartLesson& wish);
Answer on(const Context& ctx, const NextPhase& wish);
Answer on(const Context& ctx, const PauseLesson& wish);
Answer on(const Context& ctx, const ResumeLesson& wish);
Answer on(const Context& ctx, const AddTime& wish);
Answer on(const Context& ctx, const EndLesson& wish);
Answer on(const Context& ctx, const PutMark& wish);
Answer on(const Context& ctx, const MarkGroup& wish);
Answer on(const Context& ctx, const WriteNote& wish);
Answer on(const Context& ctx, const SetProcedures& wish);
Answer on(const Context& ctx, const PractiseMove& wish);
Answer on(const Context& ctx, const RetimeRounds& wish);
Answer on(const Context& ctx, const SetFlag& wish);
Answer on(const Context& ctx, const Undo& wish);
Answer on(const Context& ctx, const Redo& wish);
Answer on(const Context& ctx, const TakeBack& wish);
Answer on(const Context& ctx, const OpenDemo& wish);

}  // namespace tallyround::session
