#include <algorithm>
#include <functional>

#include "base/text.h"
#include "ui/screens/prep_parts.h"

namespace tallyround::ui {

namespace {

/// Skills of the teacher's own that a center uses.
std::vector<const model::OwnSkill*> own_skills(const Scene& scene) {
    std::vector<const model::OwnSkill*> out;
    for (const model::OwnSkill& own : scene.cls->own_skills) {
        for (const model::Center* c : session::open_centers(*scene.block)) {
            if (c->skill != own.id) continue;
            out.push_back(&own);
            break;
        }
    }
    return out;
}

/// The cards that were typed, one a line; a problem that was there before keeps its picture.
std::vector<model::OwnCard> typed_cards(std::string_view text,
                                        const std::vector<model::OwnCard>& before) {
    std::vector<model::OwnCard> cards;
    for (const std::string_view line : base::lines_of(text)) {
        const std::size_t bar = line.find('|');
        model::OwnCard card;
        card.prompt = base::tidy_line(line.substr(0, bar));
        if (card.prompt.empty()) continue;
        if (bar != std::string_view::npos) card.answer = base::tidy_line(line.substr(bar + 1));
        const auto was = std::find_if(before.begin(), before.end(), [&](const auto& old) {
            return base::tidy_line(old.prompt) == card.prompt;
        });
        if (was != before.end()) {
            card.picture = was->picture;
            card.shows = was->shows;
        }
        cards.push_back(std::move(card));
    }
    return cards;
}

std::string picture_words(const model::Class& cls, const model::OwnCard& card) {
    const model::CardPicture* picture = cls.picture(card.picture);
    if (picture == nullptr) return "No picture";
    const std::string shows = card.shows.empty() ? "Say in words what it shows" : card.shows;
    return "Picture, " + std::to_string(picture->width) + " × " + std::to_string(picture->height) +
           " · " + shows;
}

void picture_rows(Ui& ui, const Scene& scene, Column& column, const model::OwnSkill& own) {
    if (own.cards.empty()) return;
    column.skip(pad);
    column.y += ui.heading(3, "Pictures on the cards", {column.x, column.y, column.w, 0},
                           ui.style(body_size, ui.theme.ink, true));
    column.skip(4);
    for (std::size_t i = 0; i < own.cards.size(); ++i) {
        const model::OwnCard& card = own.cards[i];
        RowItem item;
        item.id = Ui::id({"card-picture", std::to_string(i)});
        item.title = std::to_string(i + 1) + "  " + base::first_code_points(card.prompt, 60);
        item.detail = picture_words(*scene.cls, card);
        item.trailing = Icon::forward;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [i, shows = card.shows](Act& act) {
                     act.view.index = int(i);
                     act.view.drafts["picture-shows"] = shows;
                     act.view.overlay = Overlay::card_picture;
                 });
    }
}

const model::OwnCard* card_on_screen(const Scene& scene) {
    const model::OwnSkill* own = scene.cls->own_skill(scene.view.skill);
    const auto i = std::size_t(scene.view.index);
    return own == nullptr || i >= own->cards.size() ? nullptr : &own->cards[i];
}

/// Changes the card on screen, as it stands when the button is tapped.
Action change_card(const Scene& scene, std::function<void(model::OwnCard&, const View&)> change) {
    return [cls_id = scene.cls->id, skill = scene.view.skill, i = std::size_t(scene.view.index),
            change = std::move(change)](Act& act) {
        const model::Class* cls = act.state().find_class(cls_id);
        const model::OwnSkill* own = cls == nullptr ? nullptr : cls->own_skill(skill);
        if (own == nullptr || i >= own->cards.size()) return;
        std::vector<model::OwnCard> cards = own->cards;
        change(cards[i], act.view);
        if (act.send(session::SetOwnCards{cls_id, skill, std::move(cards)}))
            act.view.overlay = Overlay::own_cards;
    };
}

}  // namespace

void own_card_rows(Ui& ui, const Scene& scene, Column& column) {
    for (const model::OwnSkill* own : own_skills(scene)) {
        RowItem item;
        item.id = Ui::id({"own-cards", own->id.view()});
        item.title = "Your cards: " + own->title;
        item.detail = own->cards.empty() ? "None yet: empty cards are printed to write on"
                                         : base::count_of(own->cards.size(), "card", "cards");
        item.icon = Icon::pen;
        item.trailing = Icon::forward;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [id = own->id, cards = own->cards](Act& act) {
                     std::string& text = act.view.drafts["own-cards"];
                     text.clear();
                     for (const model::OwnCard& card : cards) {
                         std::string line = card.prompt;
                         std::replace(line.begin(), line.end(), '\n', ' ');
                         text += line + " | " + card.answer + "\n";
                     }
                     act.view.skill = id;
                     act.view.overlay = Overlay::own_cards;
                 });
    }
}

void own_cards_sheet(Ui& ui, const Scene& scene) {
    if (scene.cls == nullptr) return;
    const model::OwnSkill* own = scene.cls->own_skill(scene.view.skill);
    if (own == nullptr) return;
    Column column = begin_sheet(ui, "Your own cards", 2000, close_overlay);
    column.y += ui.paragraph("One card a line: the problem, an upright bar, the answer.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    Field f;
    f.name = "own-cards";
    f.label = "Cards, one a line";
    f.hint = "Round 3.847 to the nearest tenth | 3.8";
    f.value = scene.view.draft("own-cards");
    f.area = true;
    text_field(ui, column.row(ui.scaled(220), pad), f);
    Button b;
    b.id = Ui::id({"keep-own-cards"});
    b.label = "Keep these cards";
    b.weight = Weight::primary;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
           [cls = scene.cls->id, skill = own->id, before = own->cards](Act& act) {
               act.send(session::SetOwnCards{cls, skill,
                                             typed_cards(act.view.draft("own-cards"), before)});
           });
    picture_rows(ui, scene, column, *own);
    done_button(ui, column);
    end_sheet(ui, column);
}

void card_picture_sheet(Ui& ui, const Scene& scene) {
    if (scene.cls == nullptr) return;
    const model::OwnCard* card = card_on_screen(scene);
    if (card == nullptr) return;
    const Action back = [](Act& act) { act.view.overlay = Overlay::own_cards; };
    Column column = begin_sheet(ui, "Picture on a card", 2000, back);
    column.y += ui.paragraph(card->prompt, {column.x, column.y, column.w, 0},
                             ui.style(body_size, ui.theme.ink, true));
    const bool there = scene.cls->picture(card->picture) != nullptr;
    column.y += ui.paragraph(picture_words(*scene.cls, *card), {column.x, column.y, column.w, 0},
                             ui.soft());
    column.skip(gap);
    const float h = std::max(52.0F, ui.scaled(50));
    Button pick;
    pick.id = Ui::id({"pick-picture"});
    pick.label = there ? "Choose another picture" : "Choose a picture";
    pick.weight = there ? Weight::plain : Weight::primary;
    button(ui, column.row(h), pick, [](Act& act) {
        act.fx.emplace_back(PickFile{"card picture", "image/png,image/jpeg,image/webp"});
    });
    column.y += ui.paragraph(
        "PNG, JPEG or WebP from this device; it is made small and kept in "
        "the plan. Of things and drawings, never of students.",
        {column.x, column.y, column.w, 0}, ui.soft());
    if (there) {
        column.skip(gap);
        Field f;
        f.name = "picture-shows";
        f.label = "What it shows, in words";
        f.hint = "A pizza cut into 8 parts, 3 of them eaten";
        f.value = scene.view.draft("picture-shows");
        text_field(ui, column.row(field_height(ui), pad), f);
        Button keep;
        keep.id = Ui::id({"keep-picture"});
        keep.label = "Keep";
        keep.icon = Icon::check;
        keep.weight = Weight::primary;
        button(ui, column.row(h), keep, change_card(scene, [](auto& c, const View& view) {
                   c.shows = base::tidy_line(view.draft("picture-shows"));
               }));
        Button off;
        off.id = Ui::id({"drop-picture"});
        off.label = "Take the picture off";
        off.icon = Icon::trash;
        off.weight = Weight::danger;
        button(ui, column.row(h), off, change_card(scene, [](auto& c, const View&) {
                   c.picture = {};
                   c.shows.clear();
               }));
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
