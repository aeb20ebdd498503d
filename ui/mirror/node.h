#pragma once
#include <cstdint>
#include <string>

namespace tallyround::ui {

/// Logical points, origin at the top left of the canvas.
struct Rect {
    float x = 0;
    float y = 0;
    float w = 0;
    float h = 0;

    float right() const { return x + w; }
    float bottom() const { return y + h; }
    bool contains(float px, float py) const {
        return px >= x && px < right() && py >= y && py < bottom();
    }
    bool empty() const { return w <= 0 || h <= 0; }
    friend bool operator==(const Rect&, const Rect&) = default;
};

Rect intersect(const Rect& a, const Rect& b);

/// WAI-ARIA roles that the mirror makes; the shell maps each to an element.
enum class Role : std::uint8_t {
    main,           // <main>
    navigation,     // <nav>
    banner,         // <header>
    region,         // <section>, named
    dialog,         // role=dialog aria-modal, named
    list,           // role=list
    list_item,      // role=listitem
    table,          // role=table
    row,            // role=row
    column_header,  // role=columnheader
    row_header,     // role=rowheader
    cell,           // role=cell
    heading,        // <h1>..<h3>, level in `level`
    text,           // <p>
    status,         // <p role=status>
    timer,          // <p role=timer>
    image,          // role=img, named
    button,         // <button>
    link,           // <button role=link>
    checkbox,       // <button role=checkbox aria-checked>
    radio,          // <button role=radio aria-checked>
    tab,            // <button aria-current>
    text_field,     // <input type=text>, a real one the person types in
    text_area,      // <textarea>, a real one
    group,          // role=group, named
};

/// One element of the mirror: what a screen reader, a soft keyboard and a test see of the canvas.
struct Node {
    std::uint32_t id = 0;      ///< stable from frame to frame, never 0
    std::uint32_t parent = 0;  ///< 0 = the root
    Role role = Role::text;
    std::uint8_t level = 0;  ///< headings: 1..3
    bool disabled = false;
    bool checked = false;   ///< checkbox, radio, tab (current)
    bool expanded = false;  ///< with has_popup
    bool has_popup = false;
    bool focusable = false;
    Rect rect;  ///< what is visible of it (clipped); empty when scrolled out of sight
    Rect full;  ///< unclipped, for text fields
    std::string label;
    std::string value;  ///< text fields: the text; others: a description
    std::string hint;   ///< text fields: placeholder
    std::string
        keyboard;  ///< text fields: inputmode ("numeric"), "name" (no autocorrect) or "password"
    float font_size = 16;  ///< text fields: logical points

    bool operator==(const Node&) const = default;
};

}  // namespace tallyround::ui
