#include "ui/mirror/mirror.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <unordered_map>

namespace tallyround::ui {

Rect intersect(const Rect& a, const Rect& b) {
    const float x = std::max(a.x, b.x);
    const float y = std::max(a.y, b.y);
    const float w = std::min(a.right(), b.right()) - x;
    const float h = std::min(a.bottom(), b.bottom()) - y;
    return w <= 0 || h <= 0 ? Rect{x, y, 0, 0} : Rect{x, y, w, h};
}

MirrorDiff diff(const std::vector<Node>& before, const std::vector<Node>& after) {
    MirrorDiff out;
    std::unordered_map<std::uint32_t, const Node*> old;
    old.reserve(before.size());
    for (const Node& n : before)
        old.emplace(n.id, &n);
    for (const Node& n : after) {
        const auto it = old.find(n.id);
        if (it == old.end() || !(*it->second == n)) out.changed.push_back(n);
        if (it != old.end()) old.erase(it);
    }
    for (const Node& n : before) {
        if (old.contains(n.id)) out.removed.push_back(n.id);
    }
    const bool same_order = before.size() == after.size() &&
                            std::equal(before.begin(), before.end(), after.begin(),
                                       [](const Node& a, const Node& b) { return a.id == b.id; });
    if (!same_order) {
        for (const Node& n : after)
            out.order.push_back(n.id);
    }
    return out;
}

namespace {

constexpr const char* role_names[] = {
    "main",   "navigation", "banner",        "region",     "dialog", "list",     "list_item",
    "table",  "row",        "column_header", "row_header", "cell",   "heading",  "text",
    "status", "timer",      "image",         "button",     "link",   "checkbox", "radio",
    "tab",    "text_field", "text_area",     "group"};

void put_text(std::string& out, std::string_view text) {
    out += '"';
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (byte < 0x20) {
            char buffer[8];
            std::snprintf(buffer, sizeof buffer, "\\u%04x", byte);
            out += buffer;
        } else {
            out += c;
        }
    }
    out += '"';
}

/// Tenths of a point are fine enough for where an element stands.
void put_number(std::string& out, float value) {
    const long tenths = std::lround(double(value) * 10.0);
    if (tenths < 0) out += '-';
    out += std::to_string(std::labs(tenths) / 10);
    if (tenths % 10 != 0) {
        out += '.';
        out += std::to_string(std::labs(tenths) % 10);
    }
}

void put_rect(std::string& out, const char* name, const Rect& r) {
    out += ",\"";
    out += name;
    out += "\":[";
    put_number(out, r.x);
    out += ',';
    put_number(out, r.y);
    out += ',';
    put_number(out, r.w);
    out += ',';
    put_number(out, r.h);
    out += ']';
}

void put_member(std::string& out, const char* name, const std::string& text) {
    if (text.empty()) return;
    out += ",\"";
    out += name;
    out += "\":";
    put_text(out, text);
}

void put_node(std::string& out, const Node& n) {
    const bool field = n.role == Role::text_field || n.role == Role::text_area;
    out += "{\"id\":" + std::to_string(n.id) + ",\"parent\":" + std::to_string(n.parent) +
           ",\"role\":\"" + role_names[std::size_t(n.role)] + '"';
    put_rect(out, "rect", n.rect);
    put_member(out, "label", n.label);
    put_member(out, "value", n.value);
    if (n.level != 0) out += ",\"level\":" + std::to_string(n.level);
    if (n.disabled) out += ",\"disabled\":true";
    if (n.checked) out += ",\"checked\":true";
    if (n.has_popup) out += ",\"has_popup\":true";
    if (n.expanded) out += ",\"expanded\":true";
    if (n.focusable) out += ",\"focusable\":true";
    if (field) {
        put_rect(out, "full", n.full);
        put_member(out, "hint", n.hint);
        put_member(out, "keyboard", n.keyboard);
        out += ",\"font_size\":";
        put_number(out, n.font_size);
    }
    out += '}';
}

void put_ids(std::string& out, const std::vector<std::uint32_t>& ids) {
    out += '[';
    for (std::size_t i = 0; i < ids.size(); ++i) {
        if (i > 0) out += ',';
        out += std::to_string(ids[i]);
    }
    out += ']';
}

}  // namespace

std::string to_json(const MirrorDiff& diff) {
    std::string out = "{\"set\":[";
    for (std::size_t i = 0; i < diff.changed.size(); ++i) {
        if (i > 0) out += ',';
        put_node(out, diff.changed[i]);
    }
    out += "],\"gone\":";
    put_ids(out, diff.removed);
    out += ",\"order\":";
    put_ids(out, diff.order);
    out += '}';
    return out;
}

}  // namespace tallyround::ui
