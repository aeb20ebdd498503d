#pragma once
#include <set>
#include <span>
#include <vector>

#include "record/event.h"

namespace tallyround::record {

/// Walks an ordered record from its newest event back and tells which events count. What a
/// retraction names waits in `pending` until the walk meets it; whatever comes before the walk's
/// place depends on `pending` alone.
class BackwardWalk {
  public:
    /// The next older event: true when it counts.
    bool step(const Event& event);
    const std::set<EventRef>& pending() const { return pending_; }

  private:
    std::set<EventRef> pending_;
};

}  // namespace tallyround::record
