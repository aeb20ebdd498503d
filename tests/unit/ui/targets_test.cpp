#include <set>

#include "tour.h"
#include "ui/input.h"
#include "ui/theme/theme.h"
#include "ui/view.h"

using namespace tallyround::ui;

namespace {

const Node* node_of(const Hands& h, std::uint32_t id) {
    const auto it =
        std::find_if(h.nodes.begin(), h.nodes.end(), [&](const Node& n) { return n.id == id; });
    return it == h.nodes.end() ? nullptr : &*it;
}

std::string name_of(const Hands& h, const Target& t) {
    const Node* n = node_of(h, t.id);
    return n == nullptr ? "a target without a name" : n->label;
}

const Scroller* scroller_of(const Painted& painted, const Target& t) {
    for (const Scroller& s : painted.scrollers) {
        if (s.id == t.scroller) return &s;
    }
    return nullptr;
}

/// Whole on screen: not cut by the edge of what it scrolls in.
bool whole(const Painted& painted, const Target& t) {
    const Scroller* s = scroller_of(painted, t);
    if (s == nullptr) return true;
    return t.rect.y > s->rect.y + 0.5F && t.rect.bottom() < s->rect.bottom() - 0.5F;
}

bool is_mark(const std::string& name) {
    return name.ends_with(": secure") || name.ends_with(": shaky") || name.ends_with(": stuck");
}

void check_sizes(const Hands& h) {
    const Painted& painted = h.app->painted();
    for (const Target& t : painted.targets) {
        if (t.passive || t.rect.empty() || !whole(painted, t)) continue;
        const std::string name = name_of(h, t);
        INFO(name << ": " << t.rect.w << " x " << t.rect.h);
        // WCAG 2.2, 2.5.8 (AA): at least 24 by 24 CSS pixels.
        CHECK(t.rect.w >= 24);
        CHECK(t.rect.h >= 24);
        // The house's own rule for marks and buttons; a name above its marks does what holding one
        // of them does.
        const Node* n = node_of(h, t.id);
        if (is_mark(name) ||
            (n != nullptr && n->role == Role::button && !name.ends_with(", more"))) {
            CHECK(t.rect.w >= touch - 0.5F);
            CHECK(t.rect.h >= touch - 0.5F);
        }
        CHECK(t.rect.x >= 0);
        CHECK(t.rect.right() <= h.surface.width + 0.5F);
        if (n != nullptr) CHECK(n->rect.w >= n->full.w - 0.5F);
        if (t.scroller == 0) {
            CHECK(t.rect.y >= 0);
            CHECK(t.rect.bottom() <= h.surface.height + 0.5F);
            if (n != nullptr) CHECK(n->rect.h >= n->full.h - 0.5F);
        }
    }
}

void check_apart(const Hands& h) {
    const auto& all = h.app->painted().targets;
    for (std::size_t i = 0; i < all.size(); ++i) {
        for (std::size_t k = i + 1; k < all.size(); ++k) {
            const Target& a = all[i];
            const Target& b = all[k];
            if (a.passive || b.passive || a.id == b.id) continue;
            const Rect both = intersect(a.rect, b.rect);
            const bool overlap = both.w > 0.5F && both.h > 0.5F;
            CHECK_MESSAGE(!overlap, name_of(h, a) << " and " << name_of(h, b) << " overlap by "
                                                  << both.w << " x " << both.h);
            if (!is_mark(name_of(h, a)) || !is_mark(name_of(h, b))) continue;
            const Rect near =
                intersect({a.rect.x - 1.9F, a.rect.y - 1.9F, a.rect.w + 3.8F, a.rect.h + 3.8F},
                          {b.rect.x - 1.9F, b.rect.y - 1.9F, b.rect.w + 3.8F, b.rect.h + 3.8F});
            CHECK_MESSAGE(near.empty(),
                          "no gap between " << name_of(h, a) << " and " << name_of(h, b));
        }
    }
}

/// Everything that takes the keyboard does something, and arrow keys lead to all of it.
void check_keyboard(Hands& h) {
    std::uint32_t dialog = 0;
    for (const Node& n : h.nodes) {
        if (n.role == Role::dialog) dialog = n.id;
    }
    const auto reachable = [&](const Node& n) {
        if (!n.focusable || n.disabled) return false;
        const Node* at = &n;
        while (dialog != 0 && at != nullptr && at->id != dialog)
            at = node_of(h, at->parent);
        return at != nullptr;
    };
    std::vector<std::uint32_t> open;
    std::vector<std::uint32_t> all;
    for (const Node& n : h.nodes) {
        if (!reachable(n)) continue;
        all.push_back(n.id);
        const auto& targets = h.app->painted().targets;
        const bool does = std::any_of(targets.begin(), targets.end(),
                                      [&](const Target& t) { return t.id == n.id && t.tap; });
        CHECK_MESSAGE(does, n.label << " does nothing");
    }
    h.app->take_effects();
    const auto pressed = [&](Key key) {
        h.app->key(key, h.now);
        std::uint32_t to = 0;
        for (const Effect& e : h.app->take_effects()) {
            if (const auto* f = std::get_if<Focus>(&e)) to = f->node;
        }
        return to;
    };
    h.app->focus(0);
    std::set<std::uint32_t> found;
    if (const std::uint32_t first = pressed(Key::down)) {
        found.insert(first);
        open.push_back(first);
    }
    while (!open.empty()) {
        const std::uint32_t at = open.back();
        open.pop_back();
        for (const Key key : {Key::up, Key::down, Key::left, Key::right}) {
            h.app->focus(at);
            // What is out of sight comes into sight before the next key.
            const Node* n = node_of(h, at);
            if (n->rect.w < n->full.w || n->rect.h < n->full.h) h.frame();
            h.app->take_effects();
            const std::uint32_t to = pressed(key);
            if (to != 0 && found.insert(to).second) open.push_back(to);
        }
    }
    for (const std::uint32_t id : all)
        CHECK_MESSAGE(found.contains(id), node_of(h, id)->label << " cannot be reached by arrows");
    h.app->focus(0);
    h.frame();
}

template <class Check>
void everywhere(Check check) {
    for (const auto& [width, height] : tour_sizes) {
        for (const int percent : {100, 200}) {
            Hands h(width, height, percent);
            Tour(h, [&](const std::string& name) {
                INFO(width << " x " << height << " at " << percent << " %: " << name);
                check(h);
            }).walk();
        }
    }
}

}  // namespace

TEST_CASE("targets are large enough, apart from each other, and on screen, everywhere") {
    everywhere([](Hands& h) {
        check_sizes(h);
        check_apart(h);
    });
}

TEST_CASE("everything that can be pressed can be reached by arrow keys, everywhere") {
    everywhere(check_keyboard);
}

TEST_CASE("no line of text is cut, everywhere") {
    everywhere([](Hands& h) {
        for (const std::string& line : h.app->cut_lines())
            CHECK_MESSAGE(false, "cut: " << line);
    });
}
