#include "sheets/center_set.h"

#include <algorithm>

namespace tallyround::sheets {

namespace {

using cards::Form;
using cards::Tier;

constexpr int board_cards = 24;

std::string mark_of(const CenterBox& center, std::string_view piece) {
    return std::to_string(center.number) + "-" + std::string(piece.size() < 2 ? "0" : "") +
           std::string(piece);
}

std::string numbered(const CenterBox& center, std::size_t n) {
    return mark_of(center, std::to_string(n));
}

/// Cards of every tier asked for, one tier after the other.
struct Dealt {
    std::vector<cards::Card> cards;
    std::vector<Tier> tiers;
};

/// The tiers of a center: those of its own, or the ones chosen for all.
std::vector<Tier> tiers_of(const CenterBox& center, const SheetChoices& choices) {
    if (center.tiers.empty()) return choices.tiers;
    std::vector<Tier> tiers;
    for (const int dots : center.tiers)
        tiers.push_back(static_cast<Tier>(dots - 1));
    return tiers;
}

Dealt deal(const CenterBox& center, const SheetChoices& choices, Form form, std::uint64_t seed) {
    Dealt dealt;
    const std::vector<Tier> wanted = tiers_of(center, choices);
    const int tiers = std::max(1, int(wanted.size()));
    const int count =
        form == Form::board ? std::max(choices.cards, board_cards / tiers) : choices.cards;
    for (const Tier tier : wanted) {
        // A tier with fewer different problems than asked for gives those it has.
        for (int n = count; n > 0; n = n * 3 / 4) {
            auto made = cards::make_cards(center.skill, tier, n, seed);
            if (!made) continue;
            for (cards::Card& card : *made) {
                dealt.cards.push_back(std::move(card));
                dealt.tiers.push_back(tier);
            }
            break;
        }
    }
    return dealt;
}

Dealt own(const CenterBox& center) {
    Dealt dealt;
    for (const OwnCard& card : center.own_cards) {
        cards::Card made;
        made.prompt = card.prompt;
        made.answer = card.answer;
        if (!card.picture.empty())
            made.picture = cards::Photo{card.picture, card.width, card.height, card.shows};
        dealt.cards.push_back(std::move(made));
    }
    return dealt;
}

KeyRow key_row(const CenterBox& center, std::size_t n, const cards::Card& card, CenterSet& set) {
    KeyRow row{numbered(center, n), card.prompt, card.answer, "", {}};
    if (const auto* photo = std::get_if<cards::Photo>(&card.picture))
        row.problem +=
            photo->shows.empty() ? " (with a picture)" : " (picture: " + photo->shows + ")";
    for (const std::string& step : card.steps)
        row.steps += (row.steps.empty() ? "" : "; ") + step;
    for (const cards::WrongAnswer& wrong : card.slips) {
        const cards::SlipInfo* slip = cards::find_slip(wrong.slip);
        if (slip == nullptr) continue;
        row.slips.emplace_back(wrong.answer, std::string(slip->rule));
        if (std::find(set.slips.begin(), set.slips.end(), slip) == set.slips.end())
            set.slips.push_back(slip);
    }
    return row;
}

void lay_plain(const CenterBox& center, const Dealt& dealt, CenterSet& set) {
    for (std::size_t i = 0; i < dealt.cards.size(); ++i) {
        CardFace face{numbered(center, i + 1), {}, dealt.cards[i].prompt, dealt.cards[i].picture};
        if (i < dealt.tiers.size()) face.tier = dealt.tiers[i];
        set.faces.push_back(std::move(face));
        set.key.push_back(key_row(center, i + 1, dealt.cards[i], set));
    }
}

/// One self-check for each run of cards of a tier.
void add_codes(const CenterBox& center, const Dealt& dealt, std::uint64_t seed, CenterSet& set) {
    for (std::size_t from = 0; from < dealt.tiers.size();) {
        std::size_t to = from;
        while (to < dealt.tiers.size() && dealt.tiers[to] == dealt.tiers[from])
            ++to;
        const std::span<const cards::Card> run(&dealt.cards[from], to - from);
        const cards::FormSet made = cards::make_form(Form::code, center.skill, run, seed + from);
        // Answers that repeat are left out of a code; then the letters would not fall into line.
        if (made.pieces.size() == run.size()) {
            CenterSet::Code code{dealt.tiers[from], made.grid, "", numbered(center, from + 1),
                                 numbered(center, to)};
            for (const cards::FormKey& letter : made.key)
                code.word += letter.says;
            set.codes.push_back(std::move(code));
        }
        from = to;
    }
}

void lay_form(const CenterBox& center, const Dealt& dealt, std::uint64_t seed, CenterSet& set) {
    const cards::FormSet made = cards::make_form(set.form, center.skill, dealt.cards, seed);
    set.task = made.task;
    for (const cards::Piece& piece : made.pieces) {
        CardFace face{
            piece.mark.empty() ? "" : mark_of(center, piece.mark), {}, piece.text, piece.picture};
        set.faces.push_back(std::move(face));
    }
    for (const cards::FormKey& key : made.key) {
        const std::string says =
            key.partner.empty() ? key.says : "goes with " + mark_of(center, key.partner);
        set.key.push_back({mark_of(center, key.mark), "", says, "", {}});
    }
}

}  // namespace

Form form_of(const CenterBox& center) {
    if (center.kind == "match") return Form::match;
    if (center.kind == "error") return Form::find_error;
    if (center.kind == "game") return Form::board;
    if (center.kind == "words") return Form::words;
    return Form::plain;
}

CenterSet center_set(const CenterBox& center, const SheetChoices& choices) {
    CenterSet set;
    set.form = form_of(center);
    const std::uint64_t seed = choices.seed * 1000 + std::uint64_t(center.number);
    const Dealt dealt = center.skill.empty() ? own(center) : deal(center, choices, set.form, seed);
    const bool has_slips = std::any_of(dealt.cards.begin(), dealt.cards.end(),
                                       [](const cards::Card& card) { return !card.slips.empty(); });
    if (set.form == Form::find_error && !has_slips) set.form = Form::plain;
    if (dealt.cards.empty() && set.form != Form::words) set.form = Form::plain;
    if (set.form == Form::plain || set.form == Form::board) lay_plain(center, dealt, set);
    if (set.form == Form::board) {
        const cards::FormSet made = cards::make_form(set.form, center.skill, dealt.cards, seed);
        set.task = made.task;
        set.board = made.grid;
        set.board_side = made.columns;
    } else if (set.form == Form::plain) {
        if (center.kind == "cards") add_codes(center, dealt, seed, set);
    } else {
        lay_form(center, dealt, seed, set);
    }
    return set;
}

}  // namespace tallyround::sheets
