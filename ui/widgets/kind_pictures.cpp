#include <cmath>

#include "ui/widgets/icons.h"
#include "ui/widgets/strokes.h"

namespace tallyround::ui {

namespace {

void draw_paper_kind(const Strokes& s, std::string_view kind) {
    if (kind == "cards") {
        s.box(4, 8, 11, 13);
        s.line({{8, 8}, {8, 3}, {20, 3}, {20, 17}, {15, 17}});
        s.line({{7, 13}, {12, 13}});
    } else if (kind == "match") {
        s.box(3, 4, 8, 6);
        s.box(13, 14, 8, 6);
        s.line({{7, 10}, {7, 17}, {13, 17}});
        s.dot(17, 7, 3);
    } else if (kind == "error") {
        s.circle(10, 10, 6.5F);
        s.line({{15, 15}, {21, 21}});
        s.line({{7.5F, 7.5F}, {12.5F, 12.5F}});
        s.line({{12.5F, 7.5F}, {7.5F, 12.5F}});
    } else if (kind == "words") {
        s.line({{3, 4}, {21, 4}, {21, 16}, {11, 16}, {6, 21}, {6, 16}, {3, 16}}, true);
        s.line({{7, 8}, {17, 8}});
        s.line({{7, 12}, {13, 12}});
    }
}

void draw_thing_kind(const Strokes& s, std::string_view kind) {
    if (kind == "teacher") {
        s.box(8, 3, 13, 11);
        s.circle(5, 10, 2.5F);
        s.line({{2, 21}, {2, 16}, {8, 16}, {8, 21}});
        s.line({{8, 16}, {13, 9}});
    } else if (kind == "game") {
        s.box(4, 4, 16, 16, 4);
        s.dot(8.5F, 8.5F, 1.6F);
        s.dot(12, 12, 1.6F);
        s.dot(15.5F, 15.5F, 1.6F);
    } else if (kind == "build") {
        s.box(3, 13, 9, 8, 0);
        s.box(12, 13, 9, 8, 0);
        s.box(7.5F, 4, 9, 9, 0);
    } else if (kind == "device") {
        s.box(5, 3, 14, 18);
        s.dot(12, 18, 1.2F);
        s.line({{9, 9}, {15, 9}});
    }
}

}  // namespace

void draw_kind(Ui& ui, std::string_view kind, const Rect& box, ImU32 color, float thickness) {
    const Strokes strokes(ui.list(), box, color, thickness);
    draw_paper_kind(strokes, kind);
    draw_thing_kind(strokes, kind);
}

}  // namespace tallyround::ui
