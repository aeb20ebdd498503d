#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "ui/act.h"
#include "ui/mirror/node.h"

namespace tallyround::ui {

/// Something on screen that a finger can do something to.
struct Target {
    std::uint32_t id = 0;
    Rect rect;                   ///< visible part
    std::uint32_t scroller = 0;  ///< the scroll area it lies in, 0 if none
    Action tap;
    Action hold;           ///< after half a second without moving; may be empty
    bool passive = false;  ///< takes the tap (a sheet's surface) but shows no press
};

/// A scroll area as it was painted.
struct Scroller {
    std::uint32_t id = 0;
    Rect rect;
    float content = 0;  ///< height, or width when `horizontal`
    bool horizontal = false;
};

/// What was painted last: what a finger that comes down now touches.
struct Painted {
    std::vector<Target> targets;  ///< in paint order; the last one that contains a point wins
    std::vector<Scroller> scrollers;
};

/// Turns fingers into taps, holds and scrolling. A tap is decided by what was painted when the
/// finger came down and counts on lift, if the finger stayed within reach; moving first scrolls.
/// Every tap counts, however many come between two frames.
class Fingers {
  public:
    static constexpr float slop = 10;  ///< points a finger may stray and still tap
    static constexpr double hold_ms = 500;

    void down(const Painted& painted, int finger, float x, float y, double ms);
    void move(int finger, float x, float y, double ms);
    /// The action to run now, if the lift is a tap (or a hold that the timer had not seen).
    Action up(int finger, float x, float y, double ms);
    void cancel(int finger) { presses_.erase(finger); }

    /// Lets inertia and holds take their course; the action of a hold that is due, if any.
    Action tick(double ms);
    /// Milliseconds until `tick` has something to do; negative: nothing.
    double next_tick_in(double ms) const;

    void wheel(const Painted& painted, float x, float y, float dx, float dy);
    /// Keeps offsets inside what there is to scroll.
    void settle(const Painted& painted);
    float offset(std::uint32_t scroller) const;
    void set_offset(std::uint32_t scroller, float offset) { offsets_[scroller] = offset; }
    bool pressed(std::uint32_t target) const;

  private:
    struct Press {
        Target target;
        bool has_target = false;
        std::uint32_t scroller = 0;
        bool horizontal = false;
        float start_x = 0;
        float start_y = 0;
        float last = 0;  ///< along the scroll direction
        double down_ms = 0;
        double last_ms = 0;
        float speed = 0;  ///< points a millisecond
        bool scrolling = false;
        bool held = false;
    };
    struct Glide {
        float speed = 0;
        double ms = 0;
    };

    std::map<int, Press> presses_;
    std::map<std::uint32_t, float> offsets_;
    std::map<std::uint32_t, Glide> glides_;
};

}  // namespace tallyround::ui
