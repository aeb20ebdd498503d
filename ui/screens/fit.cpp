#include <algorithm>

#include "base/text.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

struct Ids {
    model::ClassId cls;
    model::BlockId block;
};

std::string clock(int minute) {
    return base::clock_text(minute * 60);
}

/// The next day that is not a Saturday or Sunday.
base::Date school_day_after(const base::Date& date) {
    base::Date d = date;
    do {
        d = base::civil_from_days(base::days_from_civil(d) + 1);
    } while (base::weekday(d) >= 5);
    return d;
}

void set_time(Act& act, const Ids& ids, const std::vector<model::Period>& periods,
              const model::Timing& timing) {
    act.send(session::SetTime{ids.cls, ids.block, periods, timing}, Reply::aloud);
}

void day_rows(Ui& ui, const Scene& scene, Column& column, const Ids& ids) {
    const model::Block& block = *scene.block;
    for (std::size_t i = 0; i < block.periods.size(); ++i) {
        const model::Period& p = block.periods[i];
        RowItem item;
        item.id = Ui::id({"day", std::to_string(i)});
        item.title =
            base::short_day(p.date) + ", " + clock(p.start_minute) + " to " + clock(p.end_minute);
        item.detail = minutes_text(p.end_minute - p.start_minute);
        item.icon = Icon::clock;
        item.trailing = Icon::pen;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [i, p](Act& act) {
            act.view.index = int(i);
            act.view.drafts["day-date"] = base::to_text(p.date);
            act.view.drafts["day-start"] = clock(p.start_minute);
            act.view.drafts["day-end"] = clock(p.end_minute);
            act.view.overlay = Overlay::day;
        });
    }
    Button b;
    b.id = Ui::id({"add-day"});
    b.label = block.periods.empty() ? "Set the period" : "Add another day";
    b.icon = Icon::plus;
    b.weight = block.periods.empty() ? Weight::primary : Weight::plain;
    model::Period next{today(scene.now), 9 * 60 + 10, 10 * 60 + 5};
    if (!block.periods.empty()) {
        next = block.periods.back();
        next.date = school_day_after(next.date);
    }
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
           [ids, periods = block.periods, timing = block.timing, next](Act& act) {
               auto more = periods;
               more.push_back(next);
               set_time(act, ids, more, timing);
           });
}

void timing_rows(Ui& ui, const Scene& scene, Column& column, const Ids& ids) {
    const model::Block& block = *scene.block;
    const float h = std::max(54.0F, ui.scaled(50));
    const auto row = [&](const char* name, int model::Timing::*part, int value, int low, int high,
                         const char* unit) {
        const Rect r = column.row(h, 2);
        stepper(ui, r, name, value, low, high, 1, unit,
                [ids, periods = block.periods, timing = block.timing, part](Act& act, int n) {
                    model::Timing t = timing;
                    t.*part = n;
                    set_time(act, ids, periods, t);
                });
    };
    row("Rounds", &model::Timing::rounds, session::wished_rounds(block), 1, 20, "");
    row("One round", &model::Timing::round_minutes, block.timing.round_minutes, 3, 60, "min");
    row("Moving on", &model::Timing::move_minutes, block.timing.move_minutes, 0, 10, "min");
    row("Opening", &model::Timing::opening_minutes, block.timing.opening_minutes, 0, 30, "min");
    row("Closing", &model::Timing::closing_minutes, block.timing.closing_minutes, 0, 30, "min");
}

/// One bar a day: opening, rounds, moves, closing, what is left over.
void day_picture(Ui& ui, const model::Block& block, const session::Fitted& fit, std::size_t day,
                 const Rect& r) {
    const model::Period& p = block.periods[day];
    const float per_second = r.w / float(std::max(1, (p.end_minute - p.start_minute) * 60));
    ui.fill(r, ui.theme.sunk, 6);
    ui.outline(r, fade(ui.theme.line, 0.6F), 6);
    for (const session::RoundTime& round : fit.rounds) {
        if (round.period != int(day)) continue;
        const float x = r.x + float(round.start_second - p.start_minute * 60) * per_second;
        const float w = float(round.end_second - round.start_second) * per_second;
        const Rect box{x, r.y, w, r.h};
        ui.fill(box, ui.theme.accent_soft, 6);
        ui.outline(box, ui.theme.accent, 6, 1.5F);
        ui.type().line(box, std::to_string(round.number),
                       ui.style(lead_size, ui.theme.ink, true, Align::center));
    }
}

void result(Ui& ui, const Scene& scene, Column& column) {
    const model::Block& block = *scene.block;
    if (block.periods.empty()) return;
    const session::Fitted fit = session::fit_block(block);
    const ImU32 ink = fit.fits ? ui.theme.ink : ui.theme.alert;
    column.y += ui.paragraph(fit.sentence, {column.x, column.y, column.w, 0},
                             ui.style(body_size, ink, true), Role::status);
    column.skip(gap);
    for (std::size_t d = 0; d < block.periods.size(); ++d) {
        ui.type().line(column.row(ui.scaled(22), 2), base::short_day(block.periods[d].date),
                       ui.soft());
        day_picture(ui, block, fit, d, column.row(ui.scaled(44)));
        std::string text;
        for (const session::RoundTime& r : fit.rounds) {
            if (r.period != int(d)) continue;
            text += (text.empty() ? "" : " · ") + std::string("Round ") + std::to_string(r.number) +
                    " " + base::clock_text(r.start_second) + "–" + base::clock_text(r.end_second);
        }
        if (text.empty()) text = "No round on this day.";
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(gap);
    }
}

}  // namespace

void fit_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "fit", "Fit it into the period",
                               "Rounds, moves, opening and closing against the bell.");
    const float h = std::max(54.0F, ui.scaled(52));
    Button b;
    if (scene.block == nullptr || session::open_centers(*scene.block).empty()) {
        empty_state(ui, column, Icon::place, "Make centers first",
                    "The number of centers says how many rounds there are.");
        b.id = Ui::id({"go-centers"});
        b.label = "Make centers";
        b.icon = Icon::back;
        b.weight = Weight::primary;
        button(ui, column.row(h), b, go(Screen::centers));
        end_page(ui, column);
        return;
    }
    const Ids ids{scene.cls->id, scene.block->id};
    day_rows(ui, scene, column, ids);
    column.skip(gap);
    result(ui, scene, column);
    if (!scene.block->periods.empty()) {
        if (session::fit_block(*scene.block).fits) {
            b.id = Ui::id({"to-groups"});
            b.label = "Make groups";
            b.icon = Icon::forward;
            b.icon_after = true;
            b.weight = Weight::primary;
            button(ui, column.row(h, pad), b, go(Screen::groups));
        }
        timing_rows(ui, scene, column, ids);
    }
    end_page(ui, column);
}

namespace {

void keep_day(Act& act, const Ids& ids, std::vector<model::Period> periods,
              const model::Timing& timing, std::size_t index) {
    const auto date = base::parse_date(base::trim(act.view.draft("day-date")));
    const auto clock_of = [&](const char* name) {
        std::string text = base::trim(act.view.draft(name));
        if (text.size() == 4 && text[1] == ':') text.insert(0, "0");
        return base::parse_clock(text);
    };
    const auto start = clock_of("day-start");
    const auto end = clock_of("day-end");
    if (!date) return act.say("Date: write it as 2026-12-01 (year, month, day).", true);
    if (!start) return act.say("Starts: write the time as 09:10.", true);
    if (!end) return act.say("Ends: write the time as 10:05.", true);
    periods[index] = {*date, *start / 60, *end / 60};
    if (act.send(session::SetTime{ids.cls, ids.block, periods, timing}, Reply::plain)) {
        close_overlay(act);
    }
}

}  // namespace

void day_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const auto index = std::size_t(scene.view.index);
    if (index >= scene.block->periods.size()) return;
    const Ids ids{scene.cls->id, scene.block->id};
    Column column = begin_sheet(ui, "Day and bell times", ui.scaled(340), close_overlay);
    const auto field = [&](const Rect& r, const char* name, const char* label,
                           const char* keyboard) {
        Field f;
        f.name = name;
        f.label = label;
        f.value = scene.view.draft(name);
        f.keyboard = keyboard;
        text_field(ui, r, f);
    };
    field(column.row(field_height(ui)), "day-date", "Date (year-month-day)", "date");
    const Rect row = column.row(field_height(ui), pad);
    field(cell(row, 0, 2), "day-start", "Starts", "time");
    field(cell(row, 1, 2), "day-end", "Ends", "time");
    const float h = std::max(52.0F, ui.scaled(50));
    Button b;
    b.id = Ui::id({"keep-day"});
    b.label = "Keep";
    b.weight = Weight::primary;
    button(ui, column.row(h), b,
           [ids, periods = scene.block->periods, timing = scene.block->timing, index](Act& act) {
               keep_day(act, ids, periods, timing, index);
           });
    b.id = Ui::id({"drop-day"});
    b.label = "Take this day out";
    b.weight = Weight::danger;
    button(ui, column.row(h), b,
           [ids, periods = scene.block->periods, timing = scene.block->timing,
            index](Act& act) mutable {
               periods.erase(periods.begin() + std::ptrdiff_t(index));
               if (act.send(session::SetTime{ids.cls, ids.block, periods, timing})) {
                   close_overlay(act);
               }
           });
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
