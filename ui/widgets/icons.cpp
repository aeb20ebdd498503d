#include "ui/widgets/icons.h"

#include <algorithm>
#include <cmath>

#include "ui/widgets/strokes.h"

namespace tallyround::ui {

namespace {

constexpr float pi = 3.14159265F;

void draw_sign(const Strokes& s, Icon icon) {
    switch (icon) {
        case Icon::back:
            s.line({{15, 5}, {8, 12}, {15, 19}});
            break;
        case Icon::forward:
            s.line({{9, 5}, {16, 12}, {9, 19}});
            break;
        case Icon::down:
            s.line({{5, 9}, {12, 16}, {19, 9}});
            break;
        case Icon::plus:
            s.line({{12, 5}, {12, 19}});
            s.line({{5, 12}, {19, 12}});
            break;
        case Icon::minus:
            s.line({{5, 12}, {19, 12}});
            break;
        case Icon::close:
            s.line({{6, 6}, {18, 18}});
            s.line({{18, 6}, {6, 18}});
            break;
        case Icon::check:
            s.line({{5, 13}, {10, 18}, {19, 7}});
            break;
        case Icon::pause:
            s.line({{9, 6}, {9, 18}});
            s.line({{15, 6}, {15, 18}});
            break;
        case Icon::play:
            s.triangle({8, 5}, {19, 12}, {8, 19});
            break;
        case Icon::undo:
            s.arc(13, 13, 6, -pi * 0.75F, pi * 0.6F);
            s.line({{8, 4}, {8, 9}, {13, 9}});
            break;
        case Icon::lock:
        case Icon::unlock:
            s.box(5, 11, 14, 9);
            // Shut, the bow stands over the box; open, it has swung to the side.
            s.arc(icon == Icon::lock ? 12.0F : 17.0F, 8, 4, pi, 2 * pi);
            s.line(
                {{icon == Icon::lock ? 8.0F : 13.0F, 8}, {icon == Icon::lock ? 8.0F : 13.0F, 11}});
            if (icon == Icon::lock) s.line({{16, 8}, {16, 11}});
            break;
        case Icon::swap:
            s.line({{4, 9}, {19, 9}, {15, 5}});
            s.line({{20, 15}, {5, 15}, {9, 19}});
            break;
        case Icon::shuffle:
            s.line({{4, 7}, {8, 7}, {15, 17}, {20, 17}});
            s.line({{4, 17}, {8, 17}, {15, 7}, {20, 7}});
            s.line({{17, 4}, {20, 7}, {17, 10}});
            s.line({{17, 14}, {20, 17}, {17, 20}});
            break;
        case Icon::more:
            for (const float x : {6.0F, 12.0F, 18.0F})
                s.dot(x, 12, 1.8F);
            break;
        default:
            break;
    }
}

void draw_thing(const Strokes& s, Icon icon) {
    switch (icon) {
        case Icon::people:
            s.circle(9, 8, 3.4F);
            s.arc(9, 20, 6, pi, 2 * pi);
            s.arc(16.5F, 8, 2.8F, -pi * 0.6F, pi * 0.6F);
            s.arc(15, 20, 6, -pi * 0.42F, 0);
            break;
        case Icon::aim:
            s.line({{5, 21}, {5, 4}, {18, 8}, {5, 12}});
            break;
        case Icon::place:
            s.box(3, 8, 18, 5);
            s.line({{6, 13}, {6, 20}});
            s.line({{18, 13}, {18, 20}});
            break;
        case Icon::clock:
            s.circle(12, 12, 8.5F);
            s.line({{12, 7}, {12, 12}, {16, 14}});
            break;
        case Icon::groups:
            for (const float x : {8.0F, 16.0F}) {
                for (const float y : {8.0F, 16.0F})
                    s.circle(x, y, 2.8F);
            }
            break;
        case Icon::grid:
            s.box(4, 4, 16, 16);
            s.line({{4, 9.3F}, {20, 9.3F}});
            s.line({{4, 14.6F}, {20, 14.6F}});
            s.line({{10, 4}, {10, 20}});
            break;
        case Icon::walk:
            s.dot(13, 4.5F, 2);
            s.line({{7, 12}, {12, 8.5F}, {14, 13}, {11, 16}, {9, 21}});
            s.line({{13.5F, 13.5F}, {16, 16}, {16, 21}});
            s.line({{13, 10}, {18, 12}});
            break;
        case Icon::chart:
            s.line({{4, 20}, {20, 20}});
            s.line({{7, 20}, {7, 13}});
            s.line({{12, 20}, {12, 8}});
            s.line({{17, 20}, {17, 4}});
            break;
        default:
            break;
    }
}

void draw_tool(const Strokes& s, Icon icon) {
    switch (icon) {
        case Icon::gear:
            s.line({{4, 7}, {20, 7}});
            s.line({{4, 12}, {20, 12}});
            s.line({{4, 17}, {20, 17}});
            s.dot(9, 7, 2.4F);
            s.dot(15, 12, 2.4F);
            s.dot(8, 17, 2.4F);
            break;
        case Icon::flag:
            s.line({{8, 21}, {8, 11}});
            s.line({{8, 13}, {8, 5}});
            s.line({{11, 12}, {11, 3}});
            s.line({{14, 12}, {14, 4}});
            s.line({{17, 13}, {17, 7}});
            s.line({{8, 11}, {5, 13}, {9, 20}, {15, 20}, {17, 16}, {17, 12}});
            break;
        case Icon::file:
            s.line({{6, 3}, {14, 3}, {19, 8}, {19, 21}, {6, 21}}, true);
            s.line({{14, 3}, {14, 8}, {19, 8}});
            break;
        case Icon::print:
            s.box(4, 9, 16, 8);
            s.line({{7, 9}, {7, 4}, {17, 4}, {17, 9}});
            s.box(7, 14, 10, 7, 1);
            break;
        case Icon::pen:
            s.line({{5, 19}, {6, 14}, {16, 4}, {20, 8}, {10, 18}}, true);
            break;
        case Icon::trash:
            s.line({{4, 7}, {20, 7}});
            s.line({{6, 7}, {7, 20}, {17, 20}, {18, 7}});
            s.line({{9, 7}, {9, 4}, {15, 4}, {15, 7}});
            break;
        case Icon::home:
            s.line({{4, 11}, {12, 4}, {20, 11}, {20, 20}, {4, 20}}, true);
            break;
        default:
            break;
    }
}

}  // namespace

void draw_icon(Ui& ui, Icon icon, const Rect& box, ImU32 color, float thickness) {
    const Strokes strokes(ui.list(), box, color, thickness);
    draw_sign(strokes, icon);
    draw_thing(strokes, icon);
    draw_tool(strokes, icon);
}

void draw_level(Ui& ui, model::Level level, const Rect& box, ImU32 color) {
    const float side = std::min(box.w, box.h);
    const float cx = box.x + box.w / 2;
    const float cy = box.y + box.h / 2;
    const float h = side * 0.46F;
    const float w = side * 0.36F;
    const ImVec2 top{cx, cy - h};
    const ImVec2 right{cx + w, cy};
    const ImVec2 bottom{cx, cy + h};
    const ImVec2 left{cx - w, cy};
    ImDrawList& list = ui.list();
    const float stroke = std::max(1.5F, side * 0.09F);
    if (level == model::Level::secure) {
        list.AddQuadFilled(top, right, bottom, left, color);
    } else if (level == model::Level::shaky) {
        list.AddTriangleFilled(right, bottom, left, color);
        list.AddQuad(top, right, bottom, left, color, stroke);
    } else {
        list.AddQuad(top, right, bottom, left, color, stroke);
        list.AddLine({cx - w * 1.15F, cy}, {cx + w * 1.15F, cy}, color, stroke * 1.3F);
    }
}

ImU32 level_color(const Theme& theme, model::Level level) {
    switch (level) {
        case model::Level::secure:
            return theme.secure;
        case model::Level::shaky:
            return theme.shaky;
        case model::Level::stuck:
            return theme.stuck;
    }
    return theme.line;
}

}  // namespace tallyround::ui
