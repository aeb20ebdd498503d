#include <algorithm>

#include "base/text.h"

#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

namespace {

constexpr std::size_t rounds_wide = 12;
constexpr std::size_t groups_high = 12;

/// Names that stay together on one card, at a size at which all of them fit.
struct NameCard {
    std::string group;
    std::vector<std::string> names;
    double points = 26;
    bool goes_on = false;
};

constexpr double name_line = 1.3;
constexpr double group_pt = 72;
constexpr double group_row = 34;

double names_height(const std::vector<std::string>& names, double width, double points) {
    double height = 0;
    for (const std::string& name : names)
        height += lines_of(name, width, {points, false}) * points * mm_of_pt * name_line + 1;
    return height;
}

std::vector<NameCard> name_cards(const GroupBox& group, double width, double height) {
    std::vector<std::string> names;
    for (const std::string& name : group.students)
        names.push_back(shortened(name, width, 4, {16, false}));
    for (double points = 28; points >= 16; points -= 2)
        if (names_height(names, width, points) <= height)
            return {{group.name, names, points, false}};
    std::vector<NameCard> cards;
    for (const std::string& name : names) {
        const bool fits = !cards.empty() && [&] {
            std::vector<std::string> with = cards.back().names;
            with.push_back(name);
            return names_height(with, width, 16) <= height;
        }();
        if (!fits) cards.push_back({group.name, {}, 16, !cards.empty()});
        cards.back().names.push_back(name);
    }
    return cards;
}

std::string name_card(const NameCard& card, double w) {
    const double line = group_pt * mm_of_pt * 1.08;
    std::string inside =
        box_at(8, 6, w - 16, line, "", line_box("h1", {group_pt, true}, line, card.group));
    if (card.goes_on)
        inside += box_at(w - 60, 10, 52, 8, "", line_box("p", {14, false}, 7, "goes on"));
    inside += box_at(8, group_row + 2, w - 16, 1, "band", "");
    double y = group_row + 7;
    const Face face{card.points, false};
    for (const std::string& name : card.names) {
        const double h = lines_of(name, w - 16, face) * face.pt * mm_of_pt * name_line;
        inside +=
            box_at(8, y, w - 16, h, "", line_box("p", face, face.pt * mm_of_pt * name_line, name));
        y += h + 1;
    }
    return inside;
}

std::string chart_head(const RoundBox& round, double w, bool days) {
    std::string inside =
        line_box("b", {w < 17 ? 11.0 : 14.0, true}, 6,
                 w < 24 ? std::to_string(round.number) : "Round " + std::to_string(round.number));
    const std::string clock = round.start();
    const double size = text_width("00:00", {11, false}) < w - 1 ? 11.0 : 8.0;
    if (!clock.empty()) inside += line_box("span", {size, false}, 5, clock);
    if (days && !round.day.empty() && text_width(round.day, {8, false}) < w - 1)
        inside += line_box("span", {8, false}, 4, round.day);
    return inside;
}

/// One part of the chart: some groups, some rounds.
void chart_part(Pages& pages, const PrepBox& box, std::size_t group_from, std::size_t round_from,
                double top, double bottom) {
    const std::size_t groups = std::min(groups_high, box.groups.size() - group_from);
    const std::size_t rounds = std::min(rounds_wide, box.rounds.size() - round_from);
    const double head_w = rounds > 8 ? 36 : 52;
    const double w = (pages.width() - head_w) / double(rounds);
    const double head_h = 17;
    const double h = std::min(26.0, (bottom - top - head_h) / double(groups));
    for (std::size_t r = 0; r < rounds; ++r)
        pages.add(box_at(head_w + double(r) * w, top, w, head_h, "mid",
                         chart_head(box.rounds[round_from + r], w, true)),
                  0);
    const double names_pt = 9;
    for (std::size_t g = 0; g < groups; ++g) {
        const GroupBox& group = box.groups[group_from + g];
        const double y = top + head_h + double(g) * h;
        const std::string_view shade = g % 2 == 0 ? "row shade" : "row";
        pages.add(box_at(0, y, pages.width(), h, shade, ""), 0);
        const std::string names = base::list_of(group.students);
        const int lines = int((h - 9) / (names_pt * mm_of_pt * 1.2));
        std::string head = line_box("b", {15, true}, 7, group.name);
        if (lines > 0 && !names.empty() && lines_of(names, head_w - 4, {names_pt, false}) <= lines)
            head += line_box("span", {names_pt, false}, names_pt * mm_of_pt * 1.2, names);
        pages.add(box_at(2, y, head_w - 3, h, "tall", head), 0);
        for (std::size_t r = 0; r < rounds; ++r) {
            const std::size_t at = round_from + r;
            const int number = at < group.route.size() ? group.route[at] : 0;
            pages.add(box_at(head_w + double(r) * w, y, w, h, "mid",
                             number == 0 ? "<span style=\"font-size:20pt\">–</span>"
                                         : ring(number, std::min({h - 2.5, w - 2.0, 19.0}))),
                      0);
        }
    }
}

/// Height of the list of centers in two columns of that many lines.
constexpr double legend_line = 6.2;

void chart_legend(Pages& pages, const PrepBox& box, double top) {
    const std::size_t rows = (box.centers.size() + 1) / 2;
    const double w = pages.width() / 2;
    for (std::size_t i = 0; i < box.centers.size(); ++i) {
        const CenterBox& center = box.centers[i];
        const std::string words =
            shortened(center.title + ": " + center.skill_title, w - 12, 1, {11, false});
        const double y = top + double(i % rows) * legend_line;
        pages.add(box_at(double(i / rows) * w, y, w - 2, legend_line, "",
                         "<div style=\"display:flex;align-items:center;gap:2mm\">" +
                             ring(center.number, 5.6) +
                             line_box("span", {11, false}, legend_line, words) + "</div>"),
                  0);
    }
}

std::string route_card(const PrepBox& box, const GroupBox& group, std::size_t from, std::size_t to,
                       double w, double h) {
    const double inner = w - 12;
    std::string inside = box_at(0, 0, inner, 11, "", line_box("h2", {24, true}, 11, group.name));
    inside += box_at(0, 12, inner, 1, "band", "");
    const std::string names = shortened(base::list_of(group.students), inner, 4, {10, false});
    const double line = 10 * mm_of_pt * 1.25;
    const double names_h = lines_of(names, inner, {10, false}) * line;
    const double room = h - 12 - 15 - names_h - 2;
    const double step = std::min(12.0, room / double(std::max<std::size_t>(1, to - from)));
    for (std::size_t r = from; r < to; ++r) {
        const double y = 15 + double(r - from) * step;
        const int number = r < group.route.size() ? group.route[r] : 0;
        const CenterBox* center = box.center(number);
        const std::string clock = box.rounds[r].start();
        inside += box_at(0, y, 9, step, "tall",
                         line_box("b", {12, true}, 6, std::to_string(r + 1) + "."));
        inside += box_at(9, y, 15, step, "tall", line_box("span", {11, false}, 6, clock));
        inside += box_at(26, y, 10, step, "tall",
                         number == 0 ? "–" : ring(number, std::min(step - 1.5, 9.0)));
        const std::string words =
            center == nullptr ? "free" : shortened(center->title, inner - 38, 1, {12, false});
        inside += box_at(38, y, inner - 38, step, "tall", line_box("span", {12, false}, 6, words));
    }
    inside +=
        box_at(0, h - 12 - names_h, inner, names_h, "", line_box("p", {10, false}, line, names));
    return box_at(6, 6, inner, h - 12, "", inside);
}

}  // namespace

void group_cards(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    const double h = pages.height() / 2;
    int place = 0;
    for (const GroupBox& group : box.groups) {
        for (const NameCard& card : name_cards(group, pages.width() - 16, h - group_row - 12)) {
            if (place % 2 == 0) pages.page();
            pages.add(
                box_at(0, place % 2 * h, pages.width(), h, "cut", name_card(card, pages.width())),
                0);
            ++place;
        }
    }
}

void chart_poster(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    const double legend = double((box.centers.size() + 1) / 2) * legend_line;
    for (std::size_t g = 0; g < box.groups.size(); g += groups_high) {
        for (std::size_t r = 0; r < box.rounds.size(); r += rounds_wide) {
            pages.page();
            const std::string title =
                box.block_title.empty() ? "Who is where" : "Who is where: " + box.block_title;
            const double title_w = pages.width() * 0.7;
            const double size = std::max(14.0, fitting_size(title, title_w, 1, 26, 14, true));
            pages.add(box_at(0, 0, title_w, 11, "",
                             line_box("h1", {size, true}, 11,
                                      shortened(title, title_w, 1, {size, true}))) +
                          box_at(title_w, 2, pages.width() - title_w, 9, "",
                                 line_box("p", {12, false}, 7,
                                          shortened(box.class_name, pages.width() - title_w - 2, 1,
                                                    {12, false}),
                                          "text-align:right")) +
                          box_at(0, 12, pages.width(), 1, "band", ""),
                      0);
            chart_part(pages, box, g, r, 14, pages.height() - legend - 4);
            chart_legend(pages, box, pages.height() - legend);
        }
    }
}

void chart_handouts(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    constexpr std::size_t on_card = 12;
    const double w = pages.width() / 2;
    const double h = pages.height() / 2;
    int place = 0;
    for (const GroupBox& group : box.groups) {
        for (std::size_t from = 0; from < box.rounds.size(); from += on_card) {
            if (place % 4 == 0) pages.page();
            const std::size_t to = std::min(box.rounds.size(), from + on_card);
            pages.add(box_at(place % 2 * w, place % 4 / 2 * h, w, h, "cut",
                             route_card(box, group, from, to, w, h)),
                      0);
            ++place;
        }
    }
}

}  // namespace tallyround::sheets
