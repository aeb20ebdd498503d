#include <algorithm>

#include "base/text.h"
#include "sheets/html.h"
#include "sheets/parts.h"
#include "sheets/supplies.h"

namespace tallyround::sheets {

namespace {

/// "[ ] words ……… detail": a line to tick, over as many lines as its words take.
void tick_line(Pages& pages, std::string_view words, std::string_view detail, bool ticked = false) {
    const Face face{12, false};
    const Face small{10, false};
    const double line = face.pt * mm_of_pt * 1.35;
    const double detail_w = detail.empty() ? 0 : pages.width() * 0.4;
    const double words_w = pages.width() - 9 - detail_w - 2;
    const std::string text = shortened(words, words_w, 6, face);
    const std::string more = shortened(detail, detail_w - 2, 3, small);
    const double h = std::max(lines_of(text, words_w, face),
                              detail.empty() ? 1 : lines_of(more, detail_w - 2, small)) *
                         line +
                     1.2;
    std::string inside = box_at(0, 0.7, 5, 5, "", tick(4.6));
    if (ticked) inside += box_at(0.9, 0.2, 5, 5, "", "<b style=\"font-size:12pt\">×</b>");
    inside += box_at(9, 0, words_w, h, "", line_box("p", face, line, text));
    if (!detail.empty())
        inside += box_at(pages.width() - detail_w, 0.4, detail_w, h, "",
                         line_box("p", small, line, more));
    pages.add("<div class=\"in\" style=\"height:" + mm(h) + "\">" + inside + "</div>", h);
}

void section(Pages& pages, std::string_view title) {
    pages.gap(3);
    if (pages.left_over() < 22) pages.page();
    pages.add("<div class=\"thin\" style=\"height:1.5mm\"></div>", 1.5);
    pages.paragraph(title, {14, true}, 1.5);
}

void print_lines(Pages& pages, Printer& printer) {
    section(pages, "Print");
    for (const SheetKind& kind : sheet_kinds()) {
        if (kind.id == "checklist") continue;
        const base::Result<Sheet>& sheet = printer.sheet(kind.id);
        if (!sheet) continue;
        tick_line(pages, kind.title, base::count_of(std::size_t(sheet->pages), "page", "pages"));
    }
    tick_line(pages, "Cut the cards; put each center's set and key into its box", "");
}

void device_lines(Pages& pages, const PrepBox& box) {
    const int need = devices_at_once(box);
    if (need == 0) return;
    section(pages, "Devices");
    std::string detail = "the class has " + std::to_string(box.devices);
    if (need > box.devices) detail += ": " + std::to_string(need - box.devices) + " too few";
    tick_line(pages,
              base::count_of(std::size_t(need), "device", "devices") + " charged, in use at once",
              detail);
    tick_line(pages, "Task cards at hand in case a device fails", "");
}

/// The largest size at which every rule fits its row, or 0.
double rule_size(const std::vector<std::string>& rules, double width, double row) {
    for (double size = 40; size >= 20; size -= 2) {
        const double line = size * mm_of_pt * 1.2;
        const bool fits = std::all_of(rules.begin(), rules.end(), [&](const std::string& rule) {
            return lines_of(rule, width, {size, false}) * line <= row - 3;
        });
        if (fits) return size;
    }
    return 0;
}

}  // namespace

void procedures_poster(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    pages.page();
    const double w = pages.width();
    const double top = 34;
    pages.add(box_at(0, 0, w, 24, "", line_box("h1", {50, true}, 22, "At our centers")) +
                  box_at(0, 27, w, 1, "band", ""),
              0);
    const std::vector<std::string>& rules = box.procedures;
    const double row =
        std::min(44.0, (pages.height() - top) / double(std::max<std::size_t>(1, rules.size())));
    const double size = row < 16 ? 0 : rule_size(rules, w - 34, row);
    if (size == 0) {
        pages.add("<div style=\"height:" + mm(top) + "\"></div>", top);
        int n = 0;
        for (const std::string& rule : rules)
            pages.paragraph(rule, {22, false}, 4, std::to_string(++n) + ".");
        return;
    }
    for (std::size_t i = 0; i < rules.size(); ++i) {
        const double y = top + double(i) * row;
        pages.add(box_at(0, y, 30, row, "tall", ring(int(i) + 1, std::min(24.0, row - 3))) +
                      box_at(34, y, w - 34, row, "tall",
                             line_box("p", {size, false}, size * mm_of_pt * 1.2, rules[i])),
                  0);
    }
}

void prep_checklist(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    title_block(pages, "Prep checklist", 28);
    std::string sum = base::count_of(box.students(), "student", "students") + " in " +
                      base::count_of(box.groups.size(), "group", "groups") + ", " +
                      base::count_of(box.centers.size(), "center", "centers") + ", " +
                      base::count_of(box.rounds.size(), "round", "rounds");
    if (box.round_minutes > 0) sum += " of " + std::to_string(box.round_minutes) + " minutes";
    pages.paragraph(sum + ".", {12, false}, 2);
    print_lines(pages, printer);
    const std::vector<Supply> all = supplies(box);
    for (const CenterBox& center : box.centers) {
        section(pages,
                std::to_string(center.number) + "  " + center.title + ": " + center.skill_title);
        for (const Supply& s : all)
            if (s.center == center.number)
                tick_line(pages, supply_words(s), supply_detail(s, "; "), s.ready);
        if (!center.reset.empty())
            pages.paragraph("Between rounds: " + joined(center.reset), {10, false}, 0.5);
        const std::string_view caution = caution_for(center.kind);
        if (!caution.empty()) pages.paragraph(caution, {10, false}, 0.5);
    }
    device_lines(pages, box);
    section(pages, "Room");
    tick_line(pages, "Signs stand, chart and procedures hang where all can see them", "");
    tick_line(pages, "A place for each group, with a free way between the centers", "");
    tick_line(pages, "Students who need a fixed place or other help have it",
              "as your school's plans say");
    pages.gap(3);
    pages.paragraph(practice_notice, {10, false});
}

void makeup_list(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    title_block(pages, "To make up", 28);
    if (box.missed.empty()) {
        pages.paragraph("Nobody is marked absent. Write down who comes to be missed.", {12, false},
                        3);
        for (int i = 0; i < 12; ++i)
            pages.add("<div class=\"in thin\" style=\"height:14mm\">" +
                          box_at(0, 4, 5, 5, "", tick(4.6)) + "</div>",
                      14);
        return;
    }
    pages.paragraph(
        "One way: the task cards of a center with a partner, or the teacher center in "
        "the next block.",
        {12, false}, 3);
    for (const MissedBox& missed : box.missed) {
        section(pages,
                shortened(missed.student + (missed.group.empty() ? "" : " · " + missed.group),
                          pages.width(), 3, {14, true}));
        for (const int number : missed.centers) {
            const CenterBox* center = box.center(number);
            if (center != nullptr)
                tick_line(pages, std::to_string(number) + "  " + center->title,
                          center->skill_title);
        }
    }
    pages.gap(4);
    pages.paragraph("This list names students: keep it as your school's policy says.", {10, false});
}

}  // namespace tallyround::sheets
