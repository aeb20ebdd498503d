#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

constexpr std::size_t due_shown = 20;
constexpr const char* weekdays[] = {"Mon", "Tue", "Wed", "Thu", "Fri"};

/// Days with review blocks: of the chosen weekdays from tomorrow until the day before, as many as
/// wished, spread evenly.
std::vector<base::Date> block_days(const Scene& scene, const base::Date& by) {
    std::vector<base::Date> open;
    const std::int64_t now = base::days_from_civil(today(scene.now));
    for (std::int64_t d = now + 1; d < base::days_from_civil(by); ++d) {
        const base::Date day = base::civil_from_days(d);
        if ((scene.view.ready_weekdays >> unsigned(base::weekday(day)) & 1U) != 0)
            open.push_back(day);
    }
    const auto wish = std::size_t(scene.view.ready_blocks);
    if (open.size() <= wish) return open;
    std::vector<base::Date> out;
    for (std::size_t i = 0; i < wish; ++i)
        out.push_back(open[i * open.size() / wish]);
    return out;
}

void wishes(Ui& ui, const Scene& scene, Column& column) {
    date_row(ui, scene, column);
    const float h = std::max(52.0F, ui.scaled(50));
    text_row(ui, column, "Blocks until then, and skills in each:", ui.soft());
    stepper(ui, column.row(h), "Blocks", scene.view.ready_blocks, 1, 12, 1, "",
            [](Act& act, int n) { act.view.ready_blocks = n; });
    stepper(ui, column.row(h), "Skills", scene.view.ready_skills, 1, 12, 1, "",
            [](Act& act, int n) { act.view.ready_skills = n; });
    float widest = 0;
    for (const char* day : weekdays)
        widest = std::max(widest, toggle_width(ui, day) - 8);
    const int across = 5 * widest <= column.w ? 5 : 3;
    Rect row;
    for (int d = 0; d < 5; ++d) {
        if (d % across == 0) row = column.row(std::max(touch, ui.scaled(44)));
        const unsigned bit = 1U << unsigned(d);
        toggle(ui, cell(row, d % across, across, 4), Ui::id({"ready-weekday", weekdays[d]}),
               weekdays[d], (scene.view.ready_weekdays & bit) != 0,
               [bit](Act& act) { act.view.ready_weekdays ^= bit; });
    }
    column.skip(gap);
}

/// One expectation as a bar of all pairs of a student and a skill.
void held_bar(Ui& ui, Column& column, const std::string& what, double held, int pairs,
              bool planned) {
    const std::string value = std::to_string(std::lround(held)) + " of " + std::to_string(pairs);
    text_row(ui, column, what + ": " + value,
             planned ? ui.style(body_size, ui.theme.ink, true) : ui.body());
    const Rect r = column.row(16, 6);
    ui.fill(r, ui.theme.sunk, 4);
    const float share = pairs == 0 ? 0.0F : float(held / pairs);
    const Rect bar{r.x, r.y, r.w * std::clamp(share, 0.0F, 1.0F), r.h};
    ui.fill(bar, planned ? ui.theme.accent : ui.theme.accent_soft, 4);
    ui.outline(bar, ui.theme.accent, 4, 1.5F);
    ui.outline(r, fade(ui.theme.line, ui.theme.outlines ? 1 : 0.6F), 4);
}

void plan_part(Ui& ui, const Scene& scene, Column& column, const session::ReadyPlan& plan,
               const base::Date& by) {
    section(ui, column, "What comes of it");
    text_row(ui, column,
             "Pairs of a student and a skill that are expected to be held, of all of them.",
             ui.soft());
    column.skip(gap);
    const std::string day = base::short_day(by);
    held_bar(ui, column, "Today", plan.held_now, plan.pairs, false);
    held_bar(ui, column, "On " + day + " without review", plan.held_without, plan.pairs, false);
    held_bar(ui, column, "On " + day + " with every skill in turn", plan.held_equal, plan.pairs,
             false);
    held_bar(ui, column, "On " + day + " with this plan", plan.held_with, plan.pairs, true);
    for (std::size_t b = 0; b < plan.blocks.size(); ++b) {
        const session::ReadyBlock& block = plan.blocks[b];
        section(ui, column, "Block on " + base::short_day(block.date));
        if (block.skills.empty()) text_row(ui, column, "Nothing gains from it.", ui.soft());
        for (std::size_t k = 0; k < block.skills.size(); ++k) {
            RowItem item;
            item.id = Ui::id({"ready", std::to_string(b), block.skills[k].view()});
            item.title = session::skill_title(*scene.cls, block.skills[k]);
            item.detail = block.why[k];
            item.trailing = Icon::forward;
            row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                     open_skill_page(block.skills[k]));
        }
    }
}

void due_part(Ui& ui, const Scene& scene, Column& column, const base::Date& by) {
    section(ui, column, "Looks that fall due by then");
    const std::int64_t until = base::days_from_civil(by);
    std::size_t shown = 0;
    std::size_t all = 0;
    for (const session::Due& due : scene.insight->due()) {
        const model::Student* s = scene.cls->student(due.student);
        if (s == nullptr || base::days_from_civil(day_of(scene, due.due_ms)) > until) continue;
        if (++all > due_shown) continue;
        ++shown;
        RowItem item;
        item.id = Ui::id({"due", due.student.view(), due.skill.view()});
        item.title = s->name + ": " + session::skill_title(*scene.cls, due.skill);
        item.detail = due.why;
        item.trailing = Icon::forward;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 open_marks(due.student, due.skill));
    }
    if (all == 0) {
        text_row(ui, column, "None: what students likely have stays fresh until then.", ui.soft());
    } else if (all > shown) {
        text_row(ui, column, "And " + std::to_string(all - shown) + " more.", ui.soft());
    }
}

}  // namespace

void ready_screen(Ui& ui, const Scene& scene, const Rect& area) {
    if (scene.block == nullptr) return review_screen(ui, scene, area);
    Column column = begin_page(ui, area, "ready", "Ready by a date",
                               "Say when the class should have its skills and how many blocks "
                               "there are; see what to review when.");
    wishes(ui, scene, column);
    const base::Date by = ready_day(scene);
    session::ReadyWish wish;
    wish.skills = scene.insight->picture(scene.view.picture_order).skills;
    wish.blocks = block_days(scene, by);
    wish.ready_by = by;
    wish.skills_a_block = scene.view.ready_skills;
    if (wish.blocks.empty()) {
        text_row(ui, column, "No day for a block before then: choose more weekdays or a later day.",
                 ui.style(body_size, ui.theme.alert, true));
    }
    plan_part(ui, scene, column, scene.insight->ready(wish), by);
    due_part(ui, scene, column, by);
    evidence_caution(ui, column);
    end_page(ui, column);
}

}  // namespace tallyround::ui
