#pragma once
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "record/log.h"

namespace tallyround::session {

/// A set of events' names, kept as runs of numbers: a million of them take next to nothing.
class EventNames {
  public:
    EventNames() = default;
    explicit EventNames(std::span<const record::Event> events);
    void add(const record::EventRef& ref);
    bool contains(const record::EventRef& ref) const;
    bool empty() const { return runs_.empty(); }

    /// "k3x9q2ab:1-40,44-44;…", to be kept beside a record.
    std::string text() const;
    /// Back again; what is not of this form is left out.
    static EventNames read(std::string_view text);

  private:
    using Runs = std::map<std::uint64_t, std::uint64_t>;  ///< first to last; none touches another
    std::map<record::ReplicaId, Runs> runs_;
};

/// How a record begins: what was done with its first events is good for as long as that `holds`.
/// Events after them do not matter.
class Beginning {
  public:
    Beginning() = default;
    Beginning(const record::Log& log, std::size_t size);
    bool holds(const record::Log& log) const;

  private:
    std::size_t size_ = 0;
    record::Stamp last_;
    std::uint64_t rewrites_ = 0;
};

/// What either side of a merge had that the other did not know.
struct Sides {
    EventNames ours;
    EventNames theirs;
};

/// Events of another record, to be merged.
struct Incoming {
    /// What the other side has; what is here already just as it stands may be left out …
    std::vector<record::Event> events;
    /// … and is told by its place in the log. Places past the end of this are not seen.
    std::vector<bool> seen;
};

/// Leaves out, event by event, what the log has just as it stands. Fast where the events come in
/// the record's order. The log must outlive it; while `holds`, it may have grown.
class Sieve {
  public:
    explicit Sieve(const record::Log& log);
    /// True for an event that the log does not have so.
    bool fresh(const record::Event& event);
    bool holds() const { return began_.holds(*log_); }
    std::vector<bool> take_seen() { return std::move(seen_); }

  private:
    const record::Log* log_;
    Beginning began_;
    std::size_t next_ = 0;  ///< place where the next event is looked for first
    std::vector<bool> seen_;
};

}  // namespace tallyround::session
