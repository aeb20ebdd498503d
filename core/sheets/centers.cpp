#include <algorithm>

#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

namespace {

/// A heading and a list under it, over as many pages as it takes.
void list(Pages& pages, std::string_view heading, const std::vector<std::string>& items,
          const Face& face, bool numbered) {
    if (items.empty()) return;
    if (pages.left_over() < 26) pages.page();
    pages.paragraph(heading, {13, true}, 1.5);
    int n = 0;
    for (const std::string& item : items) {
        ++n;
        pages.paragraph(item, face, face.pt * 0.14, numbered ? std::to_string(n) + "." : "–");
    }
    pages.gap(4);
}

/// "Find the error": the largest size of 72 points and more at which it fits, or what does.
struct SignWords {
    std::string text;
    std::string below;  ///< the whole title, smaller, where the sign cannot hold it
    double points = 72;
};

constexpr double sign_least = 72;
constexpr double sign_line = 1.08;

SignWords sign_words(const CenterBox& center, double width, double height) {
    const auto size_for = [&](std::string_view text) {
        for (double p = 110; p >= sign_least; p -= 2) {
            const int lines = int(height / (p * mm_of_pt * sign_line));
            if (lines > 0 && fitting_size(text, width, lines, p, p, true) == p) return p;
        }
        return 0.0;
    };
    const double own = size_for(center.title);
    if (own > 0) return {center.title, "", own};
    const std::string plain = "Center " + std::to_string(center.number);
    return {plain, center.title, std::max(size_for(plain), sign_least)};
}

/// One side of a sign; the other side is the same turned around.
std::string sign_face(const CenterBox& center, double w, double h) {
    const double top = 36;
    const SignWords words = sign_words(center, w - 10, h - top - 16);
    const double line = words.points * mm_of_pt * sign_line;
    std::string inside = box_at(5, 4, 34, 34, "", ring(center.number, 32));
    const std::string skill = shortened(center.skill_title, w - 52, 3, {18, false});
    inside += box_at(44, 6, w - 49, 28, "",
                     "<div style=\"height:28mm;display:flex;align-items:center\">" +
                         line_box("p", {18, false}, 18 * mm_of_pt * 1.25, skill) + "</div>");
    const double below = words.below.empty() ? 0 : 18;
    std::string text = line_box("h1", {words.points, true}, line, words.text);
    if (below > 0) {
        text += line_box("p", {18, true}, 18 * mm_of_pt * 1.25,
                         shortened(words.below, w - 12, 2, {18, true}));
    }
    inside += box_at(5, top + 4, w - 10, h - top - 8, "mid", text);
    return inside;
}

double label_list(std::string& inside, double y, double w, double bottom,
                  const std::vector<std::string>& items) {
    const Face face{11, false};
    const double line = face.pt * mm_of_pt * 1.3;
    for (const std::string& item : items) {
        const std::string text = shortened(item, w - 8, 2, face);
        const double h = lines_of(text, w - 8, face) * line;
        if (y + h > bottom) {
            inside += box_at(0, y, w, line, "", line_box("p", face, line, "… see the checklist"));
            return y + line;
        }
        inside += box_at(0, y + 0.6, 4, 4, "", tick(3.4));
        inside += box_at(7, y, w - 7, h, "", line_box("p", face, line, text));
        y += h + 0.8;
    }
    return y;
}

std::string label(const CenterBox& center, double w, double h) {
    const double inner = w - 10;
    std::string inside = box_at(0, 0, 18, 18, "", ring(center.number, 17));
    const std::string title = shortened(center.title, inner - 21, 2, {16, true});
    inside += box_at(21, 0, inner - 21, 17, "",
                     "<div style=\"height:17mm;display:flex;align-items:center\">" +
                         line_box("h2", {16, true}, 16 * mm_of_pt * 1.2, title) + "</div>");
    const std::string skill = shortened(center.skill_title, inner, 2, {11, false});
    const double line = 11 * mm_of_pt * 1.3;
    double y = 20;
    const double skill_h = lines_of(skill, inner, {11, false}) * line;
    inside += box_at(0, y, inner, skill_h, "", line_box("p", {11, false}, line, skill));
    y += skill_h + 2;
    inside += box_at(0, y, inner, 1, "thin", "");
    y += 2;
    const double bottom = h - 12;
    std::vector<std::string> contents = center.materials;
    contents.insert(contents.begin(), "Center instructions, table sign");
    const double space = (bottom - y) * (center.reset.empty() ? 1 : 0.62);
    y = label_list(inside, y, inner, y + space - line, contents) + 2;
    if (!center.reset.empty()) {
        inside +=
            box_at(0, y, inner, line, "", line_box("b", {11, true}, line, "Before the next group"));
        label_list(inside, y + line + 0.5, inner, bottom - line, center.reset);
    }
    return box_at(5, 5, inner, h - 10, "", inside);
}

}  // namespace

void center_instructions(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    for (const CenterBox& center : box.centers) {
        pages.page();
        const double title_w = pages.width() - 36;
        double size = fitting_size(center.title, title_w, 2, 34, 18, true);
        if (size == 0) size = 18;
        const std::string title = shortened(center.title, title_w, 2, {size, true});
        pages.add(
            "<div class=\"in\" style=\"height:34mm\">" +
                box_at(0, 0, 30, 30, "", ring(center.number, 28)) +
                box_at(34, 0, title_w, 29, "",
                       "<div style=\"height:29mm;display:flex;align-items:center\">" +
                           line_box("h1", {size, true}, size * mm_of_pt * 1.15, title) + "</div>") +
                "</div>",
            34);
        pages.add("<div class=\"band\" style=\"height:4mm\"></div>", 4);
        pages.paragraph(center.skill_title, {18, false}, 6);
        list(pages, "What to do", center.steps, {20, false}, true);
        list(pages, "What you need", center.materials, {15, false}, false);
        list(pages, "Before you leave", center.reset, {15, false}, false);
        const std::string_view caution = caution_for(center.kind);
        if (!caution.empty()) pages.paragraph(caution, {10, false});
    }
}

void table_signs(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    for (const CenterBox& center : box.centers) {
        pages.page();
        const double half = pages.height() / 2;
        const std::string face = sign_face(center, pages.width(), half - 4);
        pages.add(box_at(0, 0, pages.width(), half - 4, "turned", face) +
                      box_at(0, half, pages.width(), 0.3, "fold", "") +
                      box_at(0, half + 4, pages.width(), half - 4, "", face),
                  pages.height());
    }
}

void box_labels(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    const double w = pages.width() / 2;
    const double h = pages.height() / 2;
    for (std::size_t i = 0; i < box.centers.size(); ++i) {
        if (i % 4 == 0) pages.page();
        pages.add(box_at(double(i % 2) * w, double(i % 4 / 2) * h, w, h, "cut",
                         label(box.centers[i], w, h)),
                  0);
    }
}

}  // namespace tallyround::sheets
