#include "ui/widgets/ui.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace tallyround::ui {

Ui::Ui(ImDrawList* list, Type& type, const Theme& theme_, const Surface& surface_,
       const Fingers& fingers, Memory& memory, std::uint32_t focused, float text_scale_)
    : theme(theme_),
      surface(surface_),
      text_scale(text_scale_),
      list_(list),
      type_(type),
      fingers_(fingers),
      memory_(memory),
      focused_(focused) {
    type_.begin(list, surface.scale);
    clips_.push_back({0, 0, surface.width, surface.height});
    parents_.push_back(0);
}

std::uint32_t Ui::id(std::initializer_list<std::string_view> words) {
    std::uint32_t hash = 2166136261U;
    for (const std::string_view word : words) {
        for (const char c : word)
            hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
        hash = (hash ^ 0xFFU) * 16777619U;
    }
    return hash == 0 ? 1 : hash;
}

float Ui::remembered(std::uint32_t id, float guess) const {
    const auto it = memory_.find(id);
    return it == memory_.end() ? guess : it->second;
}

void Ui::remember(std::uint32_t id, float height) {
    const auto [it, fresh] = memory_.try_emplace(id, height);
    // Where it is measured from moves with the height itself, and rounds differently each time.
    constexpr float rounding = 0.25F;
    if (!fresh && std::abs(it->second - height) < rounding) return;
    news_ = true;
    it->second = height;
}

std::uint32_t Ui::unused(std::uint32_t wish) {
    while (wish == 0 || !texts_.insert(wish).second)
        wish = wish * 16777619U + 1;
    return wish;
}

void Ui::open(Role role, std::uint32_t id, std::string_view label, const Rect& rect) {
    node(role, id, label, rect);
    parents_.push_back(id);
}

void Ui::close() {
    assert(parents_.size() > 1);
    parents_.pop_back();
}

Node& Ui::node(Role role, std::uint32_t id, std::string_view label, const Rect& rect) {
    Node n;
    n.id = id;
    n.parent = parents_.back();
    n.role = role;
    n.label = std::string(label);
    n.full = rect;
    n.rect = intersect(rect, clip());
    nodes.push_back(std::move(n));
    return nodes.back();
}

void Ui::target(std::uint32_t id, const Rect& rect, Action tap, Action hold) {
    if (!nodes.empty() && nodes.back().id == id) nodes.back().focusable = true;
    Target t;
    t.id = id;
    t.rect = intersect(rect, clip());
    t.scroller = scrolls_.empty() ? 0 : scrolls_.back().id;
    t.tap = std::move(tap);
    t.hold = std::move(hold);
    if (!scrolls_.empty()) {
        const bool across = scrolls_.back().horizontal;
        extents.push_back(
            {id, t.scroller, across ? rect.x : rect.y, across ? rect.right() : rect.bottom()});
    }
    painted.targets.push_back(std::move(t));
}

void Ui::carry(std::string what, std::string name, bool still) {
    painted.targets.back().still = still;
    painted.targets.back().carries = std::move(what);
    painted.targets.back().carried_name = std::move(name);
}

void Ui::take_drops(TextAction drop) {
    painted.targets.back().drop = std::move(drop);
}

void Ui::drop_zone(std::uint32_t id, const Rect& rect, TextAction drop) {
    block(rect);
    painted.targets.back().id = id;
    take_drops(std::move(drop));
}

bool Ui::dropping_on(std::uint32_t id) const {
    const Carried* c = fingers_.carried();
    return c != nullptr && c->over == id;
}

void Ui::draw_carried() {
    const Carried* c = fingers_.carried();
    if (c == nullptr || c->name.empty()) return;
    const Style style = this->style(body_size, theme.on_accent, true, Align::center);
    const float w = std::min(surface.width - 2 * pad, type_.width(c->name, style) + 2 * pad);
    const float h = std::max(touch, scaled(44));
    // Above the finger, so that it can be read.
    const Rect r{std::clamp(c->x - w / 2, gap, std::max(gap, surface.width - w - gap)),
                 std::max(gap, c->y - h - 20), w, h};
    fill(r, theme.accent, h / 2);
    outline(r, theme.on_accent, h / 2, 2);
    type_.line(inset(r, gap, 0), c->name, style);
}

void Ui::block(const Rect& rect, Action tap) {
    Target t;
    t.rect = intersect(rect, clip());
    t.scroller = scrolls_.empty() ? 0 : scrolls_.back().id;
    t.tap = std::move(tap);
    t.passive = true;
    painted.targets.push_back(std::move(t));
}

void Ui::cover() {
    painted.targets.clear();
    painted.scrollers.clear();
    extents.clear();
    for (Node& n : nodes) {
        if (n.role == Role::text_field || n.role == Role::text_area) n.rect.w = n.rect.h = 0;
    }
    list_->AddRectFilled({0, 0}, {surface.width, surface.height}, theme.shade);
}

void Ui::on_text(std::uint32_t id, TextAction edit, TextAction done) {
    text_handlers.push_back({id, std::move(edit), std::move(done)});
}

float Ui::heading(int level, std::string_view text, const Rect& box, const Style& style) {
    const float h = type_.paragraph(box, text, style);
    Node& n = node(Role::heading, unused(id({"heading", text})), text, {box.x, box.y, box.w, h});
    n.level = static_cast<std::uint8_t>(level);
    return h;
}

float Ui::paragraph(std::string_view text, const Rect& box, const Style& style, Role role) {
    const float h = type_.paragraph(box, text, style, true);
    node(role, unused(id({"text", text})), text, {box.x, box.y, box.w, h});
    return h;
}

void Ui::text_line(std::string_view text, const Rect& box, const Style& style, Role role) {
    type_.line(box, text, style);
    node(role, unused(id({"line", text})), text, box);
}

void Ui::push_clip(const Rect& rect) {
    clips_.push_back(intersect(rect, clip()));
    const Rect& c = clip();
    list_->PushClipRect({c.x, c.y}, {c.right(), c.bottom()}, false);
}

void Ui::pop_clip() {
    list_->PopClipRect();
    clips_.pop_back();
}

float Ui::begin_scroll(std::uint32_t id, const Rect& rect, bool horizontal) {
    push_clip(rect);
    const float start = (horizontal ? rect.x : rect.y) - fingers_.offset(id);
    scrolls_.push_back({id, rect, start, horizontal});
    // The scroller is known before its content, so that content can name it.
    painted.scrollers.push_back({id, clip(), 0, horizontal});
    return start;
}

float Ui::end_scroll(float end) {
    const OpenScroll s = scrolls_.back();
    scrolls_.pop_back();
    const float content = end - s.start;
    for (Scroller& known : painted.scrollers) {
        if (known.id == s.id) known.content = content;
    }
    const float view = s.horizontal ? s.rect.w : s.rect.h;
    if (content > view + 1 && !s.horizontal) {
        const float bar = std::max(28.0F, view * view / content);
        const float at = fingers_.offset(s.id) / (content - view) * (view - bar);
        fill({s.rect.right() - 5, s.rect.y + std::clamp(at, 0.0F, view - bar), 3, bar},
             fade(theme.ink_soft, 0.45F), 2);
    }
    pop_clip();
    return content;
}

void Ui::fill(const Rect& r, ImU32 color, float rounding) {
    list_->AddRectFilled({r.x, r.y}, {r.right(), r.bottom()}, color, rounding);
}

void Ui::outline(const Rect& r, ImU32 color, float rounding, float thickness) {
    list_->AddRect({r.x, r.y}, {r.right(), r.bottom()}, color, rounding, 0, thickness);
}

void Ui::card(const Rect& r, ImU32 color) {
    fill(r, color == 0 ? theme.card : color);
    outline(r, theme.outlines ? theme.line : fade(theme.line, 0.35F), corner,
            theme.outlines ? 2.0F : 1.0F);
}

void Ui::focus_ring(const Rect& r, float rounding) {
    outline({r.x - 3, r.y - 3, r.w + 6, r.h + 6}, theme.focus, rounding + 3, 3);
}

Rect inset(const Rect& r, float all) {
    return inset(r, all, all);
}

Rect inset(const Rect& r, float x, float y) {
    return {r.x + x, r.y + y, std::max(0.0F, r.w - 2 * x), std::max(0.0F, r.h - 2 * y)};
}

Rect cut_top(Rect& from, float h) {
    const Rect r{from.x, from.y, from.w, std::min(h, from.h)};
    from.y += r.h;
    from.h -= r.h;
    return r;
}

Rect cut_bottom(Rect& from, float h) {
    const float taken = std::min(h, from.h);
    from.h -= taken;
    return {from.x, from.bottom(), from.w, taken};
}

Rect cut_left(Rect& from, float w) {
    const Rect r{from.x, from.y, std::min(w, from.w), from.h};
    from.x += r.w;
    from.w -= r.w;
    return r;
}

Rect cut_right(Rect& from, float w) {
    const float taken = std::min(w, from.w);
    from.w -= taken;
    return {from.right(), from.y, taken, from.h};
}

Rect cell(const Rect& row, int index, int count, float space) {
    const float w = (row.w - space * float(count - 1)) / float(count);
    return {row.x + (w + space) * float(index), row.y, w, row.h};
}

}  // namespace tallyround::ui
