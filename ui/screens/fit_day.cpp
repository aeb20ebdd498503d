#include <algorithm>

#include "base/text.h"
#include "ui/screens/fit_parts.h"

namespace tallyround::ui {

namespace {

constexpr int most_breaks = 6;

std::string clock(int minute) {
    return base::clock_text(minute * 60);
}

std::string span(int start, int end) {
    return clock(start) + " to " + clock(end);
}

/// The next day that is not a Saturday or Sunday.
base::Date school_day_after(const base::Date& date) {
    base::Date d = date;
    do {
        d = base::civil_from_days(base::days_from_civil(d) + 1);
    } while (base::weekday(d) >= 5);
    return d;
}

std::string break_name(int i, const char* part) {
    return "day-break-" + std::to_string(i) + "-" + part;
}

void open_day(Act& act, std::size_t index, const model::Period& p) {
    View& v = act.view;
    v.index = int(index);
    v.drafts["day-date"] = base::to_text(p.date);
    v.drafts["day-start"] = clock(p.start_minute);
    v.drafts["day-end"] = clock(p.end_minute);
    v.day_breaks = int(p.breaks.size());
    for (int i = 0; i < v.day_breaks; ++i) {
        v.drafts[break_name(i, "start")] = clock(p.breaks[std::size_t(i)].start_minute);
        v.drafts[break_name(i, "end")] = clock(p.breaks[std::size_t(i)].end_minute);
    }
    v.overlay = Overlay::day;
}

/// One bar a day: rounds with their numbers, breaks hatched.
void day_picture(Ui& ui, const model::Period& p, const session::Fitted& fit, std::size_t day,
                 const Rect& r) {
    const float per_second = r.w / float(std::max(1, (p.end_minute - p.start_minute) * 60));
    const auto box = [&](int start, int end) {
        return Rect{r.x + float(start - p.start_minute * 60) * per_second, r.y,
                    float(end - start) * per_second, r.h};
    };
    ui.fill(r, ui.theme.sunk, 6);
    ui.outline(r, fade(ui.theme.line, 0.6F), 6);
    for (const model::Break& b : p.breaks) {
        const Rect at = box(b.start_minute * 60, b.end_minute * 60);
        ui.push_clip(at);
        for (float x = at.x - at.h; x < at.right(); x += 8)
            ui.list().AddLine({x, at.bottom()}, {x + at.h, at.y}, ui.theme.ink_soft, 1.5F);
        ui.pop_clip();
        ui.outline(at, ui.theme.ink_soft, 0, 1);
    }
    for (const session::RoundTime& round : fit.rounds) {
        if (round.period != int(day)) continue;
        const Rect at = box(round.start_second, round.end_second);
        ui.fill(at, ui.theme.accent_soft, 6);
        ui.outline(at, ui.theme.accent, 6, 1.5F);
        ui.type().line(at, std::to_string(round.number),
                       ui.style(lead_size, ui.theme.ink, true, Align::center));
    }
}

std::string day_words(const session::Fitted& fit, const model::Period& p, std::size_t day) {
    std::string text;
    for (const session::RoundTime& r : fit.rounds) {
        if (r.period != int(day)) continue;
        text += (text.empty() ? "" : " · ") + std::string("Round ") + std::to_string(r.number) +
                " " + base::clock_text(r.start_second) + "–" + base::clock_text(r.end_second);
    }
    if (text.empty()) text = "No round on this day";
    for (const model::Break& b : p.breaks)
        text += " · Break " + clock(b.start_minute) + "–" + clock(b.end_minute);
    if (day < fit.spare_minutes.size()) {
        text += " · " + minutes_text(fit.spare_minutes[day]) + " to spare";
    }
    return text;
}

struct Typed {
    std::optional<model::Period> period;
    std::string trouble;  ///< why there is none
};

std::optional<int> typed_minute(const View& view, const std::string& name) {
    std::string text = base::trim(view.draft(name));
    if (text.size() == 4 && text[1] == ':') text.insert(0, "0");
    const auto second = base::parse_clock(text);
    if (!second) return std::nullopt;
    return *second / 60;
}

/// The day as it is typed so far.
Typed typed_day(const View& view) {
    const auto date = base::parse_date(base::trim(view.draft("day-date")));
    if (!date) return {{}, "Date: write it as 2026-12-01 (year, month, day)."};
    const auto start = typed_minute(view, "day-start");
    if (!start) return {{}, "Starts: write the time as 09:10."};
    const auto end = typed_minute(view, "day-end");
    if (!end) return {{}, "Ends: write the time as 10:05."};
    model::Period p{*date, *start, *end};
    for (int i = 0; i < view.day_breaks; ++i) {
        const auto from = typed_minute(view, break_name(i, "start"));
        const auto to = typed_minute(view, break_name(i, "end"));
        if (!from || !to) return {{}, "Break: write its times as 09:30 and 09:45."};
        p.breaks.push_back({*from, *to});
    }
    return {p, ""};
}

/// What fits with these periods, in words; the reason when they cannot be.
std::string outcome_with(const model::Block& block, std::vector<model::Period> periods) {
    if (periods.empty()) return "No day is left.";
    std::stable_sort(
        periods.begin(), periods.end(), [](const model::Period& a, const model::Period& b) {
            return std::pair(a.date, a.start_minute) < std::pair(b.date, b.start_minute);
        });
    model::Timing timing = block.timing;
    timing.rounds = session::wished_rounds(block);
    return session::fit_wish(periods, timing).sentence;
}

void keep_day(Act& act, const ChartIds& ids, std::vector<model::Period> periods,
              const model::Timing& timing, std::size_t index) {
    const Typed typed = typed_day(act.view);
    if (!typed.period) return act.say(typed.trouble, true);
    periods[index] = *typed.period;
    if (act.send(session::SetTime{ids.cls, ids.block, periods, timing})) close_overlay(act);
}

void small_field(Ui& ui, const Scene& scene, const Rect& r, const std::string& name,
                 const char* label, const char* keyboard) {
    Field f;
    f.name = name;
    f.label = label;
    f.value = scene.view.draft(name);
    f.keyboard = keyboard;
    text_field(ui, r, f);
}

void break_rows(Ui& ui, const Scene& scene, Column& column) {
    const int breaks = scene.view.day_breaks;
    for (int i = 0; i < breaks; ++i) {
        Rect row = column.row(field_height(ui));
        const Rect drop = cut_right(row, touch);
        cut_right(row, gap);
        const std::string n = breaks == 1 ? "" : " " + std::to_string(i + 1);
        small_field(ui, scene, cell(row, 0, 2), break_name(i, "start"),
                    ("Break" + n + " from").c_str(), "time");
        small_field(ui, scene, cell(row, 1, 2), break_name(i, "end"), ("Break" + n + " to").c_str(),
                    "time");
        Button b;
        b.id = Ui::id({"drop-break", std::to_string(i)});
        b.spoken = "Take out break" + n;
        b.icon = Icon::trash;
        b.icon_only = true;
        button(ui, {drop.x, drop.bottom() - touch, touch, touch}, b, [i](Act& act) {
            View& v = act.view;
            for (int k = i; k + 1 < v.day_breaks; ++k) {
                for (const char* part : {"start", "end"})
                    v.drafts[break_name(k, part)] = v.draft(break_name(k + 1, part));
            }
            --v.day_breaks;
        });
    }
    if (breaks >= most_breaks) return;
    Button b;
    b.id = Ui::id({"add-break"});
    b.label = "Add a break";
    b.spoken = "Add a break: an assembly, lunch";
    b.icon = Icon::plus;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, [](Act& act) {
        View& v = act.view;
        const int start = typed_minute(v, "day-start").value_or(9 * 60);
        const int end = typed_minute(v, "day-end").value_or(10 * 60);
        const int from = (start + end) / 10 * 5;  // near the middle, on five minutes
        v.drafts[break_name(v.day_breaks, "start")] = clock(from);
        v.drafts[break_name(v.day_breaks, "end")] = clock(std::max(from, std::min(end, from + 10)));
        ++v.day_breaks;
    });
}

}  // namespace

Action add_day(const model::Block& block, const ChartIds& ids) {
    return [ids, periods = block.periods, timing = block.timing](Act& act) {
        auto more = periods;
        model::Period next{today(act.now), 9 * 60 + 10, 10 * 60 + 5};
        if (!more.empty()) {
            next = more.back();
            next.date = school_day_after(next.date);
            next.breaks.clear();
        }
        more.push_back(next);
        set_time(act, ids, more, timing);
    };
}

void day_rows(Ui& ui, const Scene& scene, Column& column, const ChartIds& ids) {
    const model::Block& block = *scene.block;
    const session::Fitted fit = session::fit_block(block);
    for (std::size_t i = 0; i < block.periods.size(); ++i) {
        const model::Period& p = block.periods[i];
        RowItem item;
        item.id = Ui::id({"day", std::to_string(i)});
        item.title = base::short_day(p.date) + ", " + span(p.start_minute, p.end_minute);
        item.detail = minutes_text(p.end_minute - p.start_minute);
        if (!p.breaks.empty()) {
            item.detail += ", " + base::count_of(p.breaks.size(), "break", "breaks");
        }
        item.icon = Icon::clock;
        item.trailing = Icon::pen;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [i, p](Act& act) { open_day(act, i, p); });
        day_picture(ui, p, fit, i, column.row(ui.scaled(40), 4));
        column.y +=
            ui.paragraph(day_words(fit, p, i), {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(pad);
    }
    Button b;
    b.id = Ui::id({"add-day"});
    b.label = block.periods.empty() ? "Set the period" : "Add another day";
    b.icon = Icon::plus;
    b.weight = block.periods.empty() ? Weight::primary : Weight::plain;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, add_day(block, ids));
}

void day_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const auto index = std::size_t(scene.view.index);
    const model::Block& block = *scene.block;
    if (index >= block.periods.size()) return;
    const ChartIds ids{scene.cls->id, block.id};
    Column column = begin_sheet(ui, "Day and bell times", ui.scaled(340), close_overlay);
    small_field(ui, scene, column.row(field_height(ui)), "day-date", "Date (year-month-day)",
                "date");
    const Rect row = column.row(field_height(ui), pad);
    small_field(ui, scene, cell(row, 0, 2), "day-start", "Starts", "time");
    small_field(ui, scene, cell(row, 1, 2), "day-end", "Ends", "time");
    break_rows(ui, scene, column);
    const Typed typed = typed_day(scene.view);
    std::vector<model::Period> periods = block.periods;
    std::vector<model::Period> without = block.periods;
    without.erase(without.begin() + std::ptrdiff_t(index));
    if (typed.period) periods[index] = *typed.period;
    const std::string text = typed.period ? outcome_with(block, periods) : typed.trouble;
    column.y += ui.paragraph(text, {column.x, column.y, column.w, 0},
                             ui.style(body_size, ui.theme.ink, true), Role::status);
    column.skip(gap);
    const float h = std::max(52.0F, ui.scaled(50));
    Button b;
    b.id = Ui::id({"keep-day"});
    b.label = "Keep";
    b.weight = Weight::primary;
    button(ui, column.row(h), b,
           [ids, all = block.periods, timing = block.timing, index](Act& act) {
               keep_day(act, ids, all, timing, index);
           });
    b.id = Ui::id({"drop-day"});
    b.label = "Take this day out";
    b.weight = Weight::danger;
    button(ui, column.row(h, 4), b, [ids, without, timing = block.timing](Act& act) {
        if (act.send(session::SetTime{ids.cls, ids.block, without, timing})) close_overlay(act);
    });
    column.y += ui.paragraph("Without this day: " + outcome_with(block, without),
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
