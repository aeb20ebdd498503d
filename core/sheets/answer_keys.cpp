#include <algorithm>

#include "cards/bank.h"
#include "sheets/center_set.h"
#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

namespace {

constexpr Face body{10.5, false};
constexpr Face strong{12, true};
constexpr Face small{9, false};
constexpr double mark_w = 17;
constexpr double answer_w = 50;

/// A box of wrapped text whose lines stand far enough apart for its fractions; adds its height.
std::string text_at(double x, double y, double w, const Face& face, std::string_view text,
                    double& height) {
    const double lines = lines_of(text, w, face) * math_line(text, face.pt);
    height = std::max(height, y + lines);
    std::string p =
        "<p style=\"font-size:" + pt(face.pt) + ";line-height:" + mm(math_line(text, face.pt));
    if (face.bold) p += ";font-weight:700";
    return box_at(x, y, w, lines, "", p + "\">" + math_html(text) + "</p>");
}

void key_row(Pages& pages, const KeyRow& row) {
    // Whatever a plan file holds, a row has an end.
    const auto kept = [](const std::string& text) { return shortened(text, 120, 12, body); };
    const double text_w = pages.width() - mark_w - answer_w - 3;
    double height = 0;
    std::string inside;
    double first = 0;
    inside += text_at(0, 1.5, mark_w, strong, row.mark, first);
    if (row.problem.empty()) {
        inside += text_at(mark_w, 1.5, pages.width() - mark_w, body, kept(row.answer), first);
    } else {
        inside += text_at(mark_w, 1.5, text_w, body, kept(row.problem), first);
        inside += text_at(pages.width() - answer_w, 1.5, answer_w, strong, kept(row.answer), first);
    }
    height = first + 0.6;
    if (!row.steps.empty()) {
        double end = height;
        inside += text_at(mark_w, height, pages.width() - mark_w, small, "How: " + row.steps, end);
        height = end + 0.6;
    }
    for (const auto& [answer, rule] : row.slips) {
        double end = height;
        inside += text_at(mark_w, height, 38, small, "If " + answer, end);
        inside += text_at(mark_w + 40, height, pages.width() - mark_w - 40, small, rule, end);
        height = end;
    }
    height += 1.5;
    pages.add("<div class=\"in thin\" style=\"height:" + mm(height) + "\">" + inside + "</div>",
              height);
}

void heading(Pages& pages, const CenterBox& center) {
    const double h = 16;
    const std::string title =
        shortened(center.title + " · " + center.skill_title, pages.width() - 20, 1, {14, true});
    std::string detail = center.code.empty() ? "" : "Standard " + center.code + " · ";
    detail += "Keep it face down at the center, or with the teacher.";
    pages.add("<div class=\"in\" style=\"height:" + mm(h) + "\">" +
                  box_at(0, 0, 14, 14, "", ring(center.number, 13)) +
                  box_at(18, 0, pages.width() - 18, 7, "", line_box("h2", {14, true}, 7, title)) +
                  box_at(18, 7.5, pages.width() - 18, 6, "",
                         line_box("p", small, 5, shortened(detail, pages.width() - 20, 1, small))) +
                  "</div>",
              h);
}

void code_words(Pages& pages, const CenterSet& set) {
    std::string words;
    for (const CenterSet::Code& code : set.codes)
        words += (words.empty() ? "Self-check words: " : "; ") + code.first + " to " + code.last +
                 ": " + code.word;
    if (words.empty()) return;
    pages.gap(2);
    pages.paragraph(words, body);
}

}  // namespace

void answer_keys(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    std::vector<const cards::SlipInfo*> named;
    bool codes = false;
    for (const CenterBox& center : box.centers) {
        const CenterSet& set = printer.set(center);
        pages.page();
        heading(pages, center);
        if (set.key.empty()) {
            pages.paragraph("No cards yet: write the answers of your own cards here.", body);
            for (int i = 0; i < 12; ++i)
                pages.add("<div class=\"thin\" style=\"height:12mm\"></div>", 12);
        }
        for (const KeyRow& row : set.key)
            key_row(pages, row);
        code_words(pages, set);
        for (const cards::SlipInfo* slip : set.slips)
            if (std::find(named.begin(), named.end(), slip) == named.end()) named.push_back(slip);
        codes = codes || !center.code.empty();
    }
    pages.gap(6);
    if (!named.empty()) {
        pages.paragraph("Where the rules of wrong answers are described", strong);
        std::vector<std::string> sources;
        for (const cards::SlipInfo* slip : named) {
            std::string source = slip->source.empty() ? "Others" : std::string(slip->source);
            source += " (" + std::string(slip->status) + ")";
            if (std::find(sources.begin(), sources.end(), source) == sources.end())
                sources.push_back(std::move(source));
        }
        std::sort(sources.begin(), sources.end());
        for (const std::string& source : sources)
            pages.paragraph(source, small, 0.5);
        pages.gap(3);
    }
    pages.paragraph(practice_notice, small);
    if (codes) pages.paragraph(cards::standards_notice(), small);
}

}  // namespace tallyround::sheets
