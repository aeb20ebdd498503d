#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "ui/screens/insight.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

using session::Word;

constexpr std::size_t longest_trail = 20;

/// Leads to a place; the way back is where the finger was.
Action open_place(const Place& to) {
    return [to](Act& act) {
        View& v = act.view;
        if (!is_insight_page(v.screen)) v.trail.clear();
        if (v.trail.size() >= longest_trail) v.trail.erase(v.trail.begin());
        v.trail.push_back({v.screen, v.student, v.skill});
        v.student = to.student;
        v.skill = to.skill;
        act.go(to.screen);
    };
}

std::string mark_text(const Scene& scene, const session::PathPoint& p, bool titles) {
    std::string text =
        base::short_day(day_of(scene, p.at_ms)) + ": " + std::string(level_word(p.level));
    if (p.help == model::Help::hint) text += ", with a hint";
    if (p.help == model::Help::together) text += ", together with you";
    if (titles) text += " · " + session::skill_title(*scene.cls, p.skill);
    const model::Block* block = scene.cls->block(p.block);
    const model::Center* center = block == nullptr ? nullptr : model::find_center(*block, p.center);
    if (center != nullptr) text += " · " + session::center_title(*center);
    return text;
}

}  // namespace

bool is_insight_page(Screen screen) {
    return screen >= Screen::student_page && screen <= Screen::share;
}

Action open_page(Screen page) {
    return open_place({page, {}, {}});
}

Action open_student_page(const model::StudentId& student) {
    return open_place({Screen::student_page, student, {}});
}

Action open_skill_page(const model::SkillId& skill) {
    return open_place({Screen::skill_page, {}, skill});
}

void go_back(Act& act) {
    Place to;
    if (!act.view.trail.empty()) {
        to = act.view.trail.back();
        act.view.trail.pop_back();
    }
    act.view.student = to.student;
    act.view.skill = to.skill;
    act.go(to.screen);
}

Action open_marks(const model::StudentId& student, const model::SkillId& skill) {
    return [student, skill](Act& act) {
        act.view.student = student;
        act.view.skill = skill;
        act.view.overlay = Overlay::why;
    };
}

void mark_shape(Ui& ui, model::Level level, const Rect& r) {
    const float side = std::min({r.w, r.h, ui.scaled(30)}) - 4;
    const Rect box{r.x + (r.w - side) / 2, r.y + (r.h - side) / 2, side, side};
    ui.fill(inset(box, -3), level_color(ui.theme, level), 6);
    if (ui.theme.outlines) ui.outline(inset(box, -3), ui.theme.line, 6, 1.5F);
    draw_level(ui, level, inset(box, 3), ui.theme.on_level);
}

void word_shape(Ui& ui, Word word, const Rect& r) {
    switch (word) {
        case Word::likely_has_it:
            mark_shape(ui, model::Level::secure, r);
            break;
        case Word::on_the_way:
            mark_shape(ui, model::Level::shaky, r);
            break;
        case Word::needs_time:
            mark_shape(ui, model::Level::stuck, r);
            break;
        case Word::early:
            ui.list().AddCircleFilled({r.x + r.w / 2, r.y + r.h / 2}, 4, ui.theme.ink_soft);
            break;
        case Word::no_marks:
            break;
    }
}

void word_key(Ui& ui, Column& column) {
    const Word words[] = {Word::likely_has_it, Word::on_the_way, Word::needs_time, Word::early};
    float widest = 0;
    for (const Word word : words)
        widest = std::max(widest, ui.type().width(session::word_text(word), ui.soft()) + 40 + gap);
    const int fit = int(column.w / widest);
    const int across = fit >= 4 ? 4 : fit >= 2 ? 2 : 1;
    for (int i = 0; i < 4; i += across) {
        const Rect row = column.row(ui.scaled(34), 2);
        for (int k = 0; k < across; ++k) {
            Rect r = cell(row, k, across);
            word_shape(ui, words[i + k], cut_left(r, 40));
            ui.text_line(session::word_text(words[i + k]), r, ui.soft());
        }
    }
    column.skip(gap);
}

void section(Ui& ui, Column& column, std::string_view text) {
    column.skip(pad);
    column.y += ui.heading(2, text, {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(4);
}

void text_row(Ui& ui, Column& column, std::string_view text, const Style& style) {
    column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, style);
}

void button_grid(Ui& ui, Column& column, std::vector<std::pair<Button, Action>> buttons, int most) {
    const auto fits = [&](int n) {
        const float w = (column.w - gap * float(n - 1)) / float(n);
        return std::all_of(buttons.begin(), buttons.end(),
                           [&](const auto& b) { return button_fits(ui, w, b.first); });
    };
    int across = most;
    while (across > 2 && !fits(across))
        --across;
    if (across > 1 && !fits(across)) {
        for (auto& [b, tap] : buttons)
            b.icon = Icon::none;
        across = fits(across) ? across : 1;
    }
    const float h = std::max(54.0F, ui.scaled(52));
    for (std::size_t i = 0; i < buttons.size(); i += std::size_t(across)) {
        const Rect row = column.row(h);
        for (int k = 0; k < across && i + std::size_t(k) < buttons.size(); ++k) {
            auto& [b, tap] = buttons[i + std::size_t(k)];
            button(ui, cell(row, k, across), b, std::move(tap));
        }
    }
}

void word_row(Ui& ui, Column& column, Word word, const RowItem& item, Action tap) {
    const float shape = ui.scaled(40);
    Rect r = column.row(row_height(ui, column.w - shape, item), 6);
    const Rect at = cut_left(r, shape);
    row_item(ui, r, item, std::move(tap));
    word_shape(ui, word, at);
}

void word_line(Ui& ui, Column& column, Word word, std::string_view text, const Style& style) {
    const float shape = word == Word::no_marks ? 0 : ui.scaled(40);
    const Rect words{column.x + shape, 0, column.w - shape, 0};
    const float text_h = ui.type().paragraph(words, text, style, false);
    const Rect row = column.row(std::max(ui.scaled(36), text_h), 4);
    word_shape(ui, word, {row.x, row.y, shape, row.h});
    ui.paragraph(text, {words.x, row.y + (row.h - text_h) / 2, words.w, 0}, style);
}

std::string in_100(double chance) {
    return std::to_string(std::lround(100 * chance)) + " in 100";
}

std::string chance_text(const Scene& scene, const session::Standing& standing) {
    if (standing.marks == 0) return "No marks yet.";
    const auto whole = [](double p) { return std::to_string(std::lround(100 * p)); };
    return "Chance of having it: " + in_100(standing.p) + ", between " + whole(standing.low) +
           " and " + whole(standing.high) + ", from " +
           base::count_of(std::size_t(standing.marks), "mark", "marks") + ", the last on " +
           base::short_day(day_of(scene, standing.last_ms)) + ".";
}

base::Date day_of(const Scene& scene, std::int64_t at_ms) {
    return today({at_ms, scene.now.utc_offset_minutes, 0});
}

void mark_rows(Ui& ui, const Scene& scene, Column& column,
               const std::vector<session::PathPoint>& path, bool titles, std::size_t limit) {
    std::size_t shown = 0;
    for (auto it = path.rbegin(); it != path.rend() && shown < limit; ++it, ++shown) {
        const std::string text = mark_text(scene, *it, titles);
        const float text_w = column.w - ui.scaled(40) - touch - gap;
        const float text_h = ui.type().paragraph({0, 0, text_w, 0}, text, ui.body(), false);
        Rect row = column.row(std::max(touch, text_h + 4), 2);
        Button b;
        b.id = Ui::id({"mark-back", std::to_string(it->event)});
        b.spoken = "Take back " + text;
        b.icon = Icon::undo;
        b.icon_only = true;
        b.weight = Weight::quiet;
        const Rect at = cut_right(row, touch);
        button(ui, {at.x, at.y + (at.h - touch) / 2, touch, touch}, b,
               [event = it->event](Act& act) { act.send(session::TakeBack{event}); });
        mark_shape(ui, it->level, cut_left(row, ui.scaled(40)));
        ui.paragraph(text, {row.x, row.y + (row.h - text_h) / 2, text_w, 0}, ui.body());
    }
}

base::Date ready_day(const Scene& scene) {
    const std::int64_t now = base::days_from_civil(today(scene.now));
    const std::int64_t wish = base::days_from_civil(scene.view.ready_by);
    return base::civil_from_days(wish > now ? wish : now + 14);
}

void date_row(Ui& ui, const Scene& scene, Column& column) {
    const base::Date day = ready_day(scene);
    const std::int64_t now = base::days_from_civil(today(scene.now));
    std::vector<std::pair<Button, Action>> buttons;
    const auto move = [&](const char* label, const char* spoken, int days) {
        const std::int64_t to = base::days_from_civil(day) + days;
        Button b;
        b.id = Ui::id({"ready-day", spoken});
        b.label = label;
        b.spoken = spoken;
        b.disabled = to <= now;
        buttons.emplace_back(b, [to](Act& act) { act.view.ready_by = base::civil_from_days(to); });
    };
    move("− Week", "A week earlier", -7);
    move("− Day", "A day earlier", -1);
    move("+ Day", "A day later", 1);
    move("+ Week", "A week later", 7);
    text_row(ui, column, "By " + base::short_day(day), ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    button_grid(ui, column, std::move(buttons), 4);
    column.skip(gap);
}

void evidence_caution(Ui& ui, Column& column) {
    column.skip(pad);
    text_row(ui, column,
             "These are a teacher's own notes on practice, not an evaluation of a child. Decisions "
             "on support draw on a variety of sources and belong to your school's team and its "
             "licensed staff; your school's policy comes first.",
             ui.soft());
}

}  // namespace tallyround::ui
