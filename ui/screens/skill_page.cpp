#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "session/slips.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

using session::Word;

std::string tier_words(cards::Tier tier) {
    switch (tier) {
        case cards::Tier::support:
            return "Support cards suit the class now.";
        case cards::Tier::stretch:
            return "Stretch cards suit the class now.";
        case cards::Tier::core:
            break;
    }
    return "Core cards suit the class now.";
}

void students_part(Ui& ui, const Scene& scene, Column& column, const model::SkillId& skill,
                   const session::SkillPage& page) {
    section(ui, column, "Students");
    for (const Word word : {Word::needs_time, Word::on_the_way, Word::likely_has_it, Word::early}) {
        const auto& students = page.by_word[std::size_t(word)];
        if (students.empty()) continue;
        word_line(ui, column, word, session::word_count(word, students.size()),
                  ui.style(body_size, ui.theme.ink, true));
        float x = 0;
        float y = column.y;
        const float h = touch;
        for (const model::StudentId& id : students) {
            const model::Student* s = scene.cls->student(id);
            if (s == nullptr) continue;
            Button b;
            b.id = Ui::id({"skill-student", id.view()});
            b.label = s->name;
            b.spoken = s->name + ": " + std::string(session::word_text(word));
            b.size = 16;
            const float w =
                std::min(column.w, ui.type().width(s->name, ui.style(b.size, 0)) + 2 * pad);
            if (x > 0 && x + w > column.w) {
                x = 0;
                y += h + 6;
            }
            button(ui, {column.x + x, y, w, h}, b, open_marks(id, skill));
            x += w + 6;
        }
        column.y = y + h + gap;
    }
    std::vector<std::string> unseen;
    for (const model::StudentId& id : page.by_word[std::size_t(Word::no_marks)]) {
        if (const model::Student* s = scene.cls->student(id)) unseen.push_back(s->name);
    }
    if (unseen.empty()) return;
    text_row(ui, column, "Not seen yet: " + base::list_of(unseen) + ".", ui.soft());
}

void slips_part(Ui& ui, const Scene& scene, Column& column, const model::SkillId& skill,
                const session::SkillPage& page) {
    if (page.slips.empty()) return;
    const auto seen = session::slips_seen(*scene.cls, skill);
    section(ui, column, "Wrong answers to look for");
    for (const session::SlipCount& slip : seen) {
        text_row(ui, column,
                 "Seen with " + base::count_of(std::size_t(slip.students), "student", "students") +
                     ": " + slip.rule,
                 ui.style(body_size, ui.theme.ink, true));
    }
    for (const session::SlipNote& slip : page.slips) {
        const bool was_seen = std::any_of(seen.begin(), seen.end(),
                                          [&](const auto& s) { return s.rule == slip.rule; });
        if (!was_seen) text_row(ui, column, slip.rule, ui.body());
        text_row(ui, column, slip.source, ui.soft());
        column.skip(4);
    }
}

void forecast_part(Ui& ui, const Scene& scene, Column& column, const model::SkillId& skill) {
    section(ui, column, "Without a review");
    date_row(ui, scene, column);
    for (const session::SkillForecast& f : scene.insight->forecast(ready_day(scene))) {
        if (f.skill != skill) continue;
        text_row(ui, column, f.why, ui.body());
        if (f.due > 0) {
            text_row(ui, column,
                     base::count_of(std::size_t(f.due), "student is", "students are") +
                         " due for another look by then.",
                     ui.body());
        }
    }
}

}  // namespace

void skill_page(Ui& ui, const Scene& scene, const Rect& area) {
    const model::SkillId& skill = scene.view.skill;
    if (skill.empty() || scene.block == nullptr) return review_screen(ui, scene, area);
    const session::SkillPage& page = scene.insight->skill(skill);
    Column column = begin_page(ui, area, "skill " + skill.str(),
                               session::skill_title(*scene.cls, skill), page.why);
    const std::size_t students = session::present_students(*scene.cls).size();
    text_row(ui, column,
             "Expected to have it today: " + std::to_string(std::lround(page.held)) + " of " +
                 base::count_of(students, "student", "students") + ".",
             ui.style(body_size, ui.theme.ink, true));
    text_row(ui, column, tier_words(page.tier), ui.body());
    const std::string_view features = cards::tier_features(skill.view(), page.tier);
    if (!features.empty()) text_row(ui, column, features, ui.soft());
    students_part(ui, scene, column, skill, page);
    if (!page.centers.empty()) section(ui, column, "Centers that reviewed it");
    for (const session::CenterUse& use : page.centers) {
        const model::Block* block = scene.cls->block(use.block);
        if (block != nullptr) verdict_card(ui, scene, column, *block, use.verdict, false);
    }
    forecast_part(ui, scene, column, skill);
    slips_part(ui, scene, column, skill, page);
    evidence_caution(ui, column);
    end_page(ui, column);
}

}  // namespace tallyround::ui
