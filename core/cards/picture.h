#pragma once
#include <string>
#include <variant>
#include <vector>

#include "cards/exact.h"

namespace tallyround::cards {

// What a teacher would draw beside a problem: shapes as data, exact, without sizes on paper.
// Sheets turn them into SVG. A picture shows what the prompt says, never the answer.

/// A line with ticks from `low` to `high`; numbers at every `label_every`-th tick.
struct NumberLine {
    Exact low;
    Exact high;
    Exact step = 1;
    int label_every = 1;
    std::vector<Exact> dots;
};

/// Bars of equal length cut into equal parts, some of them shaded, one under the other.
struct FractionBars {
    struct Bar {
        std::int64_t parts = 1;
        std::int64_t shaded = 0;
        std::string label;
    };
    std::vector<Bar> bars;
};

/// A rectangle cut into cells, with what stands along its top and its side.
struct AreaModel {
    std::vector<std::string> tops;
    std::vector<std::string> sides;
};

struct Spot {
    Exact x;
    Exact y;
    std::string label;
};

/// A coordinate grid with points, joined to a line or a closed figure where `joined` says so.
struct CoordinateGrid {
    std::int64_t low = 0;  ///< of both axes
    std::int64_t high = 10;
    std::int64_t step = 1;  ///< between the lines of the grid
    std::vector<Spot> points;
    enum class Joined : std::uint8_t { no, line, closed } joined = Joined::no;
};

/// A dot over each value for every time it occurs.
struct DotPlot {
    std::vector<Exact> values;
};

/// A plane figure: corners in order, further lines, words at places. One unit is the same length
/// both ways; y goes up. Not to scale unless a caller makes it so.
struct Figure {
    struct Line {
        Spot from;
        Spot to;
        bool dashed = false;
    };
    std::vector<Spot> corners;
    std::vector<Line> lines;
    std::vector<Spot> words;
    struct Circle {
        Exact x;
        Exact y;
        Exact radius;
    };
    std::vector<Circle> circles;
};

/// A picture file of the teacher's own: who prints it knows its bytes by the id.
struct Photo {
    std::string id;
    int width = 1;  ///< pixels
    int height = 1;
    std::string shows;  ///< in words, for who cannot see it
};

using Picture = std::variant<std::monostate, NumberLine, FractionBars, AreaModel, CoordinateGrid,
                             DotPlot, Figure, Photo>;

inline bool has_picture(const Picture& picture) {
    return picture.index() != 0;
}

}  // namespace tallyround::cards
