#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "ui/screens/chart_parts.h"
#include "ui/screens/fit_parts.h"

namespace tallyround::ui {

void set_time(Act& act, const ChartIds& ids, const std::vector<model::Period>& periods,
              const model::Timing& timing) {
    const session::SetTime wish{ids.cls, ids.block, periods, timing};
    const model::Block* block = block_now(act, ids);
    const bool other_rounds = block != nullptr && block->timing.rounds != timing.rounds;
    if (other_rounds && session::has_begun(*block)) {
        change_chart(act, ids, wish, "Another number of rounds");
    } else {
        act.send(wish, Reply::aloud);
    }
}

namespace {

void timing_rows(Ui& ui, const Scene& scene, Column& column, const ChartIds& ids) {
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
    const int most = block.timing.rounds_a_day;
    row("Most a day", &model::Timing::rounds_a_day, most, 0, 20, most == 0 ? "= any" : "");
    column.skip(gap);
}

struct Way {
    const char* id;
    std::string label;
    Action tap;
};

/// What would make it fit, each one tap.
std::vector<Way> ways_out(const model::Block& block, const session::Fitted& fit,
                          const ChartIds& ids) {
    std::vector<Way> out;
    const auto with = [&](int model::Timing::*part, int value) {
        return [ids, periods = block.periods, timing = block.timing, part, value](Act& act) {
            model::Timing t = timing;
            t.*part = value;
            set_time(act, ids, periods, t);
        };
    };
    if (fit.longest_round_minutes > 0) {
        out.push_back({"way-shorter", "Rounds of " + minutes_text(fit.longest_round_minutes),
                       with(&model::Timing::round_minutes, fit.longest_round_minutes)});
    }
    if (fit.rounds_that_fit > 0) {
        out.push_back(
            {"way-fewer",
             "Only " + base::count_of(std::size_t(fit.rounds_that_fit), "round", "rounds"),
             with(&model::Timing::rounds, fit.rounds_that_fit)});
    }
    if (fit.periods_needed > 0) {
        out.push_back({"way-day", "Another day", add_day(block, ids)});
    }
    return out;
}

void undo_times(Ui& ui, const Scene& scene, const Rect& r) {
    Button b;
    b.id = Ui::id({"fit-undo"});
    b.spoken = "Undo: " + scene.undo;
    b.icon = Icon::undo;
    b.icon_only = true;
    button(ui, r, b, [](Act& act) { act.send(session::Undo{}, Reply::aloud); });
}

/// The outcome stays in sight at the bottom, whatever is being adjusted above it.
void outcome(Ui& ui, const Scene& scene, Rect& area) {
    const model::Block& block = *scene.block;
    const session::Fitted fit = session::fit_block(block);
    const ChartIds ids{scene.cls->id, block.id};
    const float w = std::min(area.w - 2 * pad, 900.0F);
    const bool can_undo = scene.undo == "times";
    const float text_w = w - ui.scaled(34) - (can_undo ? touch + gap : 0);
    const Style style = ui.style(body_size, fit.fits ? ui.theme.ink : ui.theme.alert, true);
    const float used = ui.type().paragraph({0, 0, text_w, 0}, fit.sentence, style, false);
    const float line = std::max(used, can_undo ? touch : 0.0F);
    const float h = std::max(52.0F, ui.scaled(50));
    const auto ways = fit.fits ? std::vector<Way>{} : ways_out(block, fit, ids);
    const float rows = fit.fits || ways.empty() ? 1 : float(ways.size() + 1) / 2;
    const bool narrow = w < 520 * ui.text_scale;
    const float buttons = fit.fits ? h : ways.empty() ? 0 : narrow ? (h + 6) * std::floor(rows) : h;
    Rect bar = cut_bottom(area, line + buttons + 3 * gap);
    ui.bottom_bar = bar.h;
    ui.block(bar);
    ui.fill(bar, ui.theme.card, 0);
    ui.outline(bar, fit.fits ? ui.theme.accent : ui.theme.alert, 0, 1.5F);
    ui.open(Role::region, Ui::id({"outcome"}), "What fits", bar);
    const float x = bar.x + (bar.w - w) / 2;
    draw_icon(ui, fit.fits ? Icon::check : Icon::close, {x, bar.y + gap, ui.scaled(24), line},
              style.color, 2.5F);
    ui.paragraph(fit.sentence, {x + ui.scaled(34), bar.y + gap + (line - used) / 2, text_w, 0},
                 style, Role::status);
    if (can_undo) undo_times(ui, scene, {x + w - touch, bar.y + gap, touch, touch});
    Column column{x, bar.y + line + 2 * gap, w};
    Button b;
    if (fit.fits) {
        b.id = Ui::id({"to-groups"});
        b.label = "Make groups";
        b.icon = Icon::forward;
        b.icon_after = true;
        b.weight = Weight::primary;
        button(ui, column.row(h), b, go(Screen::groups));
    }
    const int across = narrow ? 2 : int(std::max<std::size_t>(1, ways.size()));
    Rect row;
    for (std::size_t i = 0; i < ways.size(); ++i) {
        if (int(i) % across == 0) row = column.row(h, 6);
        b.id = Ui::id({ways[i].id});
        b.label = ways[i].label;
        b.size = 16;
        const bool alone = int(i) % across == 0 && i + 1 == ways.size();
        button(ui, alone ? row : cell(row, int(i) % across, across, 6), b, ways[i].tap);
    }
    ui.close();
}

}  // namespace

void fit_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool centers = scene.block != nullptr && !session::open_centers(*scene.block).empty();
    const bool timed = centers && !scene.block->periods.empty();
    Rect page = area;
    if (timed) outcome(ui, scene, page);
    Column column = begin_page(ui, page, "fit", "Fit it into the period",
                               timed ? "" : "Rounds, moves, opening and closing against the bell.");
    if (!centers) {
        empty_state(ui, column, Icon::place, "Make centers first",
                    "The number of centers says how many rounds there are.");
        Button b;
        b.id = Ui::id({"go-centers"});
        b.label = "Make centers";
        b.icon = Icon::back;
        b.weight = Weight::primary;
        button(ui, column.row(std::max(54.0F, ui.scaled(52))), b, go(Screen::centers));
        end_page(ui, column);
        return;
    }
    const ChartIds ids{scene.cls->id, scene.block->id};
    if (timed) timing_rows(ui, scene, column, ids);
    day_rows(ui, scene, column, ids);
    end_page(ui, column);
}

}  // namespace tallyround::ui
