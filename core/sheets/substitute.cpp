#include <algorithm>

#include "base/text.h"
#include "sheets/html.h"
#include "sheets/parts.h"

namespace tallyround::sheets {

namespace {

constexpr std::size_t most_rounds = 14;
constexpr std::size_t most_groups = 14;
constexpr double head_w = 30;
constexpr double notes_h = 22;

/// One page, from top to bottom.
class Note {
  public:
    explicit Note(Pages& pages) : pages_(pages) { pages_.page(); }

    double y() const { return y_; }
    double room() const { return pages_.height() - notes_h - y_; }
    void skip(double height) { y_ += height; }
    void put(double x, double w, double h, std::string_view cls, std::string_view inside) {
        pages_.add(box_at(x, y_, w, h, cls, inside), 0);
    }
    void say(const std::string& text, const Face& face, int lines, double after) {
        const std::string kept = shortened(text, pages_.width(), lines, face);
        const double line = face.pt * mm_of_pt * 1.28;
        const double h = lines_of(kept, pages_.width(), face) * line;
        put(0, pages_.width(), h, "", line_box("p", face, line, kept));
        y_ += h + after;
    }

  private:
    Pages& pages_;
    double y_ = 0;
};

void how_it_goes(Note& note, const PrepBox& box) {
    note.say(
        "Groups of students review one skill at each center and move on when the time is "
        "over: " +
            base::count_of(box.rounds.size(), "round", "rounds") + " of " +
            std::to_string(box.round_minutes) + " minutes, " + std::to_string(box.move_minutes) +
            " to move. The boxes are labelled; each holds instructions, cards and a key.",
        {11, false}, 4, 1.5);
    note.say(
        "1. Show the chart: each group finds its number.   2. Start the time. Walk; help with "
        "a question rather than an answer.   3. Two minutes before the end say so; at the "
        "signal everybody puts the center right.   4. Groups move together.   5. At the end "
        "collect the boxes. Please note below what went well and who could not do what.",
        {11, false}, 6, 2);
}

void small_chart(Note& note, const PrepBox& box, double width) {
    const std::size_t rounds = std::min(box.rounds.size(), most_rounds);
    const double cell = std::min(22.0, (width - head_w) / double(std::max<std::size_t>(1, rounds)));
    const double row = box.groups.size() > 8 ? 5.4 : 6.6;
    for (std::size_t r = 0; r < rounds; ++r) {
        const std::string clock = box.rounds[r].start();
        note.put(head_w + double(r) * cell, cell, 9, "mid",
                 line_box("b", {10, true}, 4.4, std::to_string(r + 1)) +
                     line_box("span", {cell < 14 ? 7.0 : 9.0, false}, 4, clock));
    }
    note.skip(9.5);
    for (std::size_t g = 0; g < std::min(box.groups.size(), most_groups); ++g) {
        const GroupBox& group = box.groups[g];
        note.put(0, head_w, row, "", line_box("b", {11, true}, row, group.name));
        note.put(0, width, 0.3, "thin", "");
        for (std::size_t r = 0; r < rounds; ++r) {
            const int number = r < group.route.size() ? group.route[r] : 0;
            note.put(
                head_w + double(r) * cell, cell, row, "mid",
                line_box("span", {12, false}, row, number == 0 ? "–" : std::to_string(number)));
        }
        note.skip(row);
    }
    note.skip(3);
}

void legend(Note& note, const PrepBox& box, bool names) {
    std::vector<std::string> lines;
    for (const CenterBox& center : box.centers)
        lines.push_back(std::to_string(center.number) + "  " + center.title + ": " +
                        center.skill_title);
    if (names) {
        for (const GroupBox& group : box.groups)
            lines.push_back(group.name + ": " + base::list_of(group.students));
    }
    const double line = 10 * mm_of_pt * 1.28;
    const double each = note.room() / line / double(std::max<std::size_t>(1, lines.size()));
    for (const std::string& text : lines) {
        const int most = std::clamp(int(std::min(each, note.room() / line)), 1, 3);
        if (note.room() < line) break;
        note.say(text, {10, false}, most, 0.4);
    }
    if (!names && note.room() > line)
        note.say("The names of the groups' students are on the group cards.", {10, false}, 1, 1);
}

}  // namespace

void substitute_note(Pages& pages, Printer& printer) {
    const PrepBox& box = printer.box();
    Note note(pages);
    note.say("Thank you for taking this lesson", {24, true}, 1, 1);
    note.say(box.class_name + (box.block_title.empty() ? "" : " · " + box.block_title), {12, false},
             1, 2);
    note.put(0, pages.width(), 1, "band", "");
    note.skip(3);
    how_it_goes(note, box);
    small_chart(note, box, pages.width());
    legend(note, box, printer.choices().names);
    const double w = pages.width();
    const double h = pages.height();
    pages.add(box_at(0, h - 20, w, 5, "", line_box("b", {11, true}, 5, "Notes")) +
                  box_at(0, h - 8, w, 0.3, "thin", "") + box_at(0, h - 1, w, 0.3, "thin", ""),
              0);
}

}  // namespace tallyround::sheets
