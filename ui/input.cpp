#include "ui/input.h"

#include <algorithm>
#include <cmath>
#include <utility>

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

/// What takes something that is let go of at a point. A sheet's surface in between takes nothing.
const Target* drop_at(const Painted& painted, float x, float y) {
    const Target* t = top_at(painted.targets, x, y);
    return t != nullptr && t->drop ? t : nullptr;
}

/// Points a millisecond that content moves under a finger this near to an end of the area.
float edge_push(const Rect& view, float y) {
    constexpr float edge = 56;
    constexpr float most = 0.6F;
    const float low = view.y + edge - y;
    const float high = y - (view.bottom() - edge);
    if (view.h < 3 * edge || (low <= 0 && high <= 0)) return 0;
    return std::clamp(low > 0 ? -low : high, -edge, edge) / edge * most;
}

}  // namespace

void Fingers::down(const Painted& painted, int finger, float x, float y, double ms) {
    Press p;
    p.start_x = p.x = x;
    p.start_y = p.y = y;
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
        p.view = s->rect;
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
    p.x = x;
    p.y = y;
    look_for_pinch();
    if (carried_ && carrier_ == finger) {
        carried_->x = x;
        carried_->y = y;
        return;
    }
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

std::optional<float> Fingers::pinch() const {
    if (!pinching_ || presses_.size() != 2) return {};
    const Press& a = presses_.begin()->second;
    const Press& b = std::next(presses_.begin())->second;
    return std::hypot(a.x - b.x, a.y - b.y) /
           std::max(1.0F, std::hypot(a.start_x - b.start_x, a.start_y - b.start_y));
}

/// Two fingers that both leave their place, against each other.
void Fingers::look_for_pinch() {
    if (pinching_ || carried_ || presses_.size() != 2) return;
    constexpr float least_way = 6;
    constexpr float least_change = 24;
    Press& a = presses_.begin()->second;
    Press& b = std::next(presses_.begin())->second;
    const float ax = a.x - a.start_x;
    const float ay = a.y - a.start_y;
    const float bx = b.x - b.start_x;
    const float by = b.y - b.start_y;
    const float was = std::hypot(a.start_x - b.start_x, a.start_y - b.start_y);
    const float is = std::hypot(a.x - b.x, a.y - b.y);
    if (std::min(std::hypot(ax, ay), std::hypot(bx, by)) < least_way) return;
    if (ax * bx + ay * by >= 0 || std::abs(is - was) < least_change) return;
    pinching_ = true;
    for (Press* p : {&a, &b}) {
        p->has_target = false;
        p->scroller = 0;
        p->scrolling = true;
    }
}

void Fingers::cancel(int finger) {
    presses_.erase(finger);
    pinching_ = pinching_ && presses_.size() == 2;
    if (carrier_ == finger) carried_.reset();
}

Action Fingers::up(const Painted& painted, int finger, float x, float y, double ms) {
    const auto it = presses_.find(finger);
    if (it == presses_.end()) return {};
    const bool fresh = ms - it->second.last_ms < 60;  // a finger that rested does not throw
    move(finger, x, y, ms);
    const Press p = std::move(it->second);
    presses_.erase(it);
    pinching_ = pinching_ && presses_.size() == 2;
    if (carried_ && carrier_ == finger) {
        settle(painted);
        const Carried let_go = *std::exchange(carried_, {});
        const Target* t = drop_at(painted, x, y);
        const bool moved = std::hypot(x - p.start_x, y - p.start_y) > slop;
        if (!moved && p.target.still) return p.target.tap;
        if (t == nullptr || !moved) return {};
        return [drop = t->drop, what = let_go.what](Act& act) { drop(act, what); };
    }
    if (p.scrolling) {
        if (gliding_ && p.scroller != 0 && fresh && std::abs(p.speed) > least_speed) {
            glides_[p.scroller] = {p.speed, ms};
        }
        return {};
    }
    if (!p.has_target || p.held) return {};
    if (p.target.hold && ms - p.down_ms >= wait_of(p.target)) return p.target.hold;
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
        if (carried_ && carrier_ == finger) scroll_at_edge(p, ms);
        const bool waits = p.has_target && p.target.hold && !p.held && !p.scrolling;
        if (!waits || ms - p.down_ms < wait_of(p.target)) continue;
        p.held = true;
        if (!p.target.carries.empty() && !carried_) {
            carried_ = Carried{p.target.carries, p.target.carried_name, p.start_x, p.start_y, 0};
            carrier_ = finger;
            carry_scroll_ms_ = ms;
            if (p.target.still) {
                p.scroller = 0;
                p.view = {};
            }
        }
        return p.target.hold;
    }
    return {};
}

/// Near an end of its scroll area what is carried moves the content under it.
void Fingers::scroll_at_edge(const Press& press, double ms) {
    const auto passed = float(std::clamp(ms - carry_scroll_ms_, 0.0, 50.0));
    carry_scroll_ms_ = ms;
    const float into = edge_push(press.view, carried_->y);
    if (press.scroller != 0 && !press.horizontal) offsets_[press.scroller] += into * passed;
}

double Fingers::next_tick_in(double ms) const {
    if (!glides_.empty()) return 0;
    if (carried_) {
        const auto it = presses_.find(carrier_);
        if (it != presses_.end() && edge_push(it->second.view, carried_->y) != 0) return 0;
    }
    double soonest = -1;
    for (const auto& [finger, p] : presses_) {
        if (!p.has_target || !p.target.hold || p.held || p.scrolling) continue;
        const double left = std::max(0.0, p.down_ms + wait_of(p.target) - ms);
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
    if (!carried_) return;
    const Target* t = drop_at(painted, carried_->x, carried_->y);
    carried_->over = t == nullptr ? 0 : t->id;
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
