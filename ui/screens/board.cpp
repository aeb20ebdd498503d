#include "session/board.h"

#include <algorithm>

#include "base/text.h"
#include "session/prep.h"
#include "session/procedures.h"
#include "ui/screens/chart_parts.h"
#include "ui/screens/frame.h"

namespace tallyround::ui {

namespace {

/// Lines beside a center's name, as parts of its size.
constexpr float small_part = 0.86F;
constexpr float inner_gap = 0.35F;

struct Words {
    std::string group;
    std::string now;
    std::string next;
    std::string names;
};

Words words_of(const session::BoardPicture& board, const model::Block& block,
               const session::BoardPicture::Row& row) {
    const auto name = [&](const model::CenterId& id) {
        return id.empty() ? std::string("no center") : center_mark(block, id);
    };
    Words w;
    w.group = session::group_name(row.group);
    if (!board.doing.empty()) w.group += ": " + board.doing;
    w.now = name(row.now);
    if (board.has_next) w.next = "then " + name(row.next);
    return w;
}

/// One card a group: how large letters can be and still fit.
struct Layout {
    int across = 1;
    float em = 0;
};

float card_height(Ui& ui, const Words& w, float width, float em) {
    const float text = width - em;  // half an em at each side
    const Style big{em, 0, true};
    const Style small{em * small_part, 0, false};
    float h = ui.type().paragraph({0, 0, text, 0}, w.group, {em * small_part, 0, true}, false);
    h += ui.type().paragraph({0, 0, text - em * 1.4F, 0}, w.now, big, false);
    if (!w.next.empty()) h += ui.type().paragraph({0, 0, text, 0}, w.next, small, false);
    return h + em * inner_gap * 2;
}

bool fits(Ui& ui, const std::vector<Words>& all, const Rect& area, int across, float em) {
    const int rows = (int(all.size()) + across - 1) / across;
    const float w = (area.w - gap * float(across - 1)) / float(across);
    const float h = (area.h - gap * float(rows - 1)) / float(rows);
    if (w < em * 5) return false;
    return std::all_of(all.begin(), all.end(), [&](const Words& words) {
        // No word may be broken: the longest has to fit a line.
        for (const std::string* text : {&words.now, &words.next}) {
            std::size_t from = 0;
            while (from < text->size()) {
                const std::size_t end = std::min(text->find(' ', from), text->size());
                const Style style{em, 0, true};
                if (ui.type().width(text->substr(from, end - from), style) > w - em * 2.4F) {
                    return false;
                }
                from = end + 1;
            }
        }
        return card_height(ui, words, w, em) <= h;
    });
}

Layout best_layout(Ui& ui, const std::vector<Words>& all, const Rect& area) {
    Layout best;
    for (int across = 1; across <= std::min(4, int(all.size())); ++across) {
        float low = 8;
        float high = 200;
        for (int i = 0; i < 12; ++i) {
            const float middle = (low + high) / 2;
            (fits(ui, all, area, across, middle) ? low : high) = middle;
        }
        if (low > best.em) best = {across, low};
    }
    return best;
}

void card(Ui& ui, const model::Block& block, const session::BoardPicture::Row& row, const Words& w,
          const Rect& r, float em) {
    ui.card(r);
    Column column{r.x + em / 2, r.y + em * inner_gap, r.w - em};
    const Theme& t = ui.theme;
    column.y += ui.type().paragraph({column.x, column.y, column.w, 0}, w.group,
                                    {em * small_part, t.ink_soft, true});
    if (const model::Center* c = model::find_center(block, row.now)) {
        draw_kind(ui, c->kind, {column.x, column.y + em * 0.1F, em * 1.15F, em * 1.15F}, t.accent,
                  std::max(2.0F, em / 14));
    }
    column.y += ui.type().paragraph({column.x + em * 1.4F, column.y, column.w - em * 1.4F, 0},
                                    w.now, {em, t.ink, true});
    if (!w.next.empty()) {
        ui.type().paragraph({column.x, column.y, column.w, 0}, w.next,
                            {em * small_part, t.ink, false});
    }
    Node& n = ui.node(Role::text, Ui::id({"board-group", std::to_string(row.group)}),
                      w.group + ": " + w.now + (w.next.empty() ? "" : ", " + w.next), r);
    n.font_size = em * small_part;
}

/// Back in one tap; it is small and quiet, students do not need it.
void back_button(Ui& ui, Rect& bar) {
    const Rect at = cut_left(bar, touch);
    bar_button(ui, {at.x, at.y, touch, touch}, "board-back", "Back", Icon::back, leave_board);
    cut_left(bar, gap);
}

void head(Ui& ui, const session::BoardPicture& board, Rect bar) {
    const Theme& t = ui.theme;
    back_button(ui, bar);
    if (board.counting) {
        const std::string clock = minutes_clock(board.left_ms);
        const bool over = board.left_ms <= 0 && !board.paused;
        Rect face = cut_right(bar, std::min(bar.w * 0.45F, bar.h * 2.4F));
        cut_right(bar, gap);
        if (over) ui.fill(face, t.alert);
        const bool soon = board.left_ms <= 120'000;
        if (soon) ui.outline(face, t.alert, corner, 4);
        float size = face.h * 0.8F;
        const float w = ui.type().width(clock, {size, 0, true});
        if (w > face.w - gap) size *= (face.w - gap) / w;
        ui.type().line(face, clock, {size, over ? t.on_alert : t.ink, true, Align::center});
        ui.node(Role::timer, Ui::id({"board-clock"}),
                over ? "Time is up, " + clock : clock + (board.paused ? ", paused" : " left"),
                face);
    }
    const std::string title = board.paused ? board.title + ", paused" : board.title;
    float size = bar.h * 0.6F;
    const float w = ui.type().width(title, {size, 0, true});
    if (w > bar.w) size *= bar.w / w;
    ui.type().line(bar, title, {size, t.ink, true});
    Node& n = ui.node(Role::heading, Ui::id({"board-title"}), title, bar);
    n.level = 1;
}

/// How we work, in what height is left over for it.
void procedures(Ui& ui, const Scene& scene, Rect& area) {
    std::string text;
    for (const std::string_view line : base::lines_of(session::procedures_of(*scene.cls))) {
        if (base::tidy_line(line).empty()) continue;
        text += (text.empty() ? "" : "  ·  ") + base::tidy_line(line);
    }
    if (text.empty()) return;
    const float most = area.h * 0.16F;
    float size = std::max(14.0F, area.h * 0.032F);
    const auto height = [&] {
        return ui.type().paragraph({0, 0, area.w - pad, 0}, text, {size, 0, false}, false);
    };
    while (size > 13 && height() > most)
        size *= 0.93F;
    const float h = height();
    const Rect box = cut_bottom(area, h + gap);
    ui.paragraph(text, {box.x + pad / 2, box.y + gap, box.w - pad, 0},
                 {size, ui.theme.ink_soft, false});
}

void no_board(Ui& ui, const Scene& scene, const Rect& area) {
    Column column{area.x + area.w * 0.1F, area.y, area.w * 0.8F};
    const std::string needs =
        scene.cls == nullptr ? "" : session::step_needs(*scene.cls, session::Step::walk);
    empty_state(ui, column, Icon::grid, "Nothing to show yet",
                needs.empty() ? "Make groups and a chart first; then they are shown here." : needs);
}

}  // namespace

Action open_board(Screen from) {
    return [from](Act& act) {
        act.view.board_from = from;
        act.go(Screen::board);
        act.fx.emplace_back(FullScreen{true});
    };
}

void leave_board(Act& act) {
    act.fx.emplace_back(FullScreen{false});
    act.go(act.view.board_from);
}

void board_screen(Ui& ui, const Scene& scene, const Rect& area) {
    ui.open(Role::main, Ui::id({"main"}), "", area);
    Rect rest = inset(area, std::max(gap, area.w * 0.012F), gap);
    session::BoardPicture board;
    if (scene.block != nullptr) {
        board = session::board_picture(*scene.cls, *scene.block, scene.now.utc_ms,
                                       scene.now.utc_offset_minutes);
    }
    const float head_h = std::max(touch, std::min(rest.h * 0.14F, rest.w * 0.14F));
    head(ui, board, cut_top(rest, head_h));
    cut_top(rest, gap);
    if (board.rows.empty()) {
        no_board(ui, scene, rest);
        ui.close();
        return;
    }
    procedures(ui, scene, rest);
    std::vector<Words> all;
    for (const auto& row : board.rows)
        all.push_back(words_of(board, *scene.block, row));
    const Layout layout = best_layout(ui, all, rest);
    const int rows = (int(all.size()) + layout.across - 1) / layout.across;
    const float h = (rest.h - gap * float(rows - 1)) / float(rows);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Rect row{rest.x, rest.y + float(int(i) / layout.across) * (h + gap), rest.w, h};
        card(ui, *scene.block, board.rows[i], all[i],
             cell(row, int(i) % layout.across, layout.across), layout.em);
    }
    ui.close();
}

}  // namespace tallyround::ui
