#include "ui/screens/walk.h"

#include <algorithm>

#include "base/text.h"

namespace tallyround::ui {

namespace {

Button step_button(const char* id, std::string label, Icon icon) {
    Button b;
    b.id = Ui::id({id});
    b.label = std::move(label);
    b.icon = icon;
    b.weight = Weight::primary;
    return b;
}

void not_ready(Ui& ui, const Scene& scene, Column& column, const std::string& needs) {
    empty_state(ui, column, Icon::walk, "Not quite yet", needs);
    if (const StepWords* next = next_words(*scene.cls)) {
        button(ui, column.row(std::max(54.0F, ui.scaled(52))),
               step_button("go-step", std::string("Go to ") + next->title, Icon::back),
               go(next->screen));
    }
}

std::string absent_text(const Scene& scene) {
    std::vector<std::string> names;
    for (const model::StudentId& id : scene.block->absent) {
        if (const model::Student* s = scene.cls->student(id)) names.push_back(s->name);
    }
    return names.empty() ? "Everyone is here." : "Absent: " + base::list_of(names) + ".";
}

/// Before the bell: who is absent, who starts where.
void before_lesson(Ui& ui, const Scene& scene, Column& column) {
    const model::Block& block = *scene.block;
    const auto [first, last] = session::next_rounds(block);
    const float h = std::max(54.0F, ui.scaled(52));
    if (first == 0) {
        empty_state(ui, column, Icon::chart, "All rounds are done",
                    "See who has it and what to review next.");
        button(ui, column.row(h), step_button("to-review", "Review", Icon::forward),
               go(Screen::review));
        return;
    }
    const std::string rounds =
        first == last ? "round " + std::to_string(first)
                      : "rounds " + std::to_string(first) + " to " + std::to_string(last);
    column.y += ui.paragraph("This lesson holds " + rounds + ". " + absent_text(scene),
                             {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    Button absent = step_button("absent", "Who is absent?", Icon::people);
    absent.weight = Weight::plain;
    absent.has_popup = true;
    button_pair(ui, column, h, absent, open_overlay(Overlay::absent),
                step_button("start", "Start the lesson", Icon::play),
                [cls = scene.cls->id, id = block.id](Act& act) {
                    act.send(session::StartLesson{cls, id}, Reply::aloud);
                });
    Button rules;
    rules.id = Ui::id({"procedures"});
    rules.label = "Procedures and practice moves";
    rules.icon = Icon::people;
    Button board = step_button("board", "Board for the class", Icon::grid);
    board.weight = Weight::plain;
    button_pair(ui, column, h, rules, go(Screen::procedures), board, open_board(Screen::walk));
    column.skip(gap);
    column.y += ui.heading(2, "Who starts where", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    for (int g = 0; g < int(block.groups.size()); ++g) {
        const model::Center* c = model::find_center(block, model::center_at(block, g, first));
        std::vector<std::string> names;
        for (const model::StudentId& id : block.groups[std::size_t(g)]) {
            if (const model::Student* s = scene.cls->student(id)) names.push_back(s->name);
        }
        column.skip(gap);
        column.y += ui.paragraph(
            session::group_name(g) + ": " + (c == nullptr ? "free" : session::center_title(*c)),
            {column.x, column.y, column.w, 0}, ui.style(body_size, ui.theme.ink, true));
        column.y +=
            ui.paragraph(base::list_of(names), {column.x, column.y, column.w, 0}, ui.soft());
    }
}

/// The lowest part of the lesson is kept free for what was just done and its Undo: a message never
/// lies over a mark, and nothing moves when it comes.
void message_strip(Ui& ui, Rect& area) {
    const Rect strip = cut_bottom(area, touch + gap + ui.surface.safe_bottom);
    ui.fill(strip, ui.theme.sunk, 0);
    ui.message_place = {strip.x, strip.y, strip.w, touch + gap};
    const std::string hint =
        "Hold a shape for help, a slip or a note. Hold a center's name, slide to a shape: "
        "everyone there.";
    const Rect inner = inset(ui.message_place, pad, 0);
    const Style style = ui.type().fitting(inner, hint, ui.soft());
    const float used = ui.type().paragraph({0, 0, inner.w, 0}, hint, style, false);
    ui.paragraph(hint, {inner.x, inner.y + (inner.h - used) / 2, inner.w, 0}, style);
}

}  // namespace

std::string_view level_word(model::Level level) {
    return model::to_text(level);
}

std::vector<int> groups_at(const model::Block& block, const model::CenterId& center, int round) {
    std::vector<int> out;
    for (int g = 0; g < int(block.groups.size()); ++g) {
        if (model::center_at(block, g, round) == center) out.push_back(g);
    }
    return out;
}

const model::Mark* mark_here(const model::Class& cls, const model::Block& block,
                             const model::StudentId& student, const model::CenterId& center,
                             int round) {
    for (auto it = cls.marks.rbegin(); it != cls.marks.rend(); ++it) {
        if (it->block != block.id) break;  // older blocks lie further back
        if (it->student == student && it->center == center && it->round == round) return &*it;
    }
    return nullptr;
}

int waiting_minutes(const model::Class& cls, const model::StudentId& student, const Now& now) {
    for (const model::Flag& f : cls.flags) {
        if (f.student == student) {
            return int(std::max<std::int64_t>(0, now.utc_ms - f.raised_ms) / 60'000);
        }
    }
    return -1;
}

Action key_action(const Scene& scene, const Painted& painted, std::uint32_t focused, Key key) {
    if (scene.block == nullptr || !scene.block->lesson.running() || focused == 0) return {};
    const bool flags = key == Key::flag;
    const model::Level level = levels[flags ? 0 : int(key) - int(Key::secure)];
    for (const model::Student& s : scene.cls->students) {
        const std::uint32_t flag = Ui::id({"flag", s.id.view()});
        bool here = focused == flag || focused == Ui::id({"name", s.id.view()});
        for (const model::Level any : levels)
            here = here || focused == Ui::id({"mark", s.id.view(), level_word(any)});
        if (!here) continue;
        const std::uint32_t wanted =
            flags ? flag : Ui::id({"mark", s.id.view(), level_word(level)});
        for (const Target& t : painted.targets) {
            if (t.id == wanted) return t.tap;
        }
    }
    for (const model::Center& c : scene.block->centers) {
        if (flags || focused != Ui::id({"everyone", c.id.view()})) continue;
        return [mark = marks_for(scene, c, shown_round(*scene.block), level)](Act& act) {
            if (act.send(mark)) act.fx.emplace_back(Vibrate{15});
        };
    }
    return {};
}

void walk_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool running = scene.block != nullptr && scene.block->lesson.running();
    if (running) {
        Rect rest = area;
        ui.open(Role::main, Ui::id({"main"}), "", area);
        lesson_header(ui, scene, rest);
        message_strip(ui, rest);
        room(ui, scene, rest);
        ui.close();
        return;
    }
    Column column = begin_page(ui, area, "walk", "The lesson", "");
    const std::string needs = session::step_needs(*scene.cls, session::Step::walk);
    if (!needs.empty()) {
        not_ready(ui, scene, column, needs);
    } else {
        before_lesson(ui, scene, column);
    }
    end_page(ui, column);
}

}  // namespace tallyround::ui
