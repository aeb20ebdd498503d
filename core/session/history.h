#pragma once
#include <deque>
#include <string>
#include <vector>

#include "record/log.h"

namespace tallyround::session {

/// What a person did on this device, one entry a decision: what Undo and Redo walk along.
///
/// A decision's events are told apart by their time: a Session gives each decision a millisecond of
/// its own, later than everything in its record, so events of this replica with one and the same
/// millisecond are one decision. That makes the history a function of the record and it survives a
/// reload. An Undo retracts exactly the newest decision's events, a Redo the retraction; TakeBack
/// names its event twice, so that it is a decision of its own even when it meets the newest one.
/// Other replicas' events are never undone from here, nor is deleting for good. The newest `depth`
/// decisions are kept.
class History {
  public:
    static constexpr std::size_t depth = 500;

    struct Entry {
        /// What Undo takes back.
        std::vector<record::EventRef> events;
    };

    /// Reads the whole record.
    void read(const record::Log& log);
    /// One decision more, just appended to the record (all its events).
    void add(const std::vector<record::Event>& decision);
    /// A decision whose events came in ready-made from another replica: Undo takes back `events`.
    void add_foreign(std::vector<record::EventRef> events);

    /// Forgets newest decisions that no longer count because another replica took them back.
    void drop_dead(const record::Log& log);

    /// What Undo would take back: the newest decision with an event that counts; nullptr if none.
    const Entry* undoable(const record::Log& log) const;
    /// The retraction that Redo would take back; nullptr if none.
    const record::EventRef* redoable() const;
    /// The decision that comes back with it.
    const Entry* redo_entry() const { return undone_.empty() ? nullptr : &undone_.back().entry; }

  private:
    struct Undone {
        Entry entry;
        record::EventRef by;  ///< the retraction
    };

    void push(Entry entry);
    bool read_newest(const record::Log& log, std::size_t most);

    std::deque<Entry> done_;
    std::vector<Undone> undone_;
};

/// The place of an event in the record, or -1. Looks from the end.
std::ptrdiff_t place_of(const record::Log& log, const record::EventRef& ref);

/// A decision in a few plain words: "mark for Ana", "groups".
std::string label_of(const record::Log& log, const History::Entry& entry);

}  // namespace tallyround::session
