#include <algorithm>

#include "base/search.h"
#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

using session::Word;
using Order = ClassPicture::Order;

/// From so many students on a name is looked for rather than scrolled to.
constexpr std::size_t long_list = 12;
/// Rows after which the skills are named again, so that they are always in sight.
constexpr int rows_a_head = 8;

/// How the picture falls into the room there is.
struct Layout {
    bool stacked = false;  ///< a student's name above the row instead of beside it
    float name_w = 0;
    float cell_w = 0;
    std::size_t first = 0;  ///< first skill shown
    std::size_t count = 0;  ///< skills shown
    std::size_t page = 1;   ///< skills a page
    std::vector<std::string> titles;
    Style head;  ///< of the titles
    float head_h = 0;
};

/// Sizes for the skills' titles, from the one wished for to the least that is read with ease.
constexpr float head_sizes[] = {14, 13, 12};

float widest_word(Ui& ui, const std::string& text, const Style& style) {
    float widest = 0;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        widest = std::max(widest, ui.type().width(text.substr(at, end - at), style));
        at = end + 1;
    }
    return widest;
}

Layout layout_of(Ui& ui, const Scene& scene, const ClassPicture& picture, float w) {
    Layout out;
    for (const model::SkillId& skill : picture.skills)
        out.titles.push_back(session::skill_title(*scene.cls, skill));
    out.stacked = w < ui.scaled(330);
    out.name_w = out.stacked ? 0 : std::clamp(w * 0.19F, ui.scaled(98), ui.scaled(160));
    const float room = w - out.name_w;
    const std::size_t all = picture.skills.size();
    std::size_t fit = 0;
    for (const float size : head_sizes) {
        if (fit >= all) break;
        out.head = ui.style(size, ui.theme.ink, true, Align::center);
        float needed = touch;
        for (const std::string& title : out.titles)
            needed = std::max(needed, widest_word(ui, title, out.head) + 10);
        fit = std::max<std::size_t>(1, std::size_t(room / std::min(needed, room)));
    }
    // Pages of equal length rather than one full and one nearly empty.
    const std::size_t pages = (all + fit - 1) / fit;
    out.page = (all + pages - 1) / pages;
    out.first = std::min(scene.view.picture_first, all - 1) / out.page * out.page;
    out.cell_w = std::min(room / float(out.page), ui.scaled(170));
    out.count = std::min(out.page, all - out.first);
    for (std::size_t k = out.first; k < out.first + out.count; ++k) {
        const float h =
            ui.type().paragraph({0, 0, out.cell_w - 8, 0}, out.titles[k], out.head, false);
        out.head_h = std::max(out.head_h, h);
    }
    out.head_h += ui.scaled(22) + 22;
    return out;
}

/// How many of the class likely have it, are on the way, need time: lengths in that order, the
/// outline is the class.
void share_bar(Ui& ui, const Rect& r, const std::array<int, 5>& counts) {
    const int all = std::max(1, counts[0] + counts[1] + counts[2] + counts[3] + counts[4]);
    ui.fill(r, ui.theme.sunk, 3);
    float x = r.x;
    const std::pair<Word, ImU32> parts[] = {{Word::likely_has_it, ui.theme.secure},
                                            {Word::on_the_way, ui.theme.shaky},
                                            {Word::needs_time, ui.theme.stuck}};
    for (const auto& [word, color] : parts) {
        const float w = r.w * float(counts[std::size_t(word)]) / float(all);
        if (w > 0) ui.fill({x, r.y, std::max(1.0F, w - 1), r.h}, color, 2);
        x += w;
    }
    ui.outline(r, ui.theme.line, 3);
}

std::string share_text(const std::array<int, 5>& counts, std::size_t students) {
    return std::to_string(counts[std::size_t(Word::likely_has_it)]) + " of " +
           std::to_string(students);
}

/// The skills over their columns; `copy` > 0 repeats them further down, for eyes and fingers only.
void heads(Ui& ui, const ClassPicture& picture, const Layout& layout, Rect row, int copy) {
    const std::size_t students = picture.rows.size();
    cut_left(row, layout.name_w);
    for (std::size_t k = layout.first; k < layout.first + layout.count; ++k) {
        const model::SkillId& skill = picture.skills[k];
        const std::uint32_t id = Ui::id({"skill-head", skill.view(), std::to_string(copy)});
        const Rect r = inset(cut_left(row, layout.cell_w), 1);
        ui.fill(r, ui.pressed(id) ? ui.theme.accent_soft : ui.theme.sunk, 6);
        if (ui.theme.outlines) ui.outline(r, ui.theme.line, 6);
        if (ui.focused(id)) ui.focus_ring(r, 6);
        Rect inner = inset(r, 3, 4);
        const Rect bar = cut_bottom(inner, 10);
        const Rect share = cut_bottom(inner, ui.scaled(22));
        const Style& style = layout.head;
        const float h = ui.type().paragraph(inner, layout.titles[k], style, false);
        ui.type().paragraph({inner.x, inner.y + (inner.h - h) / 2, inner.w, 0}, layout.titles[k],
                            style);
        ui.type().line(share, share_text(picture.counts[k], students),
                       ui.style(small_size, ui.theme.ink_soft, false, Align::center));
        share_bar(ui, bar, picture.counts[k]);
        if (copy == 0) {
            const bool one = picture.counts[k][std::size_t(Word::likely_has_it)] == 1;
            ui.node(Role::button, id,
                    layout.titles[k] + ": " + share_text(picture.counts[k], students) +
                        (one ? " likely has it" : " likely have it"),
                    r);
        }
        ui.target(id, r, open_skill_page(skill));
    }
}

void picture_cell(Ui& ui, const Rect& r, const ClassPicture::Row& student,
                  const model::SkillId& skill, const std::string& title, Word word) {
    const std::uint32_t id = Ui::id({"cell", student.student.view(), skill.view()});
    if (ui.visible(r)) {
        if (ui.pressed(id)) ui.fill(r, ui.theme.accent_soft, 4);
        ui.outline(r, fade(ui.theme.line, ui.theme.outlines ? 1 : 0.25F), 4);
        if (ui.focused(id)) ui.focus_ring(r, 4);
        word_shape(ui, word, r);
    }
    ui.node(Role::button, id,
            student.name + ", " + title + ": " + std::string(session::word_text(word)), r);
    ui.target(id, r, open_marks(student.student, skill));
}

void name_cell(Ui& ui, const Rect& r, const ClassPicture::Row& student) {
    const std::uint32_t id = Ui::id({"student-row", student.student.view()});
    if (ui.visible(r)) {
        if (ui.pressed(id)) ui.fill(r, ui.theme.accent_soft, 4);
        if (ui.focused(id)) ui.focus_ring(r, 4);
        const Style style = ui.style(16, ui.theme.ink);
        const float h = ui.type().paragraph(r, student.name, style, false);
        ui.type().paragraph({r.x, r.y + (r.h - h) / 2, r.w, 0}, student.name, style);
    }
    ui.node(Role::button, id, student.name + ": all skills", r);
    ui.target(id, r, open_student_page(student.student));
}

void student_row(Ui& ui, const ClassPicture& picture, const Layout& layout,
                 const ClassPicture::Row& student, Column& column) {
    const float name_w = layout.stacked ? column.w : layout.name_w;
    const float name_h = std::max(
        touch + 2,
        ui.type().paragraph({0, 0, name_w - gap, 0}, student.name, ui.style(16, 0), false));
    Rect row = column.row(layout.stacked ? name_h + touch + 2 : name_h, 2);
    Rect name = layout.stacked ? cut_top(row, name_h) : cut_left(row, layout.name_w);
    name.w -= gap;
    name_cell(ui, name, student);
    for (std::size_t k = layout.first; k < layout.first + layout.count; ++k) {
        picture_cell(ui, inset(cut_left(row, layout.cell_w), 1), student, picture.skills[k],
                     layout.titles[k], session::word_for(student.cells[k]));
    }
}

/// "Skills 1 to 4 of 11" between two buttons, where not all fit side by side.
void pager(Ui& ui, const ClassPicture& picture, const Layout& layout, Column& column) {
    const std::size_t all = picture.skills.size();
    if (layout.first == 0 && layout.count == all) return;
    Rect row = column.row(touch);
    const auto turn = [&](const Rect& at, const char* name, Icon icon, bool can,
                          std::size_t first) {
        Button b;
        b.id = Ui::id({"picture-page", name});
        b.spoken = name;
        b.icon = icon;
        b.icon_only = true;
        b.disabled = !can;
        button(ui, at, b, [first](Act& act) { act.view.picture_first = first; });
    };
    turn(cut_left(row, touch), "Skills before", Icon::back, layout.first > 0,
         layout.first - std::min(layout.first, layout.page));
    turn(cut_right(row, touch), "More skills", Icon::forward, layout.first + layout.count < all,
         layout.first + layout.page);
    const Style style = ui.style(16, ui.theme.ink, true, Align::center);
    std::string text = std::to_string(layout.first + 1) + " to " +
                       std::to_string(layout.first + layout.count) + " of " + std::to_string(all);
    if (ui.type().width("Skills " + text, style) <= row.w) text = "Skills " + text;
    ui.text_line(text, row, style);
}

void order_choices(Ui& ui, const Scene& scene, Column& column) {
    const auto choice = [&](const char* label, Order order) {
        return Choice{label, scene.view.picture_order == order,
                      [order](Act& act) { act.view.picture_order = order; }};
    };
    choices(
        ui, column.row(std::max(touch, ui.scaled(44))), "Order",
        {choice("Name", Order::name), choice("Group", Order::group), choice("Need", Order::need)});
}

}  // namespace

void class_picture(Ui& ui, const Scene& scene, Column& column) {
    const ClassPicture& picture = scene.insight->picture(scene.view.picture_order);
    if (picture.skills.empty() || picture.rows.empty()) return;
    text_row(ui, column, "Tap a shape for its marks, a name or a skill for its page.", ui.soft());
    column.skip(gap);
    order_choices(ui, scene, column);
    word_key(ui, column);
    const Layout layout = layout_of(ui, scene, picture, column.w);
    pager(ui, picture, layout, column);
    std::string text;
    if (picture.rows.size() >= long_list) {
        text = search_field(ui, column, "find-row", "Find a name", scene.view.draft("find-row"));
    }
    bool found = false;
    int since_heads = rows_a_head;
    int copy = 0;
    int group = -2;
    for (const ClassPicture::Row& student : picture.rows) {
        if (!base::finds(student.name, text)) continue;
        found = true;
        if (scene.view.picture_order == Order::group && student.group != group) {
            group = student.group;
            column.skip(gap);
            text_row(ui, column, group < 0 ? "Without a seat" : session::group_name(group),
                     ui.style(body_size, ui.theme.ink, true));
        }
        if (since_heads == rows_a_head) {
            heads(ui, picture, layout, column.row(layout.head_h, 2), copy);
            ++copy;
            since_heads = 0;
        }
        student_row(ui, picture, layout, student, column);
        ++since_heads;
    }
    if (!found) nothing_found(ui, column, "find-row", text);
}

}  // namespace tallyround::ui
