#include <algorithm>

#include "base/text.h"
#include "exchange/picture_file.h"
#include "session/ids.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t card_limit = 200;
constexpr std::size_t prompt_limit = 1'000;
constexpr std::size_t shows_limit = 300;
constexpr std::size_t picture_limit = 60;

base::Result<const OwnSkill*> skill_with_cards(const Class& cls, const SkillId& id) {
    const OwnSkill* skill = cls.own_skill(id);
    if (skill == nullptr)
        return base::fail("Skill", "Cards can be written for skills of your own only.");
    return skill;
}

base::Result<OwnCard> checked_card(const Class& cls, const OwnCard& card) {
    const auto prompt = checked_lines("Problem", card.prompt, prompt_limit);
    if (!prompt) return pass(prompt);
    const auto answer = checked_lines("Answer", card.answer, prompt_limit);
    if (!answer) return pass(answer);
    const auto shows = checked_lines("What the picture shows", card.shows, shows_limit);
    if (!shows) return pass(shows);
    OwnCard out{*prompt, *answer, {}, {}};
    if (cls.picture(card.picture) != nullptr) {
        out.picture = card.picture;
        out.shows = base::tidy_line(*shows);
    }
    return out;
}

}  // namespace

Answer on(const Context& ctx, const SetOwnCards& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto skill = skill_with_cards(**cls, wish.skill);
    if (!skill) return pass(skill);
    if (wish.cards.size() > card_limit) {
        return base::fail("Cards", "These are " + std::to_string(wish.cards.size()) +
                                       " cards. Use at most " + std::to_string(card_limit) + ".");
    }
    std::vector<OwnCard> cards;
    for (const OwnCard& card : wish.cards) {
        auto checked = checked_card(**cls, card);
        if (!checked) return pass(checked);
        if (!checked->prompt.empty()) cards.push_back(*std::move(checked));
    }
    if (cards == (*skill)->cards) return Decision{};
    const std::string said =
        base::count_of(cards.size(), "card", "cards") + " for " + (*skill)->title + ".";
    return Decision{{record::OwnCardsSet{wish.cls, wish.skill, std::move(cards)}}, said, {}};
}

Answer on(const Context& ctx, const SetCardPicture& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto skill = skill_with_cards(**cls, wish.skill);
    if (!skill) return pass(skill);
    std::vector<OwnCard> cards = (*skill)->cards;
    if (wish.card < 0 || std::size_t(wish.card) >= cards.size())
        return base::fail("Card", "This card is not here any more.");
    const auto file = exchange::read_picture(wish.file);
    if (!file) return pass(file);
    if ((*cls)->pictures.size() >= picture_limit) {
        return base::fail("Picture", "A class holds at most " + std::to_string(picture_limit) +
                                         " pictures. Make a new class for a new year.");
    }
    const auto id = make_id<PictureId>(
        'i', ctx.entropy, [&](const PictureId& i) { return (*cls)->picture(i) != nullptr; });
    OwnCard& card = cards[std::size_t(wish.card)];
    card.picture = id;
    card.shows.clear();
    return Decision{{record::CardPictureKept{wish.cls, id, file->width, file->height,
                                             exchange::base64(wish.file)},
                     record::OwnCardsSet{wish.cls, wish.skill, cards}},
                    "The picture is on the card. Say in words what it shows.",
                    {id.str()}};
}

base::Result<std::vector<int>> checked_tiers(std::vector<int> tiers) {
    std::sort(tiers.begin(), tiers.end());
    tiers.erase(std::unique(tiers.begin(), tiers.end()), tiers.end());
    if (!tiers.empty() && (tiers.front() < 1 || tiers.back() > 3))
        return base::fail("Levels of cards", "Cards have one, two or three dots.");
    return tiers;
}

Answer on(const Context& ctx, const SetCenterTiers& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto center = center_in(*spot->block, wish.center);
    if (!center) return pass(center);
    const auto tiers = checked_tiers(wish.tiers);
    if (!tiers) return pass(tiers);
    if (*tiers == (*center)->tiers) return Decision{};
    Center next = **center;
    next.tiers = *tiers;
    static constexpr std::string_view dots[] = {"one dot", "two dots", "three dots"};
    std::vector<std::string_view> words;
    for (const int tier : *tiers)
        words.push_back(dots[tier - 1]);
    const std::string said =
        center_title(next) + (words.empty() ? ": cards as for the whole box."
                                            : ": cards with " + base::list_of(words) + ".");
    return Decision{{set_event(wish.cls, wish.block, next)}, said, {}};
}

}  // namespace tallyround::session
