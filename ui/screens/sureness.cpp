#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

using session::WordRecord;

/// What came after a word, as lengths with the marks' shapes in front.
void outcome_bars(Ui& ui, Column& column, const WordRecord& r) {
    const std::pair<model::Level, int> parts[] = {{model::Level::secure, r.secure},
                                                  {model::Level::shaky, r.shaky},
                                                  {model::Level::stuck, r.stuck}};
    for (const auto& [level, count] : parts) {
        Rect row = column.row(ui.scaled(26), 2);
        mark_shape(ui, level, cut_left(row, ui.scaled(34)));
        const Rect number = cut_right(row, ui.scaled(48));
        ui.type().line(number, std::to_string(count),
                       ui.style(small_size, ui.theme.ink, true, Align::right));
        row = inset(row, 4, 6);
        ui.fill(row, ui.theme.sunk, 3);
        ui.outline(row, fade(ui.theme.line, 0.5F), 3);
        const float w = row.w * float(count) / float(std::max(1, r.said));
        if (count == 0) continue;
        ui.fill({row.x, row.y, w, row.h}, level_color(ui.theme, level), 3);
        ui.outline({row.x, row.y, w, row.h}, ui.theme.line, 3);
    }
}

void words_part(Ui& ui, Column& column, const session::Calibration& c) {
    section(ui, column, "What was said, and the next look");
    text_row(ui, column, c.why, ui.body());
    for (const WordRecord& r : c.words) {
        column.skip(gap);
        text_row(ui, column, r.text, ui.style(body_size, ui.theme.ink, r.said > 0));
        text_row(ui, column, "Expected beforehand: secure " + in_100(r.expected) + ".", ui.soft());
        column.skip(6);
        outcome_bars(ui, column, r);
    }
}

/// Said across, came upwards: on the slanting line the two agree.
void chance_picture(Ui& ui, Column& column, const session::Calibration& c) {
    if (c.scores.forecasts == 0) return;
    section(ui, column, "Chances given, and how often secure came");
    const float side = std::min(column.w - ui.scaled(36), 280.0F);
    const Rect all = column.row(side + ui.scaled(26), gap);
    const Rect r{all.x + ui.scaled(36), all.y + 8, side, side - 8};
    const auto at = [&](double said, double came) {
        return ImVec2{r.x + r.w * float(said), r.bottom() - r.h * float(came)};
    };
    ImDrawList& list = ui.list();
    ui.card(r);
    list.AddLine(at(0, 0), at(1, 1), ui.theme.line, 1.5F);
    const Style small = ui.style(12, ui.theme.ink_soft, false, Align::right);
    for (const int percent : {0, 50, 100}) {
        const ImVec2 left = at(0, percent / 100.0);
        const ImVec2 foot = at(percent / 100.0, 0);
        const std::string text = std::to_string(percent);
        ui.type().line({all.x, left.y - 16, ui.scaled(30), 32}, text, small);
        ui.type().line({foot.x - 30, foot.y + 4, 60, ui.scaled(18)}, text,
                       ui.style(12, ui.theme.ink_soft, false, Align::center));
    }
    for (const evidence::CalibrationBin& bin : c.bins) {
        if (bin.forecasts == 0) continue;
        const double came = double(bin.happened) / double(bin.forecasts);
        const ImVec2 low = at(bin.stated, bin.came.low);
        const ImVec2 high = at(bin.stated, bin.came.high);
        list.AddLine(low, high, ui.theme.accent, 2);
        list.AddLine({low.x - 5, low.y}, {low.x + 5, low.y}, ui.theme.accent, 2);
        list.AddLine({high.x - 5, high.y}, {high.x + 5, high.y}, ui.theme.accent, 2);
        const float size = std::clamp(2 + std::sqrt(float(bin.forecasts)), 4.0F, 10.0F);
        list.AddCircleFilled(at(bin.stated, came), size, ui.theme.accent);
    }
    ui.node(Role::image, Ui::id({"calibration"}), "Chances given before a look against what came",
            all);
    text_row(ui, column,
             "Said across, came upwards, from " +
                 base::count_of(c.scores.forecasts, "look", "looks") +
                 ". On the slanting line the two agree; they differ by " +
                 std::to_string(std::lround(100 * c.scores.calibration_error)) +
                 " in 100 on average. Bars show what chance alone allows.",
             ui.soft());
}

void reading_part(Ui& ui, const Scene& scene, Column& column) {
    const session::Reading reading = session::reading_of(*scene.cls, scene.standings);
    section(ui, column, "How marks are read");
    text_row(ui, column, reading.why, ui.body());
    column.skip(gap);
    for (const session::ReadingLine& line : reading.lines) {
        text_row(ui, column, line.what, ui.body());
        text_row(ui, column, "Here " + line.ours + " · usually " + line.usual, ui.soft());
        column.skip(4);
    }
    column.skip(gap);
    Button b;
    b.id = Ui::id({"keep-usual"});
    b.label = reading.kept_usual ? "Let them be fitted again" : "Keep the usual numbers";
    b.icon = reading.kept_usual ? Icon::aim : Icon::undo;
    button_grid(ui, column,
                {{b,
                  [cls = scene.cls->id, usual = !reading.kept_usual](Act& act) {
                      act.send(session::KeepUsualReading{cls, usual});
                  }}},
                2);
}

}  // namespace

void sureness_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "sureness", "How sure is this?",
                               "Every mark was foretold from the marks before it. Here is how "
                               "often that was right.");
    const session::Calibration& c = scene.insight->calibration();
    if (c.words.empty()) {
        empty_state(ui, column, Icon::chart, "Nothing to compare yet",
                    "Marks without help are compared with what was expected before them.");
    } else {
        words_part(ui, column, c);
        chance_picture(ui, column, c);
    }
    reading_part(ui, scene, column);
    evidence_caution(ui, column);
    end_page(ui, column);
}

}  // namespace tallyround::ui
