#include "cards/drawings.h"

#include <algorithm>

namespace tallyround::cards {

namespace {

const Exact half(1, 2);

Exact middle(const Exact& a, const Exact& b) {
    return (a + b) * half;
}

/// Never so flat or so steep that a label has no room.
Exact seen(const Exact& length, const Exact& other) {
    const Exact least = other * Exact(1, 4);
    const Exact most = other * Exact(4);
    return length < least ? least : length > most ? most : length;
}

}  // namespace

Picture triangle_picture(const Exact& base, const Exact& height, const std::string& base_label,
                         const std::string& height_label, const std::string& side_label) {
    const Exact h = seen(height, base);
    const Exact foot = base * Exact(2, 5);
    Figure figure;
    figure.corners = {{0, 0, ""}, {base, 0, ""}, {foot, h, ""}};
    // The height once more outside, where its label has room.
    const Exact left = base * Exact(-1, 8);
    figure.lines = {{{foot, 0, ""}, {foot, h, ""}, true}, {{left, 0, ""}, {left, h, ""}, true}};
    figure.words = {{base * half, 0, base_label},
                    {left, h * half, height_label},
                    {middle(base, foot) + base * Exact(1, 10), h * half, side_label}};
    return figure;
}

Picture parallelogram_picture(const Exact& base, const Exact& height, const std::string& base_label,
                              const std::string& height_label, const std::string& side_label) {
    const Exact h = seen(height, base);
    const Exact lean = h * Exact(2, 5);
    Figure figure;
    figure.corners = {{0, 0, ""}, {base, 0, ""}, {base + lean, h, ""}, {lean, h, ""}};
    figure.lines = {{{lean, 0, ""}, {lean, h, ""}, true}};
    figure.words = {{(base + lean) * half, 0, base_label},
                    {lean * half, h * half, height_label},
                    {base + lean * half, h * half, side_label}};
    return figure;
}

Picture trapezoid_picture(const Exact& a, const Exact& b, const Exact& height,
                          const std::string& a_label, const std::string& b_label,
                          const std::string& height_label) {
    const Exact h = seen(height, a);
    const Exact left = (a - b) * Exact(1, 3);
    Figure figure;
    figure.corners = {{0, 0, ""}, {a, 0, ""}, {left + b, h, ""}, {left, h, ""}};
    figure.lines = {{{left, 0, ""}, {left, h, ""}, true}};
    figure.words = {{a * half, 0, a_label}, {a * half, h, b_label}, {left, h * half, height_label}};
    return figure;
}

Picture notched_picture(const Exact& w, const Exact& h, const Exact& p, const Exact& q,
                        std::initializer_list<std::string> w_h_p_q) {
    const std::vector<std::string> labels(w_h_p_q);
    Figure figure;
    figure.corners = {{0, 0, ""},         {w, 0, ""},     {w, h - q, ""},
                      {w - p, h - q, ""}, {w - p, h, ""}, {0, h, ""}};
    figure.lines = {{{w - p, h, ""}, {w, h, ""}, true}, {{w, h - q, ""}, {w, h, ""}, true}};
    figure.words = {{w * half, 0, labels[0]},
                    {0, h * half, labels[1]},
                    {w - p * half, h, labels[2]},
                    {w, h - q * half, labels[3]}};
    return figure;
}

Picture right_triangle_picture(const Exact& across, const Exact& up,
                               const std::string& across_label, const std::string& up_label,
                               const std::string& long_label) {
    const Exact h = seen(up, across);
    const Exact corner = std::min(across, h) * Exact(1, 10);
    Figure figure;
    figure.corners = {{0, 0, ""}, {across, 0, ""}, {0, h, ""}};
    figure.lines = {{{corner, 0, ""}, {corner, corner, ""}, false},
                    {{0, corner, ""}, {corner, corner, ""}, false}};
    figure.words = {{across * half, 0, across_label},
                    {0, h * half, up_label},
                    {across * Exact(3, 5), h * Exact(3, 5), long_label}};
    return figure;
}

Picture box_picture(const Exact& length, const Exact& width, const Exact& height,
                    const std::string& length_label, const std::string& width_label,
                    const std::string& height_label) {
    const Exact h = seen(height, length);
    const Exact deep = seen(width, length) * Exact(2, 5);
    Figure figure;
    figure.corners = {{0, 0, ""}, {length, 0, ""}, {length, h, ""}, {0, h, ""}};
    figure.lines = {{{0, h, ""}, {deep, h + deep, ""}, false},
                    {{deep, h + deep, ""}, {length + deep, h + deep, ""}, false},
                    {{length + deep, h + deep, ""}, {length, h, ""}, false},
                    {{length, 0, ""}, {length + deep, deep, ""}, false},
                    {{length + deep, deep, ""}, {length + deep, h + deep, ""}, false}};
    figure.words = {{(length + deep) * half, 0, length_label},
                    {length + deep * Exact(3, 5), deep * half, width_label},
                    {0, h * half, height_label}};
    return figure;
}

Picture circle_picture(bool diameter, const std::string& label) {
    Figure figure;
    figure.circles = {{0, 0, 10}};
    figure.lines = {{{diameter ? -10 : 0, 0, ""}, {10, 0, ""}, false}};
    figure.words = {{10, 0, label}};
    return figure;
}

Picture grid_picture(std::vector<Spot> points, CoordinateGrid::Joined joined) {
    std::int64_t least = 0;
    std::int64_t most = 5;
    for (const Spot& spot : points) {
        for (const Exact& v : {spot.x, spot.y}) {
            if (!v.defined()) return {};
            least = std::min(least, floor_of(v));
            most = std::max(most, -floor_of(-v));
        }
    }
    if (least < 0) {
        most = std::max(most, -least);
        least = -most;
    }
    const std::int64_t span = most - least;
    if (span > 60) return {};
    CoordinateGrid grid;
    grid.step = span > 40 ? 5 : span > 16 ? 2 : 1;
    const std::int64_t unit = grid.step;
    grid.high = (most + unit) / unit * unit;
    grid.low = least == 0 ? 0 : -grid.high;
    grid.points = std::move(points);
    grid.joined = joined;
    return grid;
}

Picture line_picture(const std::vector<Exact>& numbers, bool dots) {
    std::int64_t least = 0;
    std::int64_t most = 0;
    for (const Exact& v : numbers) {
        if (!v.defined()) return {};
        least = std::min(least, floor_of(v));
        most = std::max(most, -floor_of(-v));
    }
    const std::int64_t span = most - least;
    if (span < 1 || span > 100) return {};
    NumberLine line;
    const std::int64_t unit = span > 40 ? 10 : span > 20 ? 5 : 1;
    line.low = (least - unit + 1) / unit * unit - (least < 0 ? unit : 0);
    line.high = (most / unit + 1) * unit;
    line.step = unit;
    line.label_every = unit == 1 && span > 10 ? 2 : 1;
    if (dots) line.dots = numbers;
    return line;
}

Picture bars_picture(std::initializer_list<std::pair<std::int64_t, std::int64_t>> fractions) {
    FractionBars bars;
    for (const auto& [top, bottom] : fractions) {
        if (bottom > 16 || top > bottom || bottom < 1 || top < 0) return {};
        bars.bars.push_back({bottom, top, std::to_string(top) + "/" + std::to_string(bottom)});
    }
    return bars;
}

}  // namespace tallyround::cards
