#include <algorithm>

#include "base/text.h"
#include "session/chart_plan.h"
#include "session/prep.h"
#include "ui/screens/chart_parts.h"

namespace tallyround::ui {

namespace {

/// From this width on a cell has room for the center's title.
constexpr float title_width = 84;
constexpr float space = 4;

std::string number_of(const model::Block& block, const model::CenterId& id) {
    const int number = session::center_number(block, id);
    return number == 0 ? "" : std::to_string(number);
}

std::string clock_of(const session::Fitted& fit, int round) {
    if (round > int(fit.rounds.size())) return "";
    return base::clock_text(fit.rounds[std::size_t(round - 1)].start_second);
}

struct Sizes {
    float head = 0;  ///< of the column with the groups' names
    float cell = 0;
    float height = 0;
    bool names = false;  ///< room for "Group 1" and not only "1"
};

Sizes sizes_of(Ui& ui, float width, const model::Block& block) {
    const int rounds = std::max(1, int(session::round_count(block)));
    Sizes s;
    s.height = std::max(touch, ui.scaled(46));
    const auto cell = [&](float head) { return (width - head) / float(rounds) - space; };
    s.head = ui.scaled(96);
    s.names = cell(s.head) >= touch;
    if (!s.names) s.head = ui.scaled(30);
    s.cell = cell(s.head);
    if (s.cell >= title_width * ui.text_scale) s.height = ui.scaled(66);
    return s;
}

/// What a cell is, beside its center.
struct CellState {
    bool done = false;
    bool now = false;
    bool picked = false;
    bool beside = false;  ///< in the round of the picked one: a tap swaps
    bool changed = false;
    bool pinned = false;
};

CellState state_of(const Scene& scene, const ChartView& chart, int group, int round) {
    const model::Block& block = chart.block;
    CellState s;
    s.done = round <= block.rounds_done;
    s.now = block.lesson.running() && block.lesson.round == round;
    if (chart.touchable) {
        s.picked = scene.view.cell_group == group + 1 && scene.view.cell_round == round;
        s.beside = scene.view.cell_group > 0 && scene.view.cell_round == round && !s.picked;
    }
    s.pinned = is_pinned(block, group, round);
    if (chart.was != nullptr && round <= int(session::round_count(*chart.was))) {
        s.changed =
            model::center_at(*chart.was, group, round) != model::center_at(block, group, round);
    }
    return s;
}

std::string spoken(const ChartView& chart, int group, int round, const CellState& s) {
    const model::CenterId at = model::center_at(chart.block, group, round);
    const model::Center* c = model::find_center(chart.block, at);
    std::string text = "free";
    if (c != nullptr) {
        text = (c->closed ? "closed center" : "center " + number_of(chart.block, at)) + ", " +
               session::center_title(*c);
    }
    if (s.pinned) text += ", pinned";
    if (s.changed) {
        const model::CenterId was = model::center_at(*chart.was, group, round);
        text += was.empty() ? ", was free" : ", was " + center_mark(*chart.was, was);
    }
    return text;
}

void paint_center(Ui& ui, const model::Block& block, const model::CenterId& at, Rect r, ImU32 ink) {
    const model::Center* c = model::find_center(block, at);
    if (c == nullptr) {
        ui.type().line(r, "–", ui.style(lead_size, ink, true, Align::center));
        return;
    }
    const bool titled = r.w >= title_width * ui.text_scale;
    const float size = std::min(ui.scaled(lead_size), r.w * 0.56F) / ui.text_scale;
    const std::string number = c->closed ? "×" : number_of(block, at);
    if (titled) {
        Rect title = inset(r, 4, 3);
        Rect top = cut_top(title, ui.scaled(24));
        ui.type().line(cut_left(top, top.w / 2 - 2), number,
                       ui.style(size, ink, true, Align::right));
        draw_kind(ui, c->kind, inset(cut_left(top, ui.scaled(30)), 3), ink, 1.6F);
        const Style small = ui.style(13, ink, false, Align::center);
        const std::string text = session::center_title(*c);
        if (ui.type().paragraph(title, text, small, false) <= title.h + 2) {
            ui.type().paragraph(title, text, small);
        } else {
            ui.type().line(title, text, small);
        }
        return;
    }
    const Rect picture = inset(cut_bottom(r, r.h * 0.46F), 2, 3);
    ui.type().line(r, number, ui.style(size, ink, true, Align::center));
    draw_kind(ui, c->kind, picture, ink, 1.5F);
}

void paint_cell(Ui& ui, const ChartView& chart, const Rect& r, int group, int round,
                const CellState& s) {
    const Theme& t = ui.theme;
    const ImU32 surface = s.picked             ? t.accent
                          : s.changed || s.now ? t.accent_soft
                          : s.done             ? t.sunk
                                               : t.card;
    ui.fill(r, surface, 6);
    const bool strong = s.changed || s.beside;
    ui.outline(r, strong ? t.accent : fade(t.line, t.outlines ? 1 : 0.5F), 6, strong ? 2.5F : 1.0F);
    const ImU32 ink = s.picked ? t.on_accent : s.done ? t.ink_soft : t.ink;
    if (s.changed) {
        ui.list().AddTriangleFilled({r.x, r.y}, {r.x + 13, r.y}, {r.x, r.y + 13}, t.accent);
    }
    if (s.pinned) {
        const ImVec2 at{r.right() - 7, r.y + 7};
        ui.list().AddCircleFilled(at, 4, ink);
        ui.list().AddLine(at, {at.x - 6, at.y + 8}, ink, 2);
    }
    paint_center(ui, chart.block, model::center_at(chart.block, group, round), r, ink);
}

void head_row(Ui& ui, Column& column, const Sizes& s, const model::Block& block) {
    const session::Fitted fit = session::fit_block(block);
    Rect head = column.row(ui.scaled(42), space);
    const Rect corner_box = cut_left(head, s.head);
    if (!s.names) draw_icon(ui, Icon::groups, inset(corner_box, 4), ui.theme.ink_soft);
    for (int round = 1; round <= int(session::round_count(block)); ++round) {
        Rect at = cut_left(head, s.cell + space);
        at.w = s.cell;
        const Style bold = ui.style(16, ui.theme.ink, true, Align::center);
        const std::string word = "Round " + std::to_string(round);
        const bool fits = ui.type().width(word, bold) <= s.cell;
        ui.type().line({at.x, at.y, at.w, at.h / 2}, fits ? word : std::to_string(round), bold);
        const std::string clock = clock_of(fit, round);
        ui.node(Role::text, Ui::id({"round-head", std::to_string(round)}),
                clock.empty() ? word : word + ", " + clock, at);
        const Style small =
            ui.style(s.cell > 44 ? 14.0F : 11.0F, ui.theme.ink_soft, false, Align::center);
        if (ui.type().width(clock, small) > at.w + 2) continue;
        ui.type().line({at.x - 2, at.y + at.h / 2, at.w + 4, at.h / 2}, clock, small);
    }
}

/// One target for the whole row where its cells are too narrow for a finger.
void row_node(Ui& ui, const ChartView& chart, const Rect& r, int group, const std::string& text) {
    const std::uint32_t id = Ui::id({"chart-row", std::to_string(group)});
    const std::string label = session::group_name(group) + ": " + text;
    if (!chart.touchable) {
        ui.node(Role::text, id, label, r);
        return;
    }
    if (ui.focused(id)) ui.focus_ring(r, 6);
    ui.node(Role::button, id, label, r);
    ui.target(id, r, [group](Act& act) {
        act.view.chart_side = 2;
        act.view.chart_at = group + 1;
        act.view.cell_group = 0;
    });
}

}  // namespace

std::string center_mark(const model::Block& block, const model::CenterId& id) {
    const model::Center* c = model::find_center(block, id);
    if (c == nullptr) return "free";
    const std::string number = number_of(block, id);
    return (number.empty() ? "" : number + " ") + session::center_title(*c);
}

bool narrow_columns(Ui& ui, float width, const model::Block& block) {
    return sizes_of(ui, width, block).cell < touch;
}

void chart_grid(Ui& ui, const Scene& scene, Column& column, const ChartView& chart) {
    const Sizes s = sizes_of(ui, column.w, chart.block);
    const bool by_row = !chart.touchable || s.cell < touch;
    const int rounds = int(session::round_count(chart.block));
    head_row(ui, column, s, chart.block);
    for (int g = 0; g < int(chart.block.chart.size()); ++g) {
        const Rect whole = column.row(s.height, space);
        Rect row = whole;
        const Rect name = cut_left(row, s.head);
        const std::string shown = s.names ? session::group_name(g) : std::to_string(g + 1);
        const Style bold = ui.style(16, ui.theme.ink, true);
        if (by_row) {
            ui.type().line(name, shown, bold);
        } else {
            ui.text_line(shown, name, bold);
        }
        std::string text;
        for (int round = 1; round <= rounds; ++round) {
            Rect at = cut_left(row, s.cell + space);
            at.w = s.cell;
            const CellState state = state_of(scene, chart, g, round);
            paint_cell(ui, chart, at, g, round, state);
            const std::string words = spoken(chart, g, round, state);
            text += (round == 1 ? "round " : "; round ") + std::to_string(round) + " " + words;
            if (by_row) continue;
            const std::uint32_t id = Ui::id({"cell", std::to_string(g), std::to_string(round)});
            if (ui.focused(id)) ui.focus_ring(at, 6);
            Node& n = ui.node(
                Role::button, id,
                session::group_name(g) + ", round " + std::to_string(round) + ": " + words, at);
            n.disabled = state.done;
            if (!state.done) ui.target(id, at, tap_cell(scene, g, round));
        }
        if (by_row) row_node(ui, chart, whole, g, text);
    }
    column.skip(gap);
}

void chart_list(Ui& ui, const Scene& scene, Column& column) {
    const model::Block& block = *scene.block;
    const session::Fitted fit = session::fit_block(block);
    const bool by_round = scene.view.chart_side == 1;
    const int rounds = int(session::round_count(block));
    const int count = by_round ? rounds : int(block.chart.size());
    const int at = std::clamp(scene.view.chart_at, 1, std::max(1, count));
    Rect bar = column.row(std::max(touch, ui.scaled(48)));
    const auto turn = [&](const Rect& r, Icon icon, const char* name, int to) {
        Button b;
        b.id = Ui::id({"chart-turn", name});
        b.spoken = std::string(name) + (by_round ? " round" : " group");
        b.icon = icon;
        b.icon_only = true;
        b.disabled = to < 1 || to > count;
        button(ui, r, b, [to](Act& act) {
            act.view.chart_at = to;
            act.view.cell_group = 0;
        });
    };
    turn(cut_left(bar, touch), Icon::back, "Previous", at - 1);
    turn(cut_right(bar, touch), Icon::forward, "Next", at + 1);
    const std::string clock = by_round ? clock_of(fit, at) : "";
    const std::string title = by_round
                                  ? "Round " + std::to_string(at) + " of " +
                                        std::to_string(rounds) + (clock.empty() ? "" : ", " + clock)
                                  : session::group_name(at - 1);
    ui.text_line(title, bar, ui.style(lead_size, ui.theme.ink, true, Align::center));
    for (int i = 1; i <= (by_round ? int(block.chart.size()) : rounds); ++i) {
        const int group = by_round ? i - 1 : at - 1;
        const int round = by_round ? at : i;
        const CellState state = state_of(scene, {block}, group, round);
        const model::CenterId id = model::center_at(block, group, round);
        const model::Center* c = model::find_center(block, id);
        RowItem item;
        item.id = Ui::id({"cell", std::to_string(group), std::to_string(round)});
        const std::string time = by_round ? "" : clock_of(fit, round);
        item.title = (by_round ? session::group_name(group) : "Round " + std::to_string(round)) +
                     (time.empty() ? "" : ", " + time) + ": " + center_mark(block, id);
        if (c != nullptr) item.detail = session::skill_title(*scene.cls, c->skill);
        if (state.pinned) item.detail += (item.detail.empty() ? "" : " · ") + std::string("pinned");
        item.spoken = session::group_name(group) + ", round " + std::to_string(round) + ": " +
                      spoken({block}, group, round, state);
        item.on = state.picked;
        item.trailing = state.picked || state.done ? Icon::check : Icon::none;
        if (state.done) {
            item.detail += (item.detail.empty() ? "" : " · ") + std::string("done");
            row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [](Act&) {});
            continue;
        }
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 tap_cell(scene, group, round));
    }
}

void chart_legend(Ui& ui, const Scene& scene, Column& column, const model::Block& block) {
    column.y += ui.heading(2, "Centers", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    for (const model::Center* c : session::open_centers(block)) {
        const float head = ui.scaled(64);
        const std::string text =
            session::center_title(*c) + " · " + session::skill_title(*scene.cls, c->skill);
        const std::string number = number_of(block, c->id);
        const Rect mark{column.x, column.y, head, ui.scaled(26)};
        Rect rest = mark;
        ui.type().line(cut_left(rest, ui.scaled(28)), number,
                       ui.style(body_size, ui.theme.ink, true));
        draw_kind(ui, c->kind, inset(cut_left(rest, ui.scaled(28)), 2), ui.theme.ink, 1.6F);
        const Rect box{column.x + head, column.y, column.w - head, 0};
        const float used = ui.type().paragraph(box, text, ui.body());
        ui.node(Role::text, Ui::id({"legend", c->id.view()}), number + " " + text,
                {column.x, column.y, column.w, used});
        column.y += std::max(used, mark.h) + 4;
    }
}

}  // namespace tallyround::ui
