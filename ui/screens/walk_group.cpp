#include <algorithm>

#include "base/text.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

session::MarkGroup marks_for(const Scene& scene, const model::Center& center, int round,
                             model::Level level) {
    return {scene.cls->id, scene.block->id, center.skill,
            center.id,     round,           students_here(*scene.block, center.id, round),
            level};
}

std::vector<model::StudentId> students_here(const model::Block& block,
                                            const model::CenterId& center, int round) {
    std::vector<model::StudentId> out;
    for (const int g : groups_at(block, center, round)) {
        for (const model::StudentId& id : block.groups[std::size_t(g)]) {
            if (!model::is_absent(block, id)) out.push_back(id);
        }
    }
    return out;
}

void group_marks(Ui& ui, const Scene& scene, const Rect& head, const model::Center& center,
                 int round) {
    const float title_h = ui.scaled(26);
    const float zone_h = std::max(72.0F, ui.scaled(54));
    const float h = title_h + zone_h + 2 * gap;
    const float above = head.y - h - gap;
    const float w =
        std::min(ui.surface.width - 2 * gap, 460.0F * std::max(1.0F, ui.text_scale / 1.5F));
    const Rect plate{std::clamp(head.x, gap, std::max(gap, ui.surface.width - w - gap)),
                     above >= ui.surface.safe_top ? above : head.bottom() + gap, w, h};
    ui.block(plate);
    ui.fill(plate, ui.theme.card);
    ui.outline(plate, ui.theme.ink, corner, 2);
    Rect inner = inset(plate, gap);
    const std::string title = "Everyone at " + session::center_title(center);
    const Rect line = cut_top(inner, title_h);
    ui.type().line(line, title,
                   ui.type().fitting(line, title, ui.style(16, ui.theme.ink, true, Align::center)));
    for (int i = 0; i < 3; ++i) {
        const Rect zone = cell(inner, i, 3);
        const std::uint32_t id = Ui::id({"group-zone", level_word(levels[i])});
        const bool over = ui.dropping_on(id);
        level_face(ui, zone, levels[i], over);
        if (over) ui.outline(inset(zone, -3), ui.theme.focus, corner + 3, 4);
        ui.drop_zone(
            id, inset(zone, -gap / 2),
            [mark = marks_for(scene, center, round, levels[i])](Act& act, const std::string&) {
                if (act.send(mark)) act.fx.emplace_back(Vibrate{15});
            });
    }
}

/// Three large marks for everyone at a center; single ones are put right afterwards.
void group_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Center* c = model::find_center(*scene.block, scene.view.center);
    if (c == nullptr) return;
    const auto students = students_here(*scene.block, c->id, scene.view.round);
    Column column =
        begin_sheet(ui, "Everyone at " + session::center_title(*c), ui.scaled(250), close_overlay);
    std::vector<std::string> names;
    for (const model::StudentId& id : students) {
        if (const model::Student* s = scene.cls->student(id)) names.push_back(s->name);
    }
    column.y += ui.paragraph(names.empty() ? "Nobody is here in this round." : base::list_of(names),
                             {column.x, column.y, column.w, 0}, ui.body());
    column.y += ui.paragraph(session::skill_title(*scene.cls, c->skill) +
                                 ". Who has a mark in this round already keeps it.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    const Rect row = column.row(std::max(64.0F, ui.scaled(60)));
    for (int i = 0; i < 3; ++i) {
        const std::string word(level_word(levels[i]));
        const std::uint32_t id = Ui::id({"group-mark", word});
        level_button(ui, cell(row, i, 3), id, levels[i], "Everyone: " + word);
        ui.target(id, cell(row, i, 3),
                  [mark = marks_for(scene, *c, scene.view.round, levels[i])](Act& act) {
                      if (!act.send(mark)) return;
                      act.fx.emplace_back(Vibrate{15});
                      close_overlay(act);
                  });
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
