#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "record/merging.h"
#include "session/incoming.h"

namespace tallyround::session {

/// A merge of another record's events, to be stepped between frames where there are many: who has
/// what, and the record that comes of it. Session::conclude puts it in.
class Bringing {
  public:
    /// `whole`: the events, with those that were `seen`, are all that the other side has, so what
    /// both sides changed can be told. Of the new ones a copy is kept unless there are more than
    /// `most_told`. The log must outlive this; it may go on meanwhile.
    Bringing(const record::Log& log, Incoming incoming, bool whole, std::size_t most_told);

    /// Goes on for about `most` events; true when all is worked out.
    bool step(std::size_t most);
    double progress() const;  ///< 0 .. 1

  private:
    friend class Session;
    enum class Part { here, fresh, ours, merge };

    void look_here(std::size_t most);
    void sift(std::size_t most);
    void find_ours(std::size_t most);
    void begin_merge();

    const record::Log* log_;
    std::size_t size_;  ///< of the log when this began
    Beginning began_;
    bool whole_;
    std::size_t most_told_;
    Part part_ = Part::here;
    std::size_t next_ = 0;
    std::size_t kept_ = 0;
    std::vector<record::Event> fresh_;  ///< until they are merged
    std::vector<bool> seen_;
    EventNames here_;
    EventNames both_;
    Sides sides_;
    bool may_conflict_ = false;  ///< some that are new set fields
    bool own_ = false;           ///< some that are new bear this device's name
    std::size_t count_ = 0;
    std::vector<record::Event> told_;
    std::optional<record::Merging> merging_;
};

}  // namespace tallyround::session
