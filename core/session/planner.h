#pragma once
#include <cstdint>
#include <memory>
#include <vector>

#include "session/obstacle.h"
#include "session/session.h"

namespace tallyround::session {

struct Context;

/// A plan that takes long, in slices. It looks at the record when it begins and when it ends; in
/// between it holds copies of what it needs. Every way of slicing ends in the same Decision.
class Planning {
  public:
    Planning() = default;
    virtual ~Planning() = default;
    Planning(const Planning&) = delete;
    Planning& operator=(const Planning&) = delete;

    /// Does about `work` units (some 0.3 microseconds native each); true when there is nothing
    /// more to do.
    virtual bool step(std::int64_t work) = 0;
    virtual double progress() const = 0;  ///< 0 .. 1
    /// What it comes to, once `step` has returned true. `ctx` holds the record of the beginning.
    virtual base::Result<Decision> finish(const Context& ctx) = 0;
    /// After a `finish` that failed: what stands in the way, if that can be said one by one.
    virtual std::vector<Obstacle> obstacles() const { return {}; }
};

using Begun = base::Result<std::unique_ptr<Planning>>;

// One overload for each command that takes long; all others are decided at once.
Begun begin_planning(const Context& ctx, const MakeGroups& wish);
Begun begin_planning(const Context& ctx, const MendGroups& wish);
Begun begin_planning(const Context& ctx, const PlanTerm& wish);
Begun begin_planning(const Context& ctx, const MakeChart& wish);

/// Any command: the overload for it, or a planning that is over at once.
Begun begin_any(const Context& ctx, const Command& command);

/// Plans to the end: what `decide` does for a command that takes long.
base::Result<Decision> plan_at_once(const Context& ctx, const Begun& begun);

}  // namespace tallyround::session
