#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

struct Seat {
    const model::Student* student;
    const model::Center* center;
    int round;
};

void mark_button(Ui& ui, const Scene& scene, const Rect& r, const Seat& seat, model::Level level,
                 bool on) {
    const std::string word(level_word(level));
    const std::uint32_t id = Ui::id({"mark", seat.student->id.view(), word});
    const bool pressed = ui.pressed(id);
    const ImU32 color = level_color(ui.theme, level);
    ui.fill(r, on || pressed ? color : ui.theme.card, 8);
    ui.outline(r, on ? ui.theme.ink : fade(ui.theme.line, ui.theme.outlines ? 1 : 0.75F), 8,
               on ? 2.0F : 1.0F);
    if (ui.focused(id)) ui.focus_ring(r, 8);
    const float side = std::min(r.w, r.h) * 0.58F;
    draw_level(ui, level, {r.x + (r.w - side) / 2, r.y + (r.h - side) / 2, side, side},
               on || pressed ? ui.theme.on_level : ui.theme.ink_soft);
    if (pressed) {
        // Above the finger, which covers the button itself.
        const float w = std::max(112.0F, ui.scaled(100));
        const float h = std::max(56.0F, ui.scaled(50));
        const Rect bubble{std::clamp(r.x + (r.w - w) / 2, gap, ui.surface.width - w - gap),
                          std::max(gap, r.y - h - 14), w, h};
        ui.on_top.emplace_back([bubble, level](Ui& top) { level_face(top, bubble, level, true); });
    }
    Node& n = ui.node(Role::button, id, seat.student->name + ": " + word, r);
    n.value = on ? "marked" : "";
    const session::PutMark mark{
        scene.cls->id, scene.block->id, seat.student->id, seat.center->skill, seat.center->id,
        seat.round,    level,           model::Help::none};
    ui.target(
        id, r,
        [mark](Act& act) {
            if (act.send(mark)) act.fx.emplace_back(Vibrate{15});
        },
        [student = seat.student->id](Act& act) {
            act.view.student = student;
            act.view.overlay = Overlay::mark;
        });
}

void flag_button(Ui& ui, const Scene& scene, const Rect& r, const model::Student& s, int minutes) {
    const std::uint32_t id = Ui::id({"flag", s.id.view()});
    const bool up = minutes >= 0;
    ui.fill(r, up ? ui.theme.ink : ui.pressed(id) ? ui.theme.sunk : fade(ui.theme.card, 0), 8);
    if (ui.theme.outlines) ui.outline(r, ui.theme.line, 8);
    if (ui.focused(id)) ui.focus_ring(r, 8);
    Rect icon = r;
    if (up && minutes > 0) {
        const Rect under = cut_bottom(icon, 18);
        ui.type().line(under, std::to_string(minutes) + " min",
                       {12, ui.theme.paper, true, Align::center});
    }
    draw_icon(ui, Icon::flag, inset(icon, 8, up && minutes > 0 ? 2 : 10),
              up ? ui.theme.paper : ui.theme.ink_soft);
    std::string label = s.name + (up ? ": waits for help" : ": raise a flag");
    if (up && minutes > 0)
        label += ", " + base::count_of(std::size_t(minutes), "minute", "minutes");
    Node& n = ui.node(Role::checkbox, id, label, r);
    n.checked = up;
    ui.target(id, r, [cls = scene.cls->id, student = s.id, up](Act& act) {
        act.send(session::SetFlag{cls, student, !up}, Reply::aloud);
    });
}

/// Of a name above its marks: a target by itself (WCAG 2.2, 2.5.8).
float name_height(Ui& ui) {
    return std::max(26.0F, ui.scaled(23));
}

void name_part(Ui& ui, const Scene& scene, const Rect& r, const model::Student& s) {
    const bool away = model::is_absent(*scene.block, s.id);
    const std::uint32_t id = Ui::id({"name", s.id.view()});
    if (ui.pressed(id)) ui.fill(r, ui.theme.sunk, 6);
    if (ui.focused(id)) ui.focus_ring(r, 6);
    ui.type().line(r, away ? s.name + " (absent)" : s.name,
                   ui.style(16, away ? ui.theme.ink_soft : ui.theme.ink));
    ui.node(Role::button, id, s.name + (away ? ", absent" : "") + ", more", r);
    ui.target(id, r, [student = s.id](Act& act) {
        act.view.student = student;
        act.view.overlay = Overlay::mark;
    });
}

void student_row(Ui& ui, const Scene& scene, Rect r, const Seat& seat, bool stacked) {
    const model::Student& s = *seat.student;
    const float name_w = r.w - 4 * touch - 4 * 4;
    const Rect name = stacked ? cut_top(r, name_height(ui)) : cut_left(r, name_w);
    name_part(ui, scene, name, s);
    if (model::is_absent(*scene.block, s.id)) return;
    if (!stacked) cut_left(r, 4);
    const model::Mark* last =
        mark_here(*scene.cls, *scene.block, s.id, seat.center->id, seat.round);
    const Rect row{r.x, r.y, r.w, touch};
    for (int i = 0; i < 3; ++i) {
        mark_button(ui, scene, cell(row, i, 4, 4), seat, levels[i],
                    last != nullptr && last->level == levels[i]);
    }
    flag_button(ui, scene, cell(row, 3, 4, 4), s, waiting_minutes(*scene.cls, s.id, scene.now));
}

/// What a card needs besides its students.
float head_height(Ui& ui, float card_w) {
    return ui.scaled(card_w < 300 ? 62 : 46);  // in a narrow card the skill takes two lines
}

/// "Group 2, Group 5".
std::string names_of(const std::vector<int>& groups) {
    std::vector<std::string> names;
    for (const int g : groups)
        names.push_back(session::group_name(g));
    return base::list_of(names, ", ");
}

std::size_t seats_of(const model::Block& block, const std::vector<int>& groups) {
    std::size_t seats = 0;
    for (const int g : groups)
        seats += block.groups[std::size_t(g)].size();
    return seats;
}

void center_card(Ui& ui, const Scene& scene, const Rect& r, const model::Center& c, int number,
                 const std::vector<int>& groups, int round, bool stacked, float row_h) {
    ui.card(r);
    const std::string title = std::to_string(number) + "  " + session::center_title(c);
    ui.open(Role::region, Ui::id({"room", c.id.view()}), title, r);
    Rect inner = inset(r, 10, 6);
    Rect head = cut_top(inner, head_height(ui, r.w));
    const std::string who = names_of(groups);
    const Style group_style = ui.style(small_size, ui.theme.ink_soft, true, Align::right);
    Rect first = cut_top(head, ui.scaled(24));
    const Rect group = cut_right(first, ui.type().width(who, group_style) + 4);
    const std::uint32_t everyone = Ui::id({"everyone", c.id.view()});
    const Rect whole{r.x + 4, r.y + 2, r.w - 8, head_height(ui, r.w) + 4};
    if (!groups.empty() && ui.pressed(everyone)) ui.fill(whole, ui.theme.sunk, 8);
    ui.type().line(first, title, ui.style(body_size, ui.theme.ink, true));
    ui.type().line(group, who, group_style);
    ui.text_line(session::skill_title(*scene.cls, c.skill), head,
                 ui.style(small_size, ui.theme.ink_soft));
    if (!groups.empty()) {
        Node& n = ui.node(Role::button, everyone, "Everyone at " + session::center_title(c), whole);
        n.has_popup = true;
        ui.target(
            everyone, whole,
            [center = c.id, round](Act& act) {
                act.view.center = center;
                act.view.round = round;
                act.view.overlay = Overlay::group;
            },
            [](Act& act) { act.fx.emplace_back(Vibrate{15}); });
        const std::string everyone_here = "everyone " + c.id.str();
        ui.carry(everyone_here, "", true);
        if (ui.carried() != nullptr && ui.carried()->what == everyone_here) {
            ui.on_top.emplace_back(
                [&scene, &c, whole, round](Ui& top) { group_marks(top, scene, whole, c, round); });
        }
        if (ui.focused(everyone)) ui.focus_ring(whole, 8);
    }
    if (groups.empty()) {
        ui.text_line("No group in this round", cut_top(inner, row_h), ui.soft());
    }
    for (const int g : groups) {
        for (const model::StudentId& id : scene.block->groups[std::size_t(g)]) {
            const model::Student* s = scene.cls->student(id);
            if (s == nullptr) continue;
            student_row(ui, scene, cut_top(inner, row_h), {s, &c, round}, stacked);
        }
    }
    ui.close();
}

/// Groups whose center is closed, or that have none, in this round.
std::vector<int> groups_without(const model::Block& block, int round) {
    std::vector<int> out;
    for (int g = 0; g < int(block.groups.size()); ++g) {
        const model::Center* c = model::find_center(block, model::center_at(block, g, round));
        if (c == nullptr || c->closed) out.push_back(g);
    }
    return out;
}

/// Who is at no center is in the room all the same: to be found, to raise a flag, to be marked
/// absent.
void waiting_card(Ui& ui, const Scene& scene, Column& column, const std::vector<int>& groups) {
    const float row_h = std::max(touch, name_height(ui)) + 6;
    const std::size_t seats = seats_of(*scene.block, groups);
    const int across = column.w >= 700 ? 2 : 1;
    const std::size_t rows = (seats + std::size_t(across) - 1) / std::size_t(across);
    const Rect r = column.row(ui.scaled(30) + 12 + float(rows) * row_h, 10);
    ui.card(r);
    const std::string title = "No center in this round: " + names_of(groups);
    ui.open(Role::region, Ui::id({"room-without"}), title, r);
    Rect inner = inset(r, 10, 6);
    ui.type().line(cut_top(inner, ui.scaled(30)), title, ui.style(body_size, ui.theme.ink, true));
    Rect row;
    int place = 0;
    for (const int g : groups) {
        for (const model::StudentId& id : scene.block->groups[std::size_t(g)]) {
            const model::Student* s = scene.cls->student(id);
            if (s == nullptr) continue;
            if (place % across == 0) row = cut_top(inner, row_h);
            Rect at = cell(row, place++ % across, across, 10);
            const Rect flag = cut_right(at, touch);
            name_part(ui, scene, {at.x, at.y, at.w, touch}, *s);
            if (model::is_absent(*scene.block, id)) continue;
            flag_button(ui, scene, {flag.x, flag.y, touch, touch}, *s,
                        waiting_minutes(*scene.cls, id, scene.now));
        }
    }
    ui.close();
}

}  // namespace

int shown_round(const model::Block& block) {
    return block.lesson.phase == model::Phase::opening ? block.lesson.first_round
                                                       : std::max(1, block.lesson.round);
}

void room(Ui& ui, const Scene& scene, const Rect& area) {
    const model::Block& block = *scene.block;
    const int round = shown_round(block);
    const int across = area.w >= 980 && ui.text_scale < 1.3F ? 4
                       : area.w >= 700                       ? (ui.text_scale < 1.5F ? 2 : 1)
                                                             : 1;
    const auto centers = session::open_centers(block);
    const float space = 10;
    const float y = ui.begin_scroll(Ui::id({"room"}), area);
    Column column{area.x + 12, y + 4, area.w - 24};
    const float card_w = (column.w - space * float(across - 1)) / float(across);
    const bool stacked = card_w - 20 - 4 * touch - 16 < ui.scaled(96);
    const float row_h = stacked ? name_height(ui) + touch + 4 : touch + 6;
    for (std::size_t i = 0; i < centers.size(); i += std::size_t(across)) {
        std::size_t seats = 1;
        std::vector<std::vector<int>> groups;
        for (std::size_t k = i; k < std::min(centers.size(), i + std::size_t(across)); ++k) {
            groups.push_back(groups_at(block, centers[k]->id, round));
            seats = std::max(seats, seats_of(block, groups.back()));
        }
        const Rect row = column.row(head_height(ui, card_w) + 12 + float(seats) * row_h, space);
        for (std::size_t k = 0; k < groups.size(); ++k) {
            const Rect card = cell(row, int(k), across, space);
            center_card(ui, scene, card, *centers[i + k], int(i + k) + 1, groups[k], round, stacked,
                        row_h);
        }
    }
    const std::vector<int> without = groups_without(block, round);
    if (!without.empty()) waiting_card(ui, scene, column, without);
    ui.end_scroll(column.y + gap);
}

}  // namespace tallyround::ui
