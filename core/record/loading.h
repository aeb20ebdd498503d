#pragma once
#include <vector>

#include "record/log.h"

namespace tallyround::record {

/// `Log::load` in pieces, for a record too large to be folded between two frames.
class Loading {
  public:
    /// `events` in any order.
    Loading(ReplicaId replica, std::vector<Event> events);

    /// Goes on for about `most` events; true when all is folded.
    bool step(std::size_t most);
    double progress() const;  ///< 0 .. 1
    /// The record, once all is folded.
    Log take() { return std::move(log_); }

  private:
    Log log_;
    std::vector<Event> events_;  ///< until they are in order
    bool in_order_ = false;
    Log::Refold refold_{0};
};

}  // namespace tallyround::record
