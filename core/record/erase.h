#pragma once
#include <cstddef>
#include <set>
#include <span>
#include <vector>

#include "record/event.h"

namespace tallyround::record {

/// Who was deleted for good, by the Erased events of a record.
class Erasures {
  public:
    Erasures() = default;
    explicit Erasures(std::span<const Event> events);

    bool empty() const { return gone_.empty(); }
    bool has_class(const ClassId& cls) const { return gone_.contains({cls, StudentId{}}); }
    /// True also when the whole class is gone.
    bool has(const ClassId& cls, const StudentId& student) const;
    /// Takes those in that `more` names. True when there was somebody new among them.
    bool add(const Erasures& more);
    /// Ids of all that were deleted, for looking for them in text that nobody here can read.
    std::vector<std::string_view> ids() const;

  private:
    std::set<std::pair<ClassId, StudentId>> gone_;
};

/// Takes everything about those who were deleted for good out of `events` (in any order), whenever
/// and wherever it was written. Returns how many events were about them; 0 when all were
/// clean. What an event says about others stays: groups, wishes and rules lose the student alone.
/// Names in free text (a note on somebody else) are not looked for.
///
/// An event that goes is dropped, except for the newest of its replica: that one becomes a
/// retraction of nothing, so that no replica gives a sequence number out twice. So purging pieces
/// and then their union is the same as purging the union, in any order, as long as names of events
/// are unique (which copied replicas break; see `normalise`).
std::size_t purge(std::vector<Event>& events, const Erasures& gone);

}  // namespace tallyround::record
