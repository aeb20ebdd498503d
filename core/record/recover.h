#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "record/event.h"
#include "record/packer.h"

namespace tallyround::record {

/// A line of a journal that is no event, and why.
struct Unreadable {
    std::string line;
    std::string why;
};

/// What comes out of what a device stored.
struct Recovered {
    std::vector<Event> events;  ///< the snapshot's, then the lines'; may hold one twice
    std::vector<Unreadable> unreadable;
    std::string snapshot_problem;  ///< empty when it could be read or there is none
};

/// `recover` in pieces, for a snapshot too large to be read between two frames. The texts must stay
/// where they are until `take`.
class Recovering {
  public:
    Recovering(std::string_view snapshot, std::string_view lines);

    /// Reads about `most` events more; true when there is nothing left to do.
    bool step(std::size_t most) { return snapshot_.empty() || unpacker_.step(most); }
    /// Reads what is left.
    Recovered take();

  private:
    std::string_view snapshot_;
    std::string_view lines_;
    Unpacker unpacker_;
};

/// Reads a snapshot (`pack`; may be empty) and the journal's lines after it, one event a line;
/// empty lines are passed over. Never fails: what cannot be read is named, the rest is there.
Recovered recover(std::string_view snapshot, std::string_view lines);

}  // namespace tallyround::record
