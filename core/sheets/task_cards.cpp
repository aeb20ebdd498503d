#include <algorithm>

#include "base/text.h"
#include "sheets/center_set.h"
#include "sheets/html.h"
#include "sheets/parts.h"
#include "sheets/photo.h"
#include "sheets/svg.h"

namespace tallyround::sheets {

namespace {

constexpr double least_pt = 14;
constexpr double pad = 5;
constexpr double top_row = 11;

struct Grid {
    int columns;
    int rows;
    double largest;
    double picture;  ///< at most so high
};

Grid grid_of(int per_page) {
    if (per_page >= 8) return {2, 4, 17, 24};
    if (per_page >= 4) return {2, 2, 22, 46};
    return {1, 2, 30, 52};
}

double height_at(const CardFace& face, double width, double points) {
    double height = 0;
    for (const std::string_view line : base::lines_of(face.text))
        height += lines_of(line, width, {points, false}) * math_line(line, points);
    return height;
}

struct Cell {
    double w;
    double h;
    double inner_w() const { return w - 2 * pad; }
    double inner_h() const { return h - 2 * pad - top_row; }
};

Cell cell_of(const Pages& pages, const Grid& grid) {
    return {pages.width() / grid.columns, pages.height() / grid.rows};
}

double drawn_height(const cards::Picture& picture, double w, double h) {
    const auto* photo = std::get_if<cards::Photo>(&picture);
    return photo == nullptr ? svg_height(picture, w, h) : photo_height(*photo, w, h);
}

std::string drawn(const cards::Picture& picture, const Printer& printer, double w, double h) {
    const auto* photo = std::get_if<cards::Photo>(&picture);
    return photo == nullptr ? svg_of(picture, w, h)
                            : photo_html(*photo, printer.picture(photo->id), w, h);
}

double picture_height(const CardFace& face, const Cell& cell, const Grid& grid) {
    if (!cards::has_picture(face.picture)) return 0;
    return drawn_height(face.picture, cell.inner_w(), grid.picture) + 3;
}

/// The largest size at which the face fits its cell, or 0.
double size_in(const CardFace& face, const Cell& cell, const Grid& grid) {
    const double room = cell.inner_h() - picture_height(face, cell, grid);
    for (double points = grid.largest; points >= least_pt; points -= 1)
        if (height_at(face, cell.inner_w(), points) <= room) return points;
    return 0;
}

std::string face_html(const CardFace& face, const CenterBox& center, const Printer& printer,
                      const Cell& cell, const Grid& grid) {
    const double points = size_in(face, cell, grid);
    std::string top = "<span style=\"display:flex;align-items:center;gap:3mm\">" +
                      ring(center.number, 9.5) + "<b style=\"font-size:14pt\">" +
                      escape_html(face.mark) + "</b></span>";
    if (face.tier) top += tier_dots(*face.tier);
    std::string inside = box_at(pad, pad - 1, cell.inner_w(), top_row, "side", top);
    std::string text;
    for (const std::string_view line : base::lines_of(face.text)) {
        text += "<p style=\"font-size:" + pt(points) +
                ";line-height:" + mm(math_line(line, points)) + "\">" + math_html(line) + "</p>";
    }
    if (cards::has_picture(face.picture)) {
        text += "<div style=\"margin-top:3mm\">" +
                drawn(face.picture, printer, cell.inner_w(), grid.picture) + "</div>";
    }
    return inside + box_at(pad, pad + top_row, cell.inner_w(), cell.inner_h(), "mid", text);
}

/// Small crosses where the cuts meet.
std::string cut_marks(const Pages& pages, const Grid& grid) {
    const Cell cell = cell_of(pages, grid);
    std::string out;
    for (int r = 0; r <= grid.rows; ++r) {
        for (int c = 0; c <= grid.columns; ++c) {
            const double x = std::clamp(c * cell.w, 0.2, pages.width() - 0.2);
            const double y = std::clamp(r * cell.h, 0.2, pages.height() - 0.2);
            const double left = c == 0 ? 0 : c == grid.columns ? 6 : 3;
            const double up = r == 0 ? 0 : r == grid.rows ? 6 : 3;
            out += box_at(x - left, y - 0.15, 6, 0.3, "ink", "");
            out += box_at(x - 0.15, y - up, 0.3, 6, "ink", "");
        }
    }
    return out;
}

/// A face too long for any card: as much paper as it takes.
void long_face(Pages& pages, const CardFace& face, const CenterBox& center,
               const Printer& printer) {
    pages.page();
    pages.add("<div class=\"side\" style=\"height:14mm\">" + ring(center.number, 12) +
                  "<b style=\"font-size:14pt\">" + escape_html(face.mark) + "</b></div>",
              14);
    for (const std::string_view line : base::lines_of(face.text))
        pages.paragraph(line, {16, false});
    if (cards::has_picture(face.picture)) {
        const double h = drawn_height(face.picture, pages.width() / 2, 80);
        pages.add(drawn(face.picture, printer, pages.width() / 2, 80), h);
    }
}

void lay_faces(Pages& pages, const std::vector<CardFace>& faces, const CenterBox& center,
               const Printer& printer, int per_page) {
    std::vector<const CardFace*> fitting;
    std::vector<const CardFace*> too_long;
    const auto fits = [&](const CardFace& face, int n) {
        const Grid grid = grid_of(n);
        return size_in(face, cell_of(pages, grid), grid) > 0;
    };
    for (const CardFace& face : faces)
        (fits(face, 2) ? fitting : too_long).push_back(&face);
    while (per_page > 2 && !std::all_of(fitting.begin(), fitting.end(), [&](const CardFace* face) {
               return fits(*face, per_page);
           }))
        per_page /= 2;
    const Grid grid = grid_of(per_page);
    const Cell cell = cell_of(pages, grid);
    const auto on_page = std::size_t(grid.columns * grid.rows);
    for (std::size_t i = 0; i < fitting.size(); ++i) {
        const std::size_t place = i % on_page;
        if (place == 0) {
            pages.page();
            pages.add(cut_marks(pages, grid), 0);
        }
        pages.add(box_at(double(place % std::size_t(grid.columns)) * cell.w,
                         double(place / std::size_t(grid.columns)) * cell.h, cell.w, cell.h, "cut",
                         face_html(*fitting[i], center, printer, cell, grid)),
                  0);
    }
    for (const CardFace* face : too_long)
        long_face(pages, *face, center, printer);
}

/// The board fills a page: the task on top, square cells below.
void board_page(Pages& pages, const CenterSet& set, const CenterBox& center) {
    if (set.board.empty() || set.board_side == 0) return;
    pages.page();
    const double line = 14 * mm_of_pt * 1.32;
    pages.add(
        box_at(0, 0, 22, 20, "", ring(center.number, 18)) +
            box_at(24, 0, pages.width() - 24, 24, "", line_box("p", {14, false}, line, set.task)),
        0);
    const double top = 24 + 8;
    const double side = std::min(pages.width(), pages.height() - top) / set.board_side;
    const double left = (pages.width() - side * set.board_side) / 2;
    for (std::size_t i = 0; i < set.board.size(); ++i) {
        const std::string& text = set.board[i];
        double points = 0;
        for (int lines = 1; lines <= 3 && points == 0; ++lines)
            points = fitting_size(text, side - 4, lines, 24, 14, true);
        if (points == 0) points = 10;
        const auto n = std::size_t(set.board_side);
        const std::string cell = "<b style=\"font-size:" + pt(points) +
                                 ";line-height:" + mm(math_line(text, points)) + "\">" +
                                 math_html(text) + "</b>";
        pages.add(box_at(left + double(i % n) * side, top + double(i / n) * side, side, side,
                         text == "free" ? "mid cell free" : "mid cell", cell),
                  0);
    }
}

/// The answers of one tier with their letters, to check oneself by.
void code_strips(Pages& pages, const CenterSet& set, const CenterBox& center) {
    if (set.codes.empty()) return;
    pages.page();
    const double line = 14 * mm_of_pt * 1.32;
    for (const CenterSet::Code& code : set.codes) {
        const std::string what = "Cards " + code.first + " to " + code.last +
                                 ": find each answer and write down its letter. Right answers "
                                 "spell a word.";
        double widest = 0;
        for (const std::string& row : code.rows)
            widest = std::max(widest, text_width(row, {14, false}));
        const int columns = std::clamp(int((pages.width() - 8) / (widest + 8)), 1, 4);
        const int rows = (int(code.rows.size()) + columns - 1) / columns;
        const double row_height = has_fraction(code.rows.front()) ? line * 1.7 : line * 1.25;
        const double text_height = lines_of(what, pages.width() - 44, {14, false}) * line;
        const double height = 8 + std::max(12.0, text_height) + 4 + rows * row_height + 4;
        std::string inside = box_at(4, 4, 14, 12, "", ring(center.number, 10)) +
                             box_at(20, 4, pages.width() - 44, text_height, "",
                                    line_box("p", {14, false}, line, what)) +
                             box_at(pages.width() - 22, 6, 18, 6, "", tier_dots(code.tier));
        const double from = 8 + std::max(12.0, text_height) + 2;
        for (std::size_t i = 0; i < code.rows.size(); ++i) {
            inside += box_at(6 + double(i % std::size_t(columns)) * (pages.width() - 8) / columns,
                             from + double(i / std::size_t(columns)) * row_height,
                             (pages.width() - 8) / columns - 2, row_height, "",
                             "<span style=\"font-size:14pt;line-height:" + mm(row_height) + "\">" +
                                 math_html(code.rows[i]) + "</span>");
        }
        pages.add("<div class=\"in cut\" style=\"height:" + mm(height) + "\">" + inside + "</div>",
                  height);
        pages.gap(5);
    }
}

/// Four empty cards to write on, for a skill that has none yet.
void blank_cards(Pages& pages, const CenterBox& center, const Printer& printer) {
    std::vector<CardFace> faces(4);
    for (std::size_t i = 0; i < faces.size(); ++i)
        faces[i].mark = std::to_string(center.number) + "-0" + std::to_string(i + 1);
    lay_faces(pages, faces, center, printer, 4);
}

}  // namespace

void task_cards(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    for (const CenterBox& center : box.centers) {
        const CenterSet& set = printer.set(center);
        if (set.faces.empty()) {
            blank_cards(pages, center, printer);
            continue;
        }
        const bool small = set.form == cards::Form::match || set.form == cards::Form::words;
        board_page(pages, set, center);
        lay_faces(pages, set.faces, center, printer, small ? 8 : printer.choices().per_page);
        code_strips(pages, set, center);
    }
}

}  // namespace tallyround::sheets
