#include <algorithm>
#include <functional>

#include "base/text.h"
#include "cards/generate.h"
#include "ui/screens/insight.h"
#include "ui/screens/prep_parts.h"

namespace tallyround::ui {

namespace {

using Tiers = std::vector<int>;
constexpr std::string_view dot_words[] = {"one", "two", "three"};

/// What a choice of levels does when it is tapped.
using Choose = std::function<Action(Tiers)>;

std::string advice_text(const session::TierAdvice& advice) {
    std::string text = "Proposed: " + levels_text({int(advice.tier) + 1}, "") + ". " + advice.why;
    for (int dots = 1; dots <= 3; ++dots) {
        std::vector<std::string> groups;
        for (const session::GroupTier& g : advice.groups) {
            if (int(g.tier) + 1 == dots && g.tier != advice.tier)
                groups.push_back(session::group_name(g.group));
        }
        if (!groups.empty())
            text += " For " + base::list_of(groups) + ": " + levels_text({dots}, "") + ".";
    }
    return text;
}

void choice_row(Ui& ui, Column& column, std::string_view id, std::string title,
                std::string_view detail, bool on, Action tap) {
    RowItem item;
    item.id = Ui::id({"level", id});
    item.title = std::move(title);
    item.detail = std::string(detail);
    item.on = on;
    item.role = Role::checkbox;
    item.trailing = on ? Icon::check : Icon::none;
    row_item(ui, column.row(row_height(ui, column.w, item), 6), item, std::move(tap));
}

/// The proposal and why, then each level with what makes it hard; any of them can be chosen.
void levels_sheet(Ui& ui, const Scene& scene, const model::SkillId& skill, const Tiers& now,
                  std::string_view otherwise, const Choose& choose) {
    Column column = begin_sheet(ui, "How hard are the cards?", 2000, close_overlay);
    column.y +=
        ui.paragraph(session::skill_title(*scene.cls, skill), {column.x, column.y, column.w, 0},
                     ui.style(body_size, ui.theme.ink, true));
    column.skip(gap);
    const session::TierAdvice& advice = scene.insight->tiers(scene.block->id, skill);
    column.y += ui.paragraph(advice_text(advice), {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    const Tiers proposed = advice.dots();
    choice_row(ui, column, "proposed", "As proposed: " + levels_text(proposed, ""), "",
               now == proposed, choose(proposed));
    choice_row(ui, column, "none", std::string(otherwise), "", now.empty(), choose({}));
    column.y +=
        ui.paragraph("Or tick what you want:", {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(4);
    for (int dots = 1; dots <= 3; ++dots) {
        Tiers next = now;
        const auto at = std::find(next.begin(), next.end(), dots);
        const bool on = at != next.end();
        if (on) {
            next.erase(at);
        } else {
            next.insert(std::lower_bound(next.begin(), next.end(), dots), dots);
        }
        std::string title = levels_text({dots}, "");
        title[0] = char(title[0] - 'a' + 'A');
        choice_row(ui, column, std::to_string(dots), title,
                   cards::tier_features(skill.view(), static_cast<cards::Tier>(dots - 1)), on,
                   choose(next));
    }
    done_button(ui, column);
    end_sheet(ui, column);
}

}  // namespace

std::string levels_text(const std::vector<int>& tiers, std::string_view otherwise) {
    if (tiers.empty()) return std::string(otherwise);
    std::vector<std::string_view> words;
    for (const int dots : tiers)
        words.push_back(dot_words[std::clamp(dots, 1, 3) - 1]);
    return base::list_of(words) + (tiers.size() == 1 && tiers[0] == 1 ? " dot" : " dots");
}

void level_rows(Ui& ui, const Scene& scene, Column& column) {
    int number = 0;
    bool first = true;
    for (const model::Center* c : session::open_centers(*scene.block)) {
        ++number;
        if (!cards::has_generator(c->skill.view())) continue;
        if (first) {
            column.skip(gap);
            column.y += ui.paragraph("Or center by center, with a proposal from the marks:",
                                     {column.x, column.y, column.w, 0}, ui.soft());
            column.skip(4);
        }
        first = false;
        RowItem item;
        item.id = Ui::id({"levels", c->id.view()});
        item.title = std::to_string(number) + "  " + session::skill_title(*scene.cls, c->skill);
        item.detail = "Cards with " + levels_text(c->tiers, "the dots chosen above");
        item.spoken = item.title + ": " + item.detail;
        item.trailing = Icon::pen;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item, [id = c->id](Act& act) {
            act.view.center = id;
            act.view.overlay = Overlay::center_levels;
        });
    }
}

void center_levels_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::Center* c = model::find_center(*scene.block, scene.view.center);
    if (c == nullptr) return;
    levels_sheet(ui, scene, c->skill, c->tiers, "As for the whole box",
                 [cls = scene.cls->id, block = scene.block->id, id = c->id](Tiers tiers) -> Action {
                     return [cls, block, id, tiers = std::move(tiers)](Act& act) {
                         act.send(session::SetCenterTiers{cls, block, id, tiers}, Reply::aloud);
                     };
                 });
}

void next_levels_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const model::SkillId& skill = scene.view.skill;
    const auto it = scene.view.next_tiers.find(skill);
    const Tiers now = it == scene.view.next_tiers.end()
                          ? scene.insight->tiers(scene.block->id, skill).dots()
                          : it->second;
    levels_sheet(
        ui, scene, skill, now, "As chosen when they are printed", [skill](Tiers tiers) -> Action {
            return
                [skill, tiers = std::move(tiers)](Act& act) { act.view.next_tiers[skill] = tiers; };
        });
}

}  // namespace tallyround::ui
