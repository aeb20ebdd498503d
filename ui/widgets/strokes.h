#pragma once
#include <imgui.h>

#include <algorithm>
#include <initializer_list>
#include <vector>

#include "ui/app.h"

namespace tallyround::ui {

/// Strokes on a 24 x 24 grid, scaled into a box.
class Strokes {
  public:
    Strokes(ImDrawList& list, const Rect& box, ImU32 color, float thickness)
        : list_(list), color_(color), scale_(std::min(box.w, box.h) / 24), thickness_(thickness) {
        x_ = box.x + (box.w - 24 * scale_) / 2;
        y_ = box.y + (box.h - 24 * scale_) / 2;
    }
    ImVec2 at(float x, float y) const { return {x_ + x * scale_, y_ + y * scale_}; }

    void line(std::initializer_list<ImVec2> points, bool closed = false) const {
        std::vector<ImVec2> out;
        for (const ImVec2& p : points)
            out.push_back(at(p.x, p.y));
        list_.AddPolyline(out.data(), int(out.size()), color_,
                          closed ? ImDrawFlags_Closed : ImDrawFlags_None, thickness_);
    }
    void circle(float x, float y, float r) const {
        list_.AddCircle(at(x, y), r * scale_, color_, 0, thickness_);
    }
    void dot(float x, float y, float r) const {
        list_.AddCircleFilled(at(x, y), r * scale_, color_);
    }
    void arc(float x, float y, float r, float from, float to) const {
        list_.PathArcTo(at(x, y), r * scale_, from, to);
        list_.PathStroke(color_, ImDrawFlags_None, thickness_);
    }
    void box(float x, float y, float w, float h, float rounding = 2) const {
        list_.AddRect(at(x, y), at(x + w, y + h), color_, rounding * scale_, 0, thickness_);
    }
    void triangle(ImVec2 a, ImVec2 b, ImVec2 c) const {
        list_.AddTriangleFilled(at(a.x, a.y), at(b.x, b.y), at(c.x, c.y), color_);
    }

  private:
    ImDrawList& list_;
    ImU32 color_;
    float scale_;
    float thickness_;
    float x_ = 0;
    float y_ = 0;
};

}  // namespace tallyround::ui
