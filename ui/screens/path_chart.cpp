#include <algorithm>

#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

constexpr float plate = 22;    ///< a mark's shape
constexpr float step = 28;     ///< from mark to mark within a day
constexpr float day_gap = 22;  ///< added between days

struct Spot {
    const session::PathPoint* point = nullptr;
    base::Date day;
    float x = 0;
};

/// "1 Dec"
std::string day_label(const base::Date& day) {
    const std::string text = base::short_day(day);
    return text.substr(text.find(' ') + 1);
}

/// The newest marks that fit into `room`, oldest first, marks of one day close together.
std::vector<Spot> place(const Scene& scene, const std::vector<session::PathPoint>& path,
                        const Rect& room) {
    std::vector<Spot> spots;
    float used = plate;
    for (auto it = path.rbegin(); it != path.rend(); ++it) {
        const base::Date day = day_of(scene, it->at_ms);
        if (!spots.empty()) used += spots.back().day == day ? step : step + day_gap;
        if (used > room.w) break;
        spots.push_back({&*it, day, 0});
    }
    std::reverse(spots.begin(), spots.end());
    float x = room.x + plate / 2;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        if (i > 0) x += spots[i].day == spots[i - 1].day ? step : step + day_gap;
        spots[i].x = x;
    }
    return spots;
}

void axis(Ui& ui, const Rect& chart, const Rect& room) {
    const Style style = ui.style(12, ui.theme.ink_soft, false, Align::right);
    for (const int percent : {0, 50, 100}) {
        const float y = room.bottom() - room.h * float(percent) / 100;
        ui.list().AddLine({room.x, y}, {chart.right(), y},
                          fade(ui.theme.line, percent == 50 ? 0.35F : 0.7F), 1);
        ui.type().line({chart.x, y - 16, room.x - chart.x - 6, 32}, std::to_string(percent), style);
    }
}

void days(Ui& ui, const std::vector<Spot>& spots, const Rect& below) {
    const Style style = ui.style(12, ui.theme.ink_soft);
    float free_from = below.x - 40;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        if (i > 0 && spots[i].day == spots[i - 1].day) continue;
        const std::string text = day_label(spots[i].day);
        const float x = spots[i].x - plate / 2;
        if (x < free_from) continue;
        const float w = ui.type().width(text, style);
        ui.type().line({std::min(x, below.right() - w), below.y, w + 2, below.h}, text, style);
        free_from = x + w + 6;
    }
}

std::string spoken(const std::vector<Spot>& spots, const std::string& title) {
    std::string text = "Path of " + title;
    for (const Spot& s : spots)
        text += ", " + day_label(s.day) + " " + in_100(s.point->p);
    return text;
}

}  // namespace

void path_chart(Ui& ui, const Scene& scene, Column& column,
                const std::vector<session::PathPoint>& path, const std::string& title) {
    if (path.empty()) return;
    const Rect chart = column.row(ui.scaled(96) + 44, gap);
    const std::uint32_t id = Ui::id({"path", path.front().skill.view()});
    ui.card(chart, ui.pressed(id) ? ui.theme.sunk : ui.theme.card);
    if (ui.focused(id)) ui.focus_ring(chart);
    Rect inner = inset(chart, 10);
    const Rect below = cut_bottom(inner, ui.scaled(18));
    Rect room = inset(inner, 0, 12);
    cut_left(room, ui.scaled(30));
    axis(ui, inner, room);
    const std::vector<Spot> spots = place(scene, path, inset(room, 4, 0));
    const auto y_of = [&](double p) { return room.bottom() - room.h * float(p); };
    ImDrawList& list = ui.list();
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const session::PathPoint& p = *spots[i].point;
        const float x = spots[i].x;
        if (i > 0) {
            const session::PathPoint& was = *spots[i - 1].point;
            const float from = spots[i - 1].x;
            list.AddQuadFilled({from, y_of(was.low)}, {from, y_of(was.high)}, {x, y_of(p.high)},
                               {x, y_of(p.low)}, fade(ui.theme.accent, 0.14F));
            list.AddLine({from, y_of(was.p)}, {x, y_of(p.p)}, ui.theme.accent, 2);
        }
        list.AddLine({x, y_of(p.low)}, {x, y_of(p.high)}, ui.theme.ink_soft, 2);
        for (const double end : {p.low, p.high})
            list.AddLine({x - 5, y_of(end)}, {x + 5, y_of(end)}, ui.theme.ink_soft, 2);
    }
    for (const Spot& s : spots) {
        mark_shape(ui, s.point->level,
                   {s.x - plate / 2, y_of(s.point->p) - plate / 2, plate, plate});
    }
    days(ui, spots, below);
    ui.node(Role::button, id, spoken(spots, title), chart);
    ui.target(id, chart, open_marks(scene.view.student, path.front().skill));
}

}  // namespace tallyround::ui
