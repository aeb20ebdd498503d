#pragma once
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/random.h"
#include "base/result.h"
#include "record/log.h"
#include "session/command.h"
#include "session/conflicts.h"
#include "session/history.h"
#include "session/incoming.h"
#include "session/obstacle.h"

namespace tallyround::session {

/// What a command comes to.
struct Decision {
    std::vector<record::Body> events;
    std::string said;  ///< one plain sentence for the screen and the live region; may be empty
    /// Ids made for new things, in order (the class of MakeClass, the students of AddStudents …).
    std::vector<std::string> made;
    /// Events of another replica that come in as they are (the demo class), instead of `events`.
    std::vector<record::Event> others = {};
};

/// The one gate: looks at the state and the wish, changes nothing. `now_ms` is UTC; `entropy` only
/// serves to make ids. Errors are sentences that name the student, center or field and what to do.
base::Result<Decision> decide(const record::Log& log, const Command& command, std::int64_t now_ms,
                              base::Random& entropy);

/// What happened to the record, for the journal and the screen.
struct Happened {
    std::vector<record::Event> events;  ///< appended now, in order: to be made durable
    std::string said;
    std::vector<std::string> made;
};

class Bringing;
class Planning;
class Standings;

/// A wish that takes long on its way: `step` it, then ask the Session what it came to.
class Job {
  public:
    Job(std::unique_ptr<Planning> planning, std::size_t events);
    ~Job();
    Job(Job&&) noexcept;
    Job& operator=(Job&&) noexcept;

    /// Does about `work` units (some 0.3 microseconds native each); true when it is over.
    bool step(std::int64_t work);
    double progress() const;  ///< 0 .. 1
    /// What stood in the way, after it came to an Error; see planner.h.
    std::vector<Obstacle> obstacles() const;

  private:
    friend class Session;
    std::unique_ptr<Planning> planning_;
    std::size_t events_;  ///< in the record when it began
};

/// A record, the wishes it has served (for Undo and Redo) and the ids it makes.
class Session {
  public:
    Session(ReplicaId replica, std::uint64_t entropy);

    /// Starts over from these events (any order).
    void load(std::vector<record::Event> events);
    /// The same with a record that was folded elsewhere, under this session's replica.
    void load(record::Log log);
    /// One decision at a time: its events share one millisecond, later than all before.
    base::Result<Happened> send(const Command& command, std::int64_t now_ms);
    /// What the wish would come to now; changes nothing.
    base::Result<Decision> would(const Command& command, std::int64_t now_ms) const;

    /// Begins a wish that takes long, to be stepped between frames. `standings`, if given, are up
    /// to date for its class.
    base::Result<Job> begin(const Command& command, std::int64_t now_ms,
                            const Standings* standings = nullptr);
    /// True when the record has changed since the job began: what it comes to is worth nothing.
    bool stale(const Job& job) const { return job.events_ != log_.events().size(); }
    /// What a job that is over and not stale comes to: as `decide` would say, nothing changed yet.
    base::Result<Decision> conclude(Job& job, std::int64_t now_ms);
    /// Puts a decision into the record. Nothing may have happened since it was made.
    Happened commit(Decision decision, std::int64_t now_ms);

    /// Another record's events (an imported plan, another device): what was new, to be made
    /// durable. `whole`: they are all that the other side has, so what both sides changed can be
    /// told.
    std::vector<record::Event> merge(const std::vector<record::Event>& events, bool whole = false);
    /// Puts in what was worked out beside the record, at once or in steps. Returns how many events
    /// were new; `told`, if given, gets those unless there are more than were to be told.
    std::size_t conclude(Bringing& bringing, std::vector<record::Event>* told = nullptr);
    /// What both sides of the last whole merge that brought something had changed.
    const std::vector<Conflict>& conflicts() const { return conflicts_; }
    /// Who had what when it came, for `recall` after the next start.
    const Sides& sides() const { return sides_; }
    /// Finds the conflicts of an earlier merge again, those that nobody has settled since.
    void recall(Sides sides);

    const State& state() const { return log_.state(); }
    const record::Log& log() const { return log_; }
    /// What Undo would take back, as a short phrase ("mark for Ana"); empty if nothing.
    const std::string& undo_label() const { return undo_label_; }
    /// What Redo would bring back; empty if nothing.
    const std::string& redo_label() const { return redo_label_; }

  private:
    void label();

    record::Log log_;
    base::Random entropy_;
    History history_;
    Sides sides_;
    std::vector<Conflict> conflicts_;
    std::string undo_label_;
    std::string redo_label_;
};

/// Replica names are 8 letters and digits from `entropy`.
ReplicaId make_replica(std::uint64_t entropy);

}  // namespace tallyround::session
