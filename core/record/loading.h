#pragma once
#include <vector>

#include "record/log.h"

namespace tallyround::record {

/// `Log::load` in pieces, for a record too large to be folded between two frames.
class Loading {
  public:
    /// `events` in any order.
    Loading(ReplicaId replica, std::vector<Event> events);

    /// Goes on for about `most` events; true when all is folded. The first three steps look at
    /// every event once, whatever `most` says.
    bool step(std::size_t most);
    double progress() const;  ///< 0 .. 1
    /// The record, once all is folded.
    Log take() { return std::move(log_); }

  private:
    Log log_;
    enum class Part { erased, order, places, fold };

    std::vector<Event> events_;  ///< until they have their places
    Part part_ = Part::erased;
    Log::Refold refold_{0};
};

}  // namespace tallyround::record
