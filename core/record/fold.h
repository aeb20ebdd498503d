#pragma once
#include <span>
#include <vector>

#include "model/state.h"
#include "record/event.h"

namespace tallyround::record {

/// Applies one event to a state. Retracted, Erased and Foreign change nothing here (see `in_force`
/// and erase.h).
/// `place` is the event's index in the record; marks keep it. Never fails:
///   - what names an unknown class, student, block or center is passed over;
///   - of two events that set the same field, the later (by stamp) wins; adding what is there
///     already sets its fields (and brings back a student who had left);
///   - names and titles are tidied to one line without control characters, longer texts line by
///     line: the one gate that all loaded data passes;
///   - PairRuled: `none` removes; pairs are kept with a < b, in order;
///   - StudentLeft: the student leaves the groups and absences of the current block and the flags;
///     pairs and marks stay; who comes back or joins late is in no group until groups are set;
///   - GroupsSet and ChartSet replace. Unknown students, students who left and second seats are
///     dropped from groups; an unknown center in a chart becomes "no center";
///   - CenterSet adds or replaces in place, and leaves `closed` as it is;
///   - AbsenceSet sets; absences stay until set otherwise;
///   - LessonStarted: opening when `ends_ms` > 0, otherwise working; round = first_round either way
///     (while opening, the round that is about to be worked); started_ms is the event's time;
///   - PhaseBegan: sets phase, round and end, ends a pause;
///   - a round is done when it was being worked and then moving, closing or ended begins, a later
///     round is worked, or the lesson ends: rounds_done = the highest such round;
///   - LessonPaused, LessonResumed, TimeAdded: only while a lesson runs. TimeAdded moves the end,
///     or what is left when paused, never below 0;
///   - LessonEnded: phase ended, no pause;
///   - Marked: kept if the student is known, left or not, and clears the student's flag;
///   - FlagSet: raised again keeps its first time.
void apply(model::State& state, const Event& event, std::uint64_t place);

/// Which events of an ordered record count: everything but retractions' targets, where a
/// retraction counts only if no later one that counts takes it back. A retraction reaches only
/// earlier events. True = counts. Linear in the record plus the number of targets (with a log).
std::vector<bool> in_force(std::span<const Event> ordered);

/// The state of an ordered record.
model::State fold(std::span<const Event> ordered);

}  // namespace tallyround::record
