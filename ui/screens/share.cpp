#include "cards/bank.h"
#include "exchange/export.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

using Write = std::string (*)(const model::State&, const exchange::ExportOptions&);

std::string bank_title(std::string_view skill) {
    const cards::SkillInfo* info = cards::find_skill(skill);
    return info == nullptr ? "" : std::string(info->title);
}

/// Hands over one class's marks.
Action hand_over(const model::ClassId& cls, const std::string& what, Write write, bool names,
                 bool table = true) {
    return [cls, what, write, names, table](Act& act) {
        const model::Class* c = act.state().find_class(cls);
        if (c == nullptr) return;
        exchange::ExportOptions options;
        options.pseudonyms = !names;
        options.skill_title = bank_title;
        const std::string file =
            "tallyround-" + what + "-" + base::to_text(today(act.now)) + (table ? ".csv" : ".json");
        act.fx.emplace_back(SaveFile{file, table ? "text/csv" : "application/json",
                                     write(model::State{{*c}}, options)});
        act.say("File made: " + file + (names ? ", with names." : ", without names."));
    };
}

}  // namespace

void share_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "share", "Files of marks",
                               "Tables for a spreadsheet, of this class alone.");
    const bool names = scene.view.share_names;
    text_row(ui, column, exchange::sharing_caution(), ui.style(body_size, ui.theme.ink, true));
    column.skip(gap);
    text_row(
        ui, column,
        "Notes that only you keep, to remember by, are sole possession records; shown to others "
        "they are not. Marks are notes on practice, not an evaluation: where a child's eligibility "
        "or "
        "services are in question, a variety of sources must be drawn on (34 CFR 300.304(b)) "
        "and the decision is the school team's. Your school's policy comes first.",
        ui.body());
    section(ui, column, "How students are named");
    choices(ui, column.row(std::max(touch, ui.scaled(44))), "Names in the file",
            {{"Numbers", !names, [](Act& act) { act.view.share_names = false; }},
             {"Real names", names, [](Act& act) { act.view.share_names = true; }}});
    text_row(ui, column,
             names ? "Real names go into the file. Keep it where only you can read it."
                   : "\"Student 01\" in place of names, and nothing that you wrote yourself. A "
                     "small class can still be guessed at.",
             names ? ui.style(body_size, ui.theme.alert, true) : ui.soft());
    column.skip(gap);
    Button marks;
    marks.id = Ui::id({"share-marks"});
    marks.label = "Every mark (CSV)";
    marks.icon = Icon::file;
    Button summary;
    summary.id = Ui::id({"share-summary"});
    summary.label = "Counts a skill (CSV)";
    summary.icon = Icon::file;
    Button xapi;
    xapi.id = Ui::id({"share-xapi"});
    xapi.label = "Statements (xAPI)";
    xapi.icon = Icon::file;
    Button archive;
    archive.id = Ui::id({"share-archive"});
    archive.label = "For the school's archive";
    archive.icon = Icon::file;
    const auto& cls = scene.cls->id;
    button_grid(ui, column,
                {{marks, hand_over(cls, "marks", exchange::marks_csv, names)},
                 {summary, hand_over(cls, "summary", exchange::summary_csv, names)},
                 {xapi, hand_over(cls, "xapi", exchange::marks_xapi, names, false)},
                 {archive, hand_over(cls, "archive", exchange::archive_csv, names)}},
                2);
    end_page(ui, column);
}

}  // namespace tallyround::ui
