#pragma once
#include <imgui.h>

#include <string>
#include <string_view>
#include <vector>

#include "ui/app.h"
#include "ui/mirror/node.h"

namespace tallyround::ui {

enum class Align { left, center, right };

/// Letters are never set smaller than this to make them fit, in points.
inline constexpr float least_letters = 12;

/// How a string is set. `size` is the em in logical points (as in CSS), text scale already applied.
struct Style {
    float size = 17;
    ImU32 color = 0;
    bool bold = false;
    Align align = Align::left;
};

/// Sets text: the bundled fonts where they have every letter, otherwise pictures from the device's
/// own fonts, a whole run at a time so that scripts are shaped and ordered right.
class Type {
  public:
    Type(const Fonts& fonts, TextPainter* painter);

    void begin(ImDrawList* list, float scale);

    float width(std::string_view text, const Style& style);
    float line_height(const Style& style) const { return style.size * 1.36F; }
    /// One line, vertically centred in `box`. What is too long for it is broken into lines where
    /// the box has room for them, and set in smaller letters; only then it is cut with "…".
    void line(const Rect& box, std::string_view text, const Style& style);
    /// Broken into lines at spaces (and inside a word wider than the line); "\n" breaks too.
    /// Returns the height; draws nothing if `draw` is false.
    float paragraph(const Rect& box, std::string_view text, const Style& style, bool draw = true);
    /// The style with smaller letters, if `text` needs them to stand whole in `box` (in lines that
    /// are broken at spaces only), but none smaller than `least` points.
    Style fitting(const Rect& box, std::string_view text, Style style, float least = least_letters);

    /// Lines of this frame that were cut, or stand in a box lower than their letters.
    const std::vector<std::string>& cut() const { return cut_; }

  private:
    struct Run {
        std::string_view text;
        float width = 0;
        bool foreign = false;  ///< drawn as a picture
        bool space_before = false;
    };
    /// ImGui sizes a font by ascent plus descent, which this family's letters fill less than most:
    /// 1.64 em (hhea ascender and descender of the bundled font).
    static float full(const Style& style) { return style.size * 1.64F; }
    ImFont* font(const Style& style) const { return style.bold ? bold_ : regular_; }
    bool covered(std::string_view text, const Style& style) const;
    float run_width(std::string_view text, const Style& style, bool foreign);
    void draw_run(float x, float y, std::string_view text, const Style& style, bool foreign);
    std::vector<Run> runs(std::string_view text, const Style& style);
    /// Splits every run that is wider than `room`: at its spaces, or between letters.
    void split_wide(std::vector<Run>& runs, const Style& style, float room);
    /// Does it stand in the box on one line, or broken at spaces?
    bool stands_in(const Rect& box, std::string_view text, const Style& style);
    /// Bytes of `text` that fit into `room`, at least one letter.
    std::size_t fits(std::string_view text, const Style& style, bool foreign, float room);
    std::string shorten(std::string_view text, const Style& style, float width);

    ImFont* regular_ = nullptr;
    ImFont* bold_ = nullptr;
    TextPainter* painter_ = nullptr;
    ImDrawList* list_ = nullptr;
    float scale_ = 1;
    std::vector<std::string> cut_;
};

}  // namespace tallyround::ui
