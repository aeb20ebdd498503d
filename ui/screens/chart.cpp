#include <algorithm>

#include "base/text.h"
#include "session/prep.h"
#include "sheets/sheet.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

std::string center_number(const model::Block& block, const model::CenterId& id) {
    const int number = session::center_number(block, id);
    return number == 0 ? "" : std::to_string(number);
}

std::string round_clock(const session::Fitted& fit, std::size_t round) {
    if (round >= fit.rounds.size()) return "";
    return base::clock_text(fit.rounds[round].start_second);
}

/// The poster for the wall, as a page of its own.
void print_poster(Act& act, const model::ClassId& cls_id, const model::BlockId& block_id) {
    const model::Class* cls = act.state().find_class(cls_id);
    const model::Block* block = cls == nullptr ? nullptr : cls->block(block_id);
    if (block == nullptr) return;
    const auto out = print_out(*cls, *block, {sheets::find_sheet_kind("chart")}, act.view.print);
    if (!out) return act.say(out.error().text(), true);
    act.fx.emplace_back(out->page);
}

/// A cell: tap it, then another of the same round, and the two groups change centers.
void chart_cell(Ui& ui, const Scene& scene, const Rect& r, int group, int round) {
    const model::Block& block = *scene.block;
    const model::CenterId at = model::center_at(block, group, round);
    const model::Center* c = model::find_center(block, at);
    const bool done = round <= block.rounds_done;
    const bool now_running = block.lesson.running() && block.lesson.round == round;
    const bool picked = scene.view.round == round && scene.view.index == group + 1;
    const std::uint32_t id = Ui::id({"cell", std::to_string(group), std::to_string(round)});
    const ImU32 surface = picked        ? ui.theme.accent
                          : now_running ? ui.theme.accent_soft
                          : done        ? ui.theme.sunk
                                        : ui.theme.card;
    ui.fill(r, surface, 6);
    ui.outline(r, fade(ui.theme.line, ui.theme.outlines ? 1 : 0.5F), 6);
    if (ui.focused(id)) ui.focus_ring(r, 6);
    const std::string number = at.empty() ? "–" : center_number(block, at);
    const ImU32 ink = picked ? ui.theme.on_accent : done ? ui.theme.ink_soft : ui.theme.ink;
    ui.type().line(r, number, ui.style(lead_size, ink, true, Align::center));
    const std::string spoken =
        session::group_name(group) + ", round " + std::to_string(round) + ": " +
        (c == nullptr ? "free" : "center " + number + ", " + session::center_title(*c));
    Node& n = ui.node(Role::button, id, spoken, r);
    n.disabled = done;
    if (done) return;
    ui.target(id, r, [cls = scene.cls->id, block_id = block.id, group, round](Act& act) {
        View& v = act.view;
        if (v.index > 0 && v.round == round && v.index != group + 1) {
            act.send(session::SwapCells{cls, block_id, round, v.index - 1, group});
            v.index = 0;
        } else {
            const bool same = v.index == group + 1 && v.round == round;
            v.index = same ? 0 : group + 1;
            v.round = round;
        }
    });
}

void grid(Ui& ui, const Scene& scene, Column& column) {
    const model::Block& block = *scene.block;
    const int rounds = int(session::round_count(block));
    const session::Fitted fit = session::fit_block(block);
    const float head_w = std::min(ui.scaled(ui.wide() ? 110 : 78), column.w * 0.3F);
    const float space = 4;
    const float w = (column.w - head_w) / float(std::max(1, rounds)) - space;
    const float cell_h = std::max(touch, ui.scaled(46));
    Rect head = column.row(ui.scaled(42), space);
    cut_left(head, head_w);
    for (int r = 1; r <= rounds; ++r) {
        Rect at = cut_left(head, w + space);
        at.w = w;
        ui.text_line(w > 70 ? "Round " + std::to_string(r) : std::to_string(r),
                     {at.x, at.y, at.w, at.h / 2}, ui.style(16, ui.theme.ink, true, Align::center));
        const std::string clock = round_clock(fit, std::size_t(r - 1));
        ui.type().line({at.x - 2, at.y + at.h / 2, at.w + 4, at.h / 2}, clock,
                       ui.style(w > 44 ? 14.0F : 11.0F, ui.theme.ink_soft, false, Align::center));
    }
    for (int g = 0; g < int(block.chart.size()); ++g) {
        Rect row = column.row(cell_h, space);
        const Rect name = cut_left(row, head_w);
        ui.text_line(session::group_name(g), name, ui.style(16, ui.theme.ink, true));
        for (int r = 1; r <= rounds; ++r) {
            Rect at = cut_left(row, w + space);
            at.w = w;
            chart_cell(ui, scene, at, g, r);
        }
    }
    column.skip(gap);
    column.y += ui.paragraph("Tap two groups in one round to swap their centers.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
}

void legend(Ui& ui, const Scene& scene, Column& column) {
    column.y += ui.heading(2, "Centers", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    for (const model::Center* c : session::open_centers(*scene.block)) {
        const std::string text = center_number(*scene.block, c->id) + "  " +
                                 session::center_title(*c) + " · " +
                                 session::skill_title(*scene.cls, c->skill);
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.body());
        column.skip(4);
    }
}

void no_chart(Ui& ui, const Scene& scene, Column& column) {
    const float h = std::max(54.0F, ui.scaled(52));
    const std::string needs = session::step_needs(*scene.cls, session::Step::chart);
    Button b;
    b.weight = Weight::primary;
    if (!needs.empty()) {
        empty_state(ui, column, Icon::grid, "Not quite yet", needs);
        const session::Step step = session::next_step(*scene.cls);
        for (const StepWords& s : path()) {
            if (s.step != step) continue;
            b.id = Ui::id({"go-step"});
            b.label = std::string("Go to ") + s.title;
            b.icon = Icon::back;
            button(ui, column.row(h), b, go(s.screen));
        }
        return;
    }
    empty_state(ui, column, Icon::grid, "Ready to make the chart",
                "Every group visits the centers in order, one a round.");
    b.id = Ui::id({"make-chart"});
    b.label = "Make the chart";
    b.icon = Icon::grid;
    button(ui, column.row(h), b, [cls = scene.cls->id, block = scene.block->id](Act& act) {
        act.send(session::MakeChart{cls, block, 1});
    });
}

}  // namespace

void chart_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool none = scene.block == nullptr || scene.block->chart.empty();
    Column column = begin_page(ui, area, "chart", "Rotation chart",
                               none ? "" : "Which group is at which center in each round.");
    if (none) {
        no_chart(ui, scene, column);
        end_page(ui, column);
        return;
    }
    const float h = std::max(52.0F, ui.scaled(50));
    const auto cls = scene.cls->id;
    const auto block = scene.block->id;
    Button b;
    b.id = Ui::id({"print-chart"});
    b.label = "Print";
    b.spoken = "Print the chart";
    b.icon = Icon::print;
    Button walk;
    walk.id = Ui::id({"to-walk"});
    walk.label = "To the lesson";
    walk.icon = Icon::forward;
    walk.icon_after = true;
    walk.weight = Weight::primary;
    button_pair(
        ui, column, h, b, [cls, block](Act& act) { print_poster(act, cls, block); }, walk,
        go(Screen::walk));
    b = {};
    b.id = Ui::id({"to-prep"});
    b.label = "Print and prepare";
    b.spoken = "Print and prepare: cards, keys, signs and lists";
    b.icon = Icon::file;
    button(ui, column.row(h), b, go(Screen::prep));
    column.skip(gap);
    grid(ui, scene, column);
    legend(ui, scene, column);
    column.skip(gap);
    b = {};
    b.id = Ui::id({"make-chart"});
    b.label = "Make it anew";
    b.icon = Icon::shuffle;
    button(ui, column.row(h), b, [cls, block](Act& act) {
        act.send(session::MakeChart{cls, block, std::uint64_t(act.now.utc_ms)});
    });
    end_page(ui, column);
}

}  // namespace tallyround::ui
