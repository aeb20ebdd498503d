#include <algorithm>

#include "ui/screens/scene.h"

namespace tallyround::ui {

const std::vector<StepWords>& path() {
    using session::Step;
    static const std::vector<StepWords> steps{
        {Step::students, Screen::students, Icon::people, "Students"},
        {Step::skills, Screen::skills, Icon::aim, "Skills"},
        {Step::centers, Screen::centers, Icon::place, "Centers"},
        {Step::fit, Screen::fit, Icon::clock, "Time"},
        {Step::groups, Screen::groups, Icon::groups, "Groups"},
        {Step::chart, Screen::chart, Icon::grid, "Chart"},
        {Step::walk, Screen::walk, Icon::walk, "Walk"},
        {Step::review, Screen::review, Icon::chart, "Review"},
    };
    return steps;
}

const StepWords* next_words(const model::Class& cls) {
    const session::Step step = session::next_step(cls);
    const auto it = std::find_if(path().begin(), path().end(),
                                 [&](const StepWords& s) { return s.step == step; });
    return it == path().end() ? nullptr : &*it;
}

base::Date today(const Now& now) {
    const std::int64_t local = now.utc_ms + std::int64_t{now.utc_offset_minutes} * 60'000;
    std::int64_t days = local / 86'400'000;
    if (local % 86'400'000 < 0) --days;
    return base::civil_from_days(days);
}

int local_second(const Now& now, std::int64_t utc_ms) {
    const std::int64_t local = utc_ms + std::int64_t{now.utc_offset_minutes} * 60'000;
    const std::int64_t in_day = (local % 86'400'000 + 86'400'000) % 86'400'000;
    return int(in_day / 1000);
}

std::string clock_at(const Now& now, std::int64_t utc_ms) {
    return base::clock_text(local_second(now, utc_ms) / 60 * 60);
}

std::string minutes_clock(std::int64_t ms) {
    // Rounded up, so that 12:00 is shown for the whole first second and 0:00 only at the end.
    const std::int64_t seconds = ms > 0 ? (ms + 999) / 1000 : -((-ms) / 1000);
    const std::int64_t shown = std::abs(seconds);
    const std::string two = (shown % 60 < 10 ? "0" : "") + std::to_string(shown % 60);
    return (seconds < 0 ? "+" : "") + std::to_string(shown / 60) + ":" + two;
}

std::string minutes_text(int minutes) {
    return std::to_string(minutes) + " min";
}

Column begin_page(Ui& ui, const Rect& area, std::string_view name, std::string_view title,
                  std::string_view lead) {
    ui.open(Role::main, Ui::id({"main"}), "", area);
    const float y = ui.begin_scroll(Ui::id({"page", name}), area);
    const float w = std::min(area.w - 2 * pad, 900.0F);
    Column column{area.x + (area.w - w) / 2, y + pad, w};
    column.y +=
        ui.heading(1, title, {column.x, column.y, w, 0}, ui.style(title_size, ui.theme.ink, true));
    if (!lead.empty()) {
        column.skip(2);
        column.y +=
            ui.paragraph(lead, {column.x, column.y, w, 0}, ui.style(body_size, ui.theme.ink_soft));
    }
    column.skip(pad);
    return column;
}

void end_page(Ui& ui, const Column& column) {
    ui.end_scroll(column.y + 96);  // room for the message at the bottom
    ui.close();
}

Action go(Screen screen) {
    return [screen](Act& act) { act.go(screen); };
}

Action open_overlay(Overlay overlay) {
    return [overlay](Act& act) { act.view.overlay = overlay; };
}

void tick_row(Ui& ui, Column& column, const char* id, const char* text, bool on, Action tap) {
    RowItem item;
    item.id = Ui::id({id});
    item.title = text;
    item.icon = on ? Icon::check : Icon::none;
    item.on = on;
    item.role = Role::checkbox;
    // Room for the tick is there before it is: the words do not move under the finger.
    RowItem measured = item;
    measured.icon = Icon::check;
    row_item(ui, column.row(row_height(ui, column.w, measured), gap), item, std::move(tap));
}

void draw_overlay(Ui& ui, const Scene& scene) {
    using Draw = void (*)(Ui&, const Scene&);
    static constexpr std::pair<Overlay, Draw> all[] = {
        {Overlay::new_class, new_class_sheet},
        {Overlay::steps, steps_sheet},
        {Overlay::student, student_sheet},
        {Overlay::own_skill, own_skill_sheet},
        {Overlay::center, center_sheet},
        {Overlay::center_skill, center_skill_sheet},
        {Overlay::day, day_sheet},
        {Overlay::mark, mark_sheet},
        {Overlay::marks, marks_sheet},
        {Overlay::absent, absent_sheet},
        {Overlay::confirm_end, end_sheet_question},
        {Overlay::late, late_sheet},
        {Overlay::group, group_sheet},
        {Overlay::why, why_sheet},
        {Overlay::stock, stock_sheet},
        {Overlay::own_cards, own_cards_sheet},
        {Overlay::card_picture, card_picture_sheet},
        {Overlay::center_levels, center_levels_sheet},
        {Overlay::next_levels, next_levels_sheet},
        {Overlay::school_class, school_class_sheet},
        {Overlay::notices, notices_sheet},
        {Overlay::chart_rules, chart_rules_sheet},
        {Overlay::center_rules, center_rules_sheet},
        {Overlay::chart_trouble, chart_trouble_sheet},
        {Overlay::repair, repair_sheet},
        {Overlay::proposal, proposal_sheet},
        {Overlay::obstacles, obstacles_sheet},
        {Overlay::group_rules, group_rules_sheet},
        {Overlay::group_why, group_why_sheet},
        {Overlay::group_term, group_term_sheet},
        {Overlay::center_marks, center_marks_sheet},
        {Overlay::next_kind, next_kind_sheet},
        {Overlay::keys, keys_sheet},
        {Overlay::erase, erase_sheet},
        {Overlay::passcode, passcode_sheet},
        {Overlay::sealed_file, sealed_file_sheet},
        {Overlay::conflicts, conflicts_sheet},
    };
    for (const auto& [overlay, draw] : all) {
        if (overlay == scene.view.overlay) draw(ui, scene);
    }
}

}  // namespace tallyround::ui
