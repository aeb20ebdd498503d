#include <algorithm>
#include <cmath>
#include <utility>

#include "ui/app_inside.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

void App::pointer_down(int finger, float x, float y, const Now& now) {
    in_->fingers.down(in_->painted, finger, x, y, now.steady_ms);
    in_->dirty = true;
}

void App::pointer_move(int finger, float x, float y, const Now& now) {
    in_->fingers.move(finger, x, y, now.steady_ms);
    in_->fingers.settle(in_->painted);
    in_->pinch(now);
    in_->dirty = true;
}

void App::pointer_up(int finger, float x, float y, const Now& now) {
    in_->run(in_->fingers.up(in_->painted, finger, x, y, now.steady_ms), now);
    in_->pinch(now);
}

void App::pointer_cancel(int finger) {
    in_->fingers.cancel(finger);
    in_->dirty = true;
}

void App::wheel(float x, float y, float dx, float dy) {
    in_->fingers.wheel(in_->painted, x, y, dx, dy);
    in_->fingers.settle(in_->painted);
    in_->dirty = true;
}

/// Two fingers change the size of all text in steps of 10 %.
void App::Inside::pinch(const Now& now) {
    const auto ratio = fingers.pinch();
    if (!ratio) {
        pinch_from = 0;
        return;
    }
    if (pinch_from == 0) pinch_from = view.text_scale;
    const float steps = std::round(pinch_from * *ratio * 10);
    const float scale = std::clamp(steps / 10, 1.0F, 2.0F);
    if (std::abs(scale - view.text_scale) < 0.01F) return;
    run(
        [scale](Act& act) {
            act.view.text_scale = scale;
            act.say("Text size " + std::to_string(int(std::lround(scale * 100))) + " %");
        },
        now);
}

namespace {

bool lies_in(const std::vector<Node>& nodes, const Node& node, std::uint32_t around) {
    std::uint32_t at = node.parent;
    while (at != 0 && at != around) {
        const auto it =
            std::find_if(nodes.begin(), nodes.end(), [&](const Node& n) { return n.id == at; });
        at = it == nodes.end() ? 0 : it->parent;
    }
    return around != 0 && at == around;
}

bool takes_keyboard(const Node& n) {
    return n.focusable && !n.disabled;
}

/// What lies aside comes after all that lies straight ahead.
constexpr float aside_from = 100'000;
/// What lies outside the scroll area that one is in comes after all straight ahead inside.
constexpr float outside_from = aside_from / 2;
/// What is out of sight in another scroll area comes last of all.
constexpr float unseen_from = aside_from * 10;

/// How far `to` lies from `from` in the key's direction; negative: it lies elsewhere.
float way(Key key, const Rect& from, const Rect& to) {
    const auto apart = [](float a, float a_end, float b, float b_end) {
        return std::max({0.0F, b - a_end, a - b_end});
    };
    const float dx = to.x + to.w / 2 - from.x - from.w / 2;
    const float dy = to.y + to.h / 2 - from.y - from.h / 2;
    const float aside_x = apart(from.x, from.right(), to.x, to.right());
    const float aside_y = apart(from.y, from.bottom(), to.y, to.bottom());
    const bool across = key == Key::left || key == Key::right;
    const float along = across ? dx : dy;
    const float ahead = key == Key::left || key == Key::up ? -along : along;
    const float aside = across ? aside_y : aside_x;
    if (ahead < 1 || (aside > 0 && (across ? aside_x : aside_y) <= 0)) return -1;
    return ahead + (aside > 0 ? aside_from + 2 * aside : 0) + std::abs(across ? dy : dx) / 16;
}

}  // namespace

/// Moves the keyboard to the nearest thing in a direction, over the screen as it is seen. Inside
/// one scroll area what is out of sight counts, too: it comes into sight.
void App::Inside::arrow(Key key) {
    std::uint32_t dialog = 0;
    for (const Node& n : nodes) {
        if (n.role == Role::dialog) dialog = n.id;
    }
    std::map<std::uint32_t, std::uint32_t> scroller_of;
    for (const Ui::Extent& e : extents)
        scroller_of.emplace(e.id, e.scroller);
    const auto scroller = [&](std::uint32_t id) {
        const auto it = scroller_of.find(id);
        return it == scroller_of.end() ? 0 : it->second;
    };
    const auto at = std::find_if(nodes.begin(), nodes.end(),
                                 [&](const Node& n) { return focused != 0 && n.id == focused; });
    const bool from_nowhere = at == nodes.end() || !takes_keyboard(*at);
    std::uint32_t best = 0;
    float least = 0;
    for (const Node& n : nodes) {
        if (!takes_keyboard(n) || n.id == focused) continue;
        if (dialog != 0 && !lies_in(nodes, n, dialog)) continue;
        float far = 0;
        if (!from_nowhere) {
            const bool together = scroller(n.id) == scroller(at->id);
            const bool unseen = n.rect.empty();
            const Rect from = together || at->rect.empty() ? at->full : at->rect;
            far = way(key, from, together || unseen ? n.full : n.rect);
            if (!together && scroller(at->id) != 0 && far >= 0) far += outside_from;
            if (!together && unseen && far >= 0) far += unseen_from;
        }
        if (far < 0 || (best != 0 && far >= least)) continue;
        best = n.id;
        least = far;
    }
    if (best != 0) effects.emplace_back(Focus{best});
}

void App::Inside::mark_by_key(Key key, const Now& now) {
    if (!view.single_keys || view.overlay != Overlay::none || view.screen != Screen::walk) return;
    const Action action = key_action(scene(now), painted, focused, key);
    if (!action) return;
    run(action, now);
}

namespace {

/// Escape: closes what lies over the screen, or gives up what was begun.
void step_back(Act& act) {
    if (act.view.overlay != Overlay::none) return close_overlay(act);
    if (act.view.screen == Screen::board) return leave_board(act);
    act.view.picked = {};
    act.view.cell_group = 0;
    act.view.toast.clear();
}

}  // namespace

void App::key(Key key, const Now& now) {
    switch (key) {
        case Key::escape:
            return in_->run(step_back, now);
        case Key::undo:
            return in_->run([](Act& act) { act.send(session::Undo{}, Reply::plain); }, now);
        case Key::up:
        case Key::down:
        case Key::left:
        case Key::right:
            return in_->arrow(key);
        case Key::secure:
        case Key::shaky:
        case Key::stuck:
        case Key::flag:
            return in_->mark_by_key(key, now);
        case Key::keys:
            if (!in_->view.single_keys || in_->view.screen == Screen::board) return;
            return in_->run(open_overlay(Overlay::keys), now);
        case Key::tab:
        case Key::enter:
            return;
    }
}

void App::activate(std::uint32_t node, const Now& now) {
    const auto& all = in_->painted.targets;
    const auto it =
        std::find_if(all.rbegin(), all.rend(), [&](const Target& t) { return t.id == node; });
    if (it == all.rend()) return;
    const Action action = it->tap;
    in_->run(action, now);
}

void App::edit(std::uint32_t node, std::string_view text, const Now& now) {
    for (const auto& h : in_->text_handlers) {
        if (h.id != node || !h.edit) continue;
        const TextAction edit = h.edit;
        in_->run([&](Act& act) { edit(act, std::string(text)); }, now);
        for (Node& n : in_->sent_nodes) {
            if (n.id == node) n.value = std::string(text);
        }
        return;
    }
}

void App::edit_done(std::uint32_t node, const Now& now) {
    const auto value = std::find_if(in_->sent_nodes.begin(), in_->sent_nodes.end(),
                                    [&](const Node& n) { return n.id == node; });
    for (const auto& h : in_->text_handlers) {
        if (h.id != node || !h.done || value == in_->sent_nodes.end()) continue;
        const TextAction done = h.done;
        const std::string text = value->value;
        in_->run([&](Act& act) { done(act, text); }, now);
        return;
    }
}

void App::Inside::keep_in_place(const std::vector<Ui::Extent>& drawn) {
    const std::uint32_t id = std::exchange(view.stays, 0);
    if (id == 0) return;
    const auto place = [id](const std::vector<Ui::Extent>& in) {
        return std::find_if(in.begin(), in.end(), [id](const Ui::Extent& e) { return e.id == id; });
    };
    const auto was = place(extents);
    const auto is = place(drawn);
    if (was == extents.end() || is == drawn.end() || was->start == is->start) return;
    fingers.set_offset(is->scroller, fingers.offset(is->scroller) + is->start - was->start);
    dirty = true;
}

void App::focus(std::uint32_t node) {
    in_->focused = node;
    in_->dirty = true;
    for (const Ui::Extent& e : in_->extents) {
        if (e.id != node) continue;
        for (const Scroller& s : in_->painted.scrollers) {
            if (s.id != e.scroller) continue;
            const float low = s.horizontal ? s.rect.x : s.rect.y;
            const float high = s.horizontal ? s.rect.right() : s.rect.bottom();
            float at = in_->fingers.offset(s.id);
            if (e.end > high - pad) at += e.end - (high - pad);
            if (e.start < low + pad) at -= low + pad - e.start;
            in_->fingers.set_offset(s.id, at);
        }
        in_->fingers.settle(in_->painted);
    }
}

}  // namespace tallyround::ui
