#include "sheets/svg.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "sheets/html.h"
#include "sheets/measure.h"
#include "sheets/paper.h"

namespace tallyround::sheets {

namespace {

using namespace cards;  // NOLINT: pictures throughout

constexpr double unit = 10;  // of the drawing, for one millimeter
constexpr double text_pt = 14;
constexpr double text_h = text_pt * mm_of_pt * unit;

double value(const Exact& x) {
    return x.defined() ? double(x.top()) / double(x.bottom()) : 0;
}

std::string n(double v) {
    return std::to_string(std::llround(v));
}

/// A drawing of w × h millimeters, in tenths of them.
class Canvas {
  public:
    Canvas(double w, double h) : w_(w * unit), h_(h * unit) {}
    double w() const { return w_; }
    double h() const { return h_; }

    void line(double x1, double y1, double x2, double y2, double thick,
              std::string_view more = {}) {
        out_ += "<line x1=\"" + n(x1) + "\" y1=\"" + n(y1) + "\" x2=\"" + n(x2) + "\" y2=\"" +
                n(y2) + "\" stroke=\"#111\" stroke-width=\"" + n(thick) + "\"" + std::string(more) +
                "/>";
    }
    void pale(double x1, double y1, double x2, double y2) {
        out_ += "<line x1=\"" + n(x1) + "\" y1=\"" + n(y1) + "\" x2=\"" + n(x2) + "\" y2=\"" +
                n(y2) + "\" stroke=\"#aaa\" stroke-width=\"2\"/>";
    }
    void rect(double x, double y, double w, double h, std::string_view fill) {
        out_ += "<rect x=\"" + n(x) + "\" y=\"" + n(y) + "\" width=\"" + n(w) + "\" height=\"" +
                n(h) + "\" fill=\"" + std::string(fill) + "\" stroke=\"#111\" stroke-width=\"4\"/>";
    }
    void circle(double x, double y, double r, std::string_view fill) {
        out_ += "<circle cx=\"" + n(x) + "\" cy=\"" + n(y) + "\" r=\"" + n(r) + "\" fill=\"" +
                std::string(fill) + "\" stroke=\"#111\" stroke-width=\"4\"/>";
    }
    /// `anchor`: start, middle or end.
    void text(double x, double y, std::string_view words, std::string_view anchor = "middle") {
        if (words.empty()) return;
        // A white edge keeps words readable over lines.
        out_ += "<text x=\"" + n(x) + "\" y=\"" + n(y) + "\" text-anchor=\"" + std::string(anchor) +
                "\" font-size=\"" + n(text_h) +
                "\" fill=\"#111\" stroke=\"#fff\" stroke-width=\"8\" paint-order=\"stroke\">" +
                escape_html(words) + "</text>";
    }
    void path(const std::vector<std::pair<double, double>>& points, bool closed,
              std::string_view fill) {
        std::string d;
        for (const auto& [x, y] : points)
            d += (d.empty() ? "M" : "L") + n(x) + " " + n(y);
        if (closed) d += "Z";
        out_ += "<path d=\"" + d + "\" fill=\"" + std::string(fill) +
                "\" stroke=\"#111\" stroke-width=\"5\" stroke-linejoin=\"round\"/>";
    }
    std::string take(std::string_view more) const {
        return "<svg" + std::string(more) + " width=\"" + mm(w_ / unit) + "\" height=\"" +
               mm(h_ / unit) + "\" viewBox=\"0 0 " + n(w_) + " " + n(h_) +
               "\" role=\"img\" style=\"display:block;margin:0 auto\" "
               "font-family=\"Arial, sans-serif\">" +
               out_ + "</svg>";
    }

  private:
    double w_;
    double h_;
    std::string out_;
};

double natural_height(const std::monostate&, double) {
    return 0;
}
double natural_height(const NumberLine&, double) {
    return 16;
}
double natural_height(const FractionBars& p, double) {
    return double(p.bars.size()) * 11 + 1;
}
double natural_height(const AreaModel& p, double) {
    return double(std::max<std::size_t>(1, p.sides.size())) * 12 + 8;
}
double natural_height(const CoordinateGrid&, double w) {
    return std::min(w, 62.0);
}
std::map<Exact, int, bool (*)(const Exact&, const Exact&)> counts(const DotPlot& p) {
    std::map<Exact, int, bool (*)(const Exact&, const Exact&)> out(
        [](const Exact& a, const Exact& b) { return a < b; });
    for (const Exact& v : p.values)
        ++out[v];
    return out;
}
double natural_height(const DotPlot& p, double) {
    int most = 1;
    for (const auto& [at, count] : counts(p))
        most = std::max(most, count);
    return 12 + most * 4.0;
}
double natural_height(const Photo& p, double w) {
    return w * p.height / p.width;
}
double natural_height(const Figure&, double w) {
    return std::min(w * 0.62, 46.0);
}

void draw(Canvas&, const std::monostate&) {}

void draw(Canvas& c, const NumberLine& p) {
    const double span = value(p.high - p.low);
    const double edge = 60;
    const auto x_of = [&](const Exact& v) {
        return edge + (span == 0 ? 0 : value(v - p.low) / span) * (c.w() - 2 * edge);
    };
    const double y = 70;
    c.line(20, y, c.w() - 20, y, 5);
    c.path({{40, y - 12}, {18, y}, {40, y + 12}}, false, "none");
    c.path({{c.w() - 40, y - 12}, {c.w() - 18, y}, {c.w() - 40, y + 12}}, false, "none");
    const int every = std::max(1, p.label_every);
    int i = 0;
    for (Exact v = p.low; v <= p.high && i < 200; v += p.step, ++i) {
        const bool labelled = i % every == 0;
        c.line(x_of(v), y - (labelled ? 16 : 9), x_of(v), y + (labelled ? 16 : 9), 4);
        if (labelled) c.text(x_of(v), y + 72, v.whole() ? whole_text(v.top()) : decimal_text(v));
    }
    for (const Exact& dot : p.dots)
        c.circle(x_of(dot), y, 14, "#111");
}

void draw(Canvas& c, const FractionBars& p) {
    double label_w = 0;
    for (const auto& bar : p.bars)
        label_w = std::max(label_w, text_width(bar.label, {text_pt, false}) * unit);
    const double left = label_w > 0 ? label_w + 20 : 4;
    const double w = c.w() - left - 4;
    double y = 6;
    for (const auto& bar : p.bars) {
        c.text(label_w, y + 64, bar.label, "end");
        const double part = w / double(std::max<std::int64_t>(1, bar.parts));
        for (std::int64_t i = 0; i < bar.parts; ++i)
            c.rect(left + double(i) * part, y, part, 90, i < bar.shaded ? "#bbb" : "#fff");
        y += 110;
    }
}

void draw(Canvas& c, const AreaModel& p) {
    double side_w = 0;
    for (const auto& side : p.sides)
        side_w = std::max(side_w, text_width(side, {text_pt, false}) * unit);
    const double left = side_w + 15;
    const double columns = double(std::max<std::size_t>(1, p.tops.size()));
    const double rows = double(std::max<std::size_t>(1, p.sides.size()));
    const double w = std::min((c.w() - left - 4) / columns, 300.0);
    const double h = (c.h() - 76) / rows;
    for (std::size_t i = 0; i < p.tops.size(); ++i)
        c.text(left + (double(i) + 0.5) * w, 54, p.tops[i]);
    for (std::size_t r = 0; r < std::size_t(rows); ++r) {
        if (r < p.sides.size()) c.text(side_w, 70 + (double(r) + 0.6) * h, p.sides[r], "end");
        for (std::size_t i = 0; i < std::size_t(columns); ++i)
            c.rect(left + double(i) * w, 70 + double(r) * h, w, h, "#fff");
    }
}

void draw(Canvas& c, const CoordinateGrid& p) {
    const double span = double(std::max<std::int64_t>(1, p.high - p.low));
    const double side = std::min(c.w(), c.h()) - 80;
    const double left = (c.w() - side) / 2;
    const auto x_of = [&](double v) { return left + (v - double(p.low)) / span * side; };
    const auto y_of = [&](double v) { return 25 + (double(p.high) - v) / span * side; };
    const std::int64_t step = std::max<std::int64_t>(1, p.step);
    for (std::int64_t v = p.low; v <= p.high; v += step) {
        c.pale(x_of(double(v)), y_of(double(p.low)), x_of(double(v)), y_of(double(p.high)));
        c.pale(x_of(double(p.low)), y_of(double(v)), x_of(double(p.high)), y_of(double(v)));
    }
    const double zero_x = x_of(std::clamp(0.0, double(p.low), double(p.high)));
    const double zero_y = y_of(std::clamp(0.0, double(p.low), double(p.high)));
    c.line(x_of(double(p.low)), zero_y, x_of(double(p.high)) + 12, zero_y, 5);
    c.line(zero_x, y_of(double(p.low)), zero_x, y_of(double(p.high)) - 12, 5);
    const std::int64_t label = step * std::max<std::int64_t>(1, (p.high - p.low) / step / 4);
    for (std::int64_t v = p.low; v <= p.high; v += step) {
        if (v == 0 || v % label != 0) continue;
        c.text(x_of(double(v)), zero_y + 52, whole_text(v));
        c.text(zero_x - 8, y_of(double(v)) + 12, whole_text(v), "end");
    }
    std::vector<std::pair<double, double>> way;
    for (const Spot& spot : p.points)
        way.emplace_back(x_of(value(spot.x)), y_of(value(spot.y)));
    if (p.joined != CoordinateGrid::Joined::no)
        c.path(way, p.joined == CoordinateGrid::Joined::closed, "none");
    for (std::size_t i = 0; i < way.size(); ++i) {
        c.circle(way[i].first, way[i].second, 11, "#111");
        c.text(way[i].first + 16, way[i].second - 14, p.points[i].label, "start");
    }
}

void draw(Canvas& c, const DotPlot& p) {
    const auto all = counts(p);
    if (all.empty()) return;
    const double low = value(all.begin()->first);
    const double high = value(std::prev(all.end())->first);
    const double base = c.h() - 70;
    const auto x_of = [&](double v) {
        return 60 + (high == low ? 0.5 : (v - low) / (high - low)) * (c.w() - 120);
    };
    c.line(20, base, c.w() - 20, base, 5);
    double labelled_to = -1000;
    for (const auto& [at, count] : all) {
        const double x = x_of(value(at));
        c.line(x, base, x, base + 12, 4);
        const std::string words = decimal_text(at);
        const double half = text_width(words, {text_pt, false}) * unit / 2;
        if (x - half > labelled_to) {
            c.text(x, base + 64, words);
            labelled_to = x + half + 4;
        }
        for (int i = 0; i < count; ++i)
            c.circle(x, base - 24 - i * 40, 14, "#111");
    }
}

void draw(Canvas& c, const Figure& p) {
    double x0 = 1e18, x1 = -1e18, y0 = 1e18, y1 = -1e18;
    const auto see = [&](double x, double y) {
        x0 = std::min(x0, x);
        x1 = std::max(x1, x);
        y0 = std::min(y0, y);
        y1 = std::max(y1, y);
    };
    for (const Spot& s : p.corners)
        see(value(s.x), value(s.y));
    for (const Figure::Line& l : p.lines) {
        see(value(l.from.x), value(l.from.y));
        see(value(l.to.x), value(l.to.y));
    }
    for (const Figure::Circle& k : p.circles) {
        see(value(k.x - k.radius), value(k.y - k.radius));
        see(value(k.x + k.radius), value(k.y + k.radius));
    }
    if (x1 < x0) return;
    const double room_x = c.w() - 400;
    const double room_y = c.h() - 140;
    const double scale =
        std::min(room_x / std::max(x1 - x0, 1e-9), room_y / std::max(y1 - y0, 1e-9));
    const double left = (c.w() - (x1 - x0) * scale) / 2;
    const double top = (c.h() - (y1 - y0) * scale) / 2;
    const auto x_of = [&](const Exact& x) { return left + (value(x) - x0) * scale; };
    const auto y_of = [&](const Exact& y) { return top + (y1 - value(y)) * scale; };
    std::vector<std::pair<double, double>> way;
    for (const Spot& s : p.corners)
        way.emplace_back(x_of(s.x), y_of(s.y));
    if (!way.empty()) c.path(way, true, "#eee");
    for (const Figure::Circle& k : p.circles)
        c.circle(x_of(k.x), y_of(k.y), value(k.radius) * scale, "#eee");
    for (const Figure::Line& l : p.lines) {
        c.line(x_of(l.from.x), y_of(l.from.y), x_of(l.to.x), y_of(l.to.y), 4,
               l.dashed ? " stroke-dasharray=\"14 10\"" : "");
    }
    const double mid_x = c.w() / 2;
    const double mid_y = c.h() / 2;
    for (const Spot& s : p.words) {
        // Words stand outside of the figure, on the side on which they lie.
        const double x = x_of(s.x);
        const double y = y_of(s.y);
        const std::string_view anchor = x < mid_x - 30   ? "end"
                                        : x > mid_x + 30 ? "start"
                                                         : "middle";
        const double away = anchor == "end" ? -14 : anchor == "start" ? 14 : 0;
        const double down = anchor != "middle" ? 17 : y > mid_y ? 58 : -14;
        c.text(x + away, y + down, s.label, anchor);
    }
}

/// Not drawn but printed from its file: see photo.h.
void draw(Canvas&, const Photo&) {}

std::string drawn(const Picture& picture, double w, double h, std::string_view more) {
    if (!has_picture(picture)) return "";
    Canvas canvas(w, h);
    std::visit([&](const auto& p) { draw(canvas, p); }, picture);
    return canvas.take(more);
}

}  // namespace

double svg_height(const Picture& picture, double w, double h) {
    return std::min(h, std::visit([&](const auto& p) { return natural_height(p, w); }, picture));
}

std::string svg_of(const Picture& picture, double w, double h) {
    return drawn(picture, w, svg_height(picture, w, h), "");
}

std::string standalone_svg(const Picture& picture) {
    return drawn(picture, 80, svg_height(picture, 80, 60), " xmlns=\"http://www.w3.org/2000/svg\"");
}

}  // namespace tallyround::sheets
