#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <string>
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
    std::string carries;   ///< what a finger picks up by holding and moving; empty: nothing
    std::string carried_name;
    bool still = false;  ///< while it is held the page stays, and a lift in its place is a tap
    TextAction drop;     ///< gets what a finger lets go of here; may be empty
};

/// What a finger carries about.
struct Carried {
    std::string what;
    std::string name;
    float x = 0;
    float y = 0;
    std::uint32_t over = 0;  ///< the target that would take it, 0 if none
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
/// finger came down and counts on lift, if the finger stayed within reach; moving first scrolls,
/// moving after a hold carries what can be carried.
/// Every tap counts, however many come between two frames.
class Fingers {
  public:
    static constexpr float slop = 10;  ///< points a finger may stray and still tap
    static constexpr double hold_ms = 500;
    static constexpr double lift_ms = 350;  ///< before something can be carried

    void down(const Painted& painted, int finger, float x, float y, double ms);
    void move(int finger, float x, float y, double ms);
    /// The action to run now, if the lift is a tap (or a hold that the timer had not seen).
    Action up(const Painted& painted, int finger, float x, float y, double ms);
    void cancel(int finger);

    /// Lets inertia and holds take their course; the action of a hold that is due, if any.
    Action tick(double ms);
    /// Milliseconds until `tick` has something to do; negative: nothing.
    double next_tick_in(double ms) const;

    void wheel(const Painted& painted, float x, float y, float dx, float dy);
    /// How far two fingers have moved apart (> 1) or together since they came down; nothing unless
    /// they are at it. Two fingers that tap or scroll beside each other are not.
    std::optional<float> pinch() const;
    /// Lists stop where a finger leaves them (for who asks for less motion).
    void set_gliding(bool on) { gliding_ = on; }
    /// Keeps offsets inside what there is to scroll.
    void settle(const Painted& painted);
    float offset(std::uint32_t scroller) const;
    void set_offset(std::uint32_t scroller, float offset) { offsets_[scroller] = offset; }
    bool pressed(std::uint32_t target) const;
    /// What a finger carries now, if one does.
    const Carried* carried() const { return carried_ ? &*carried_ : nullptr; }

  private:
    struct Press {
        Target target;
        bool has_target = false;
        std::uint32_t scroller = 0;
        bool horizontal = false;
        float start_x = 0;
        float start_y = 0;
        float x = 0;  ///< where the finger is
        float y = 0;
        float last = 0;  ///< along the scroll direction
        double down_ms = 0;
        double last_ms = 0;
        float speed = 0;  ///< points a millisecond
        bool scrolling = false;
        bool held = false;
        Rect view;  ///< of the scroller
    };
    struct Glide {
        float speed = 0;
        double ms = 0;
    };

    static double wait_of(const Target& target) {
        return target.carries.empty() ? hold_ms : lift_ms;
    }
    void look_for_pinch();
    void scroll_at_edge(const Press& press, double ms);

    std::map<int, Press> presses_;
    bool pinching_ = false;
    bool gliding_ = true;
    std::optional<Carried> carried_;
    int carrier_ = 0;             ///< the finger
    double carry_scroll_ms_ = 0;  ///< when content last moved under what is carried
    std::map<std::uint32_t, float> offsets_;
    std::map<std::uint32_t, Glide> glides_;
};

}  // namespace tallyround::ui
