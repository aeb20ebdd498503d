#include <algorithm>

#include "base/text.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

std::vector<model::StudentId> here(const Scene& scene, const model::CenterId& center, int round) {
    std::vector<model::StudentId> out;
    const model::Block& block = *scene.block;
    for (const int g : groups_at(block, center, round)) {
        for (const model::StudentId& id : block.groups[std::size_t(g)]) {
            if (!model::is_absent(block, id)) out.push_back(id);
        }
    }
    return out;
}

}  // namespace

/// Three large marks for everyone at a center; single ones are put right afterwards.
void group_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Center* c = model::find_center(*scene.block, scene.view.center);
    if (c == nullptr) return;
    const auto students = here(scene, c->id, scene.view.round);
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
                  [mark = session::MarkGroup{scene.cls->id, scene.block->id, c->skill, c->id,
                                             scene.view.round, students, levels[i]}](Act& act) {
                      if (!act.send(mark)) return;
                      act.fx.emplace_back(Vibrate{15});
                      close_overlay(act);
                  });
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
