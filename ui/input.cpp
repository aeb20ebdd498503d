#include "ui/input.h"

#include <algorithm>
#include <cmath>

namespace tallyround::ui {

namespace {

template <class Items>
auto top_at(const Items& items, float x, float y) -> decltype(items.data()) {
    const auto it = std::find_if(items.rbegin(), items.rend(),
                                 [&](const auto& item) { return item.rect.contains(x, y); });
    return it == items.rend() ? nullptr : &*it;
}

const Scroller* find_scroller(const Painted& painted, std::uint32_t id) {
    for (const Scroller& s : painted.scrollers) {
        if (s.id == id) return &s;
    }
    return nullptr;
}

constexpr float least_speed = 0.03F;  // points a millisecond: slower than this is standing still
constexpr float friction = 0.996F;    // a millisecond

}  // namespace

void Fingers::down(const Painted& painted, int finger, float x, float y, double ms) {
    Press p;
    p.start_x = x;
    p.start_y = y;
    p.down_ms = p.last_ms = ms;
    std::uint32_t scroller = 0;
    if (const Target* t = top_at(painted.targets, x, y)) {
        p.target = *t;
        p.has_target = true;
        scroller = t->scroller;
    } else if (const Scroller* s = top_at(painted.scrollers, x, y)) {
        scroller = s->id;
    }
    if (const Scroller* s = find_scroller(painted, scroller)) {
        p.scroller = s->id;
        p.horizontal = s->horizontal;
        // A finger on something that glides stops it, and that touch is not a tap.
        if (glides_.erase(s->id) > 0) p.has_target = false;
    }
    p.last = p.horizontal ? x : y;
    presses_[finger] = std::move(p);
}

void Fingers::move(int finger, float x, float y, double ms) {
    const auto it = presses_.find(finger);
    if (it == presses_.end()) return;
    Press& p = it->second;
    const float along = p.horizontal ? x : y;
    const float strayed = std::hypot(x - p.start_x, y - p.start_y);
    if (!p.scrolling && strayed > slop) {
        p.scrolling = true;
        p.last = along;
        p.last_ms = ms;
    }
    if (!p.scrolling || p.scroller == 0) return;
    const float step = along - p.last;
    offsets_[p.scroller] -= step;
    const auto passed = float(std::max(1.0, ms - p.last_ms));
    p.speed = 0.6F * (-step / passed) + 0.4F * p.speed;
    p.last = along;
    p.last_ms = ms;
}

Action Fingers::up(int finger, float x, float y, double ms) {
    const auto it = presses_.find(finger);
    if (it == presses_.end()) return {};
    const bool fresh = ms - it->second.last_ms < 60;  // a finger that rested does not throw
    move(finger, x, y, ms);
    const Press p = std::move(it->second);
    presses_.erase(it);
    if (p.scrolling) {
        if (p.scroller != 0 && fresh && std::abs(p.speed) > least_speed) {
            glides_[p.scroller] = {p.speed, ms};
        }
        return {};
    }
    if (!p.has_target || p.held) return {};
    if (p.target.hold && ms - p.down_ms >= hold_ms) return p.target.hold;
    return p.target.tap;
}

Action Fingers::tick(double ms) {
    for (auto it = glides_.begin(); it != glides_.end();) {
        Glide& g = it->second;
        const auto passed = float(std::clamp(ms - g.ms, 0.0, 100.0));
        offsets_[it->first] += g.speed * passed;
        g.speed *= std::pow(friction, passed);
        g.ms = ms;
        it = std::abs(g.speed) < least_speed ? glides_.erase(it) : std::next(it);
    }
    for (auto& [finger, p] : presses_) {
        if (p.has_target && p.target.hold && !p.held && !p.scrolling && ms - p.down_ms >= hold_ms) {
            p.held = true;
            return p.target.hold;
        }
    }
    return {};
}

double Fingers::next_tick_in(double ms) const {
    if (!glides_.empty()) return 0;
    double soonest = -1;
    for (const auto& [finger, p] : presses_) {
        if (!p.has_target || !p.target.hold || p.held || p.scrolling) continue;
        const double left = std::max(0.0, p.down_ms + hold_ms - ms);
        soonest = soonest < 0 ? left : std::min(soonest, left);
    }
    return soonest;
}

void Fingers::wheel(const Painted& painted, float x, float y, float dx, float dy) {
    const Scroller* best = nullptr;
    for (const Scroller& s : painted.scrollers) {
        const bool wanted =
            s.horizontal ? std::abs(dx) > std::abs(dy) : std::abs(dy) >= std::abs(dx);
        if (s.rect.contains(x, y) && wanted) best = &s;
    }
    if (best != nullptr) offsets_[best->id] += best->horizontal ? dx : dy;
}

void Fingers::settle(const Painted& painted) {
    for (const Scroller& s : painted.scrollers) {
        const float view = s.horizontal ? s.rect.w : s.rect.h;
        const float most = std::max(0.0F, s.content - view);
        float& at = offsets_[s.id];
        const float kept = std::clamp(at, 0.0F, most);
        if (kept != at) glides_.erase(s.id);
        at = kept;
    }
}

float Fingers::offset(std::uint32_t scroller) const {
    const auto it = offsets_.find(scroller);
    return it == offsets_.end() ? 0 : it->second;
}

bool Fingers::pressed(std::uint32_t target) const {
    return std::any_of(presses_.begin(), presses_.end(), [&](const auto& entry) {
        const Press& p = entry.second;
        return p.has_target && !p.scrolling && !p.held && p.target.id == target;
    });
}

}  // namespace tallyround::ui
