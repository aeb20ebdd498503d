#pragma once
#include <cstdint>
#include <functional>
#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "ui/input.h"
#include "ui/mirror/node.h"
#include "ui/theme/theme.h"
#include "ui/widgets/type.h"

namespace tallyround::ui {

/// The pen that paints one frame. Screens cut rectangles and put things into them; each thing that
/// can be read or touched becomes, in the same call, pixels, a node of the mirror and a target.
class Ui {
  public:
    /// Heights that content turned out to have, for the next frame to lay out by.
    using Memory = std::map<std::uint32_t, float>;

    Ui(ImDrawList* list, Type& type, const Theme& theme, const Surface& surface,
       const Fingers& fingers, Memory& memory, std::uint32_t focused, float text_scale);

    // What to draw with ------------------------------------------------------------------------
    const Theme& theme;
    const Surface& surface;
    float text_scale = 1;
    ImDrawList& list() { return *list_; }
    Type& type() { return type_; }
    /// Points at this text scale (for heights that hold text).
    float scaled(float points) const { return points * text_scale; }
    Style style(float size, ImU32 color, bool bold = false, Align align = Align::left) const {
        return {size * text_scale, color, bold, align};
    }
    Style body() const { return style(body_size, theme.ink); }
    Style soft() const { return style(small_size, theme.ink_soft); }
    /// What was remembered under this id, or `guess`.
    float remembered(std::uint32_t id, float guess) const;
    /// Remembers it; asks for another frame if it is news.
    void remember(std::uint32_t id, float height);
    bool wants_another_frame() const { return news_; }
    /// Wide enough for the steps at the side.
    bool wide() const { return surface.width >= 900; }

    // Ids --------------------------------------------------------------------------------------
    /// Stable from frame to frame: a hash of the words (FNV-1a), never 0.
    static std::uint32_t id(std::initializer_list<std::string_view> words);

    // Nodes ------------------------------------------------------------------------------------
    /// Opens a node that holds the following ones; `close` it.
    void open(Role role, std::uint32_t id, std::string_view label, const Rect& rect);
    void close();
    /// Goes on inside a node that was closed before.
    void reopen(std::uint32_t id) { parents_.push_back(id); }
    /// A node without children; clipped to what is visible.
    Node& node(Role role, std::uint32_t id, std::string_view label, const Rect& rect);
    /// Lets a finger reach the node: `tap` runs on lift, `hold` after half a second.
    void target(std::uint32_t id, const Rect& rect, Action tap, Action hold = {});
    /// The target just put down can be held and carried about; `name` is shown at the finger.
    /// `still`: the page stays where it is meanwhile, and nothing is shown at the finger.
    void carry(std::string what, std::string name, bool still = false);
    /// What a finger carries, or nothing.
    const Carried* carried() const { return fingers_.carried(); }
    /// The target just put down takes what is carried.
    void take_drops(TextAction drop);
    /// A place that takes what is carried and nothing else.
    void drop_zone(std::uint32_t id, const Rect& rect, TextAction drop);
    /// Something is carried over this target or place.
    bool dropping_on(std::uint32_t id) const;
    /// What a finger carries, drawn where the finger is.
    void draw_carried();
    /// Swallows taps on a surface without being anything.
    void block(const Rect& rect, Action tap = {});
    /// Everything painted so far can be neither touched nor typed in.
    void cover();
    void on_text(std::uint32_t id, TextAction edit, TextAction done);

    bool pressed(std::uint32_t id) const { return fingers_.pressed(id); }
    bool focused(std::uint32_t id) const { return focused_ == id; }

    // Text -------------------------------------------------------------------------------------
    /// A heading: drawn and in the mirror. Returns its height.
    float heading(int level, std::string_view text, const Rect& box, const Style& style);
    /// A paragraph: drawn and in the mirror. Returns its height.
    float paragraph(std::string_view text, const Rect& box, const Style& style,
                    Role role = Role::text);
    /// One line in the mirror too.
    void text_line(std::string_view text, const Rect& box, const Style& style,
                   Role role = Role::text);

    // Clipping and scrolling -------------------------------------------------------------------
    void push_clip(const Rect& rect);
    void pop_clip();
    const Rect& clip() const { return clips_.back(); }
    bool visible(const Rect& rect) const { return !intersect(rect, clip()).empty(); }
    /// Opens a scroll area; content starts at the returned y (or x), moved by the offset.
    float begin_scroll(std::uint32_t id, const Rect& rect, bool horizontal = false);
    /// `end`: where the content ends, in the same moving coordinates. Returns how long it is.
    float end_scroll(float end);

    // Shapes -----------------------------------------------------------------------------------
    void fill(const Rect& r, ImU32 color, float rounding = corner);
    void outline(const Rect& r, ImU32 color, float rounding = corner, float thickness = 1);
    /// A raised surface in the theme's way.
    void card(const Rect& r, ImU32 color = 0);
    void focus_ring(const Rect& r, float rounding = corner);

    /// Drawn when the screen is done, over all of it.
    std::vector<std::function<void(Ui&)>> on_top;
    /// Height of a bar that the screen keeps at its bottom; messages stay above it.
    float bottom_bar = 0;
    /// Where the screen keeps a place for messages, so that they never lie over anything.
    Rect message_place;
    /// The dialog that lies over the screen, 0 if none.
    std::uint32_t dialog = 0;

    // What came of it --------------------------------------------------------------------------
    struct TextHandlers {
        std::uint32_t id;
        TextAction edit;
        TextAction done;
    };
    std::vector<Node> nodes;
    Painted painted;
    std::vector<TextHandlers> text_handlers;
    /// Bounds of every focusable node including what is scrolled out of sight, for focus.
    struct Extent {
        std::uint32_t id;
        std::uint32_t scroller;
        float start;
        float end;
    };
    std::vector<Extent> extents;

  private:
    /// The wished id, or one derived from it if a text of this frame has it already.
    std::uint32_t unused(std::uint32_t wish);

    std::unordered_set<std::uint32_t> texts_;
    ImDrawList* list_;
    Type& type_;
    const Fingers& fingers_;
    Memory& memory_;
    bool news_ = false;
    std::uint32_t focused_;
    std::vector<Rect> clips_;
    std::vector<std::uint32_t> parents_;
    struct OpenScroll {
        std::uint32_t id;
        Rect rect;
        float start;
        bool horizontal;
    };
    std::vector<OpenScroll> scrolls_;
};

// Cutting rectangles -----------------------------------------------------------------------------
Rect inset(const Rect& r, float all);
Rect inset(const Rect& r, float x, float y);
Rect cut_top(Rect& from, float h);
Rect cut_bottom(Rect& from, float h);
Rect cut_left(Rect& from, float w);
Rect cut_right(Rect& from, float w);

/// Rows from top to bottom in a column of fixed width.
struct Column {
    float x = 0;
    float y = 0;
    float w = 0;

    Rect row(float h, float space = gap) {
        const Rect r{x, y, w, h};
        y += h + space;
        return r;
    }
    void skip(float h) { y += h; }
};

/// `count` equal columns of a row with `space` between them.
Rect cell(const Rect& row, int index, int count, float space = gap);

}  // namespace tallyround::ui
