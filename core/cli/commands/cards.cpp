#include <limits>
#include <nlohmann/json.hpp>

#include "cards/bank.h"
#include "cards/forms.h"
#include "cards/generate.h"
#include "cli/cli.h"
#include "json/read.h"
#include "sheets/svg.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "cards  < REQUEST.json";

constexpr std::int64_t max_sets = 100;

struct Request {
    std::string skill;
    cards::Tier tier = cards::Tier::core;
    std::int64_t count = 6;
    std::uint64_t seed = 1;
    std::int64_t sets = 0;  ///< as many sets, with seeds from `seed` on; 0: one, and its form
    cards::Form form = cards::Form::plain;
};

Request read_request(const json::Field& root) {
    Request request;
    const json::Field skill = root.at("skill");
    request.skill = skill.text();
    if (cards::find_skill(request.skill) == nullptr)
        skill.refuse(cards::unknown_skill(request.skill));
    if (const auto tier = root.find("tier")) {
        const auto known = cards::find_tier(tier->text());
        if (!known) tier->refuse("Expected \"support\", \"core\" or \"stretch\".");
        request.tier = *known;
    }
    request.count = root.integer_or("count", 1, cards::max_cards, request.count);
    request.seed =
        static_cast<std::uint64_t>(root.integer_or("seed", std::numeric_limits<std::int64_t>::min(),
                                                   std::numeric_limits<std::int64_t>::max(), 1));
    request.sets = root.integer_or("sets", 1, max_sets, request.sets);
    if (const auto form = root.find("form")) {
        const auto known = cards::find_form(form->text());
        if (!known) form->refuse("Expected plain, match, sort, find-error, board, words or code.");
        request.form = *known;
    }
    return request;
}

json::Json form_json(const cards::FormSet& set) {
    json::Json pieces = json::Json::array();
    for (const cards::Piece& piece : set.pieces)
        pieces.push_back({{"mark", piece.mark}, {"text", piece.text}});
    json::Json key = json::Json::array();
    for (const cards::FormKey& line : set.key)
        key.push_back({{"mark", line.mark}, {"says", line.says}});
    return {{"form", cards::form_id(set.form)}, {"task", set.task},
            {"pieces", std::move(pieces)},      {"grid", set.grid},
            {"columns", set.columns},           {"key", std::move(key)}};
}

json::Json card_json(const cards::Card& card) {
    json::Json slips = json::Json::array();
    for (const cards::WrongAnswer& wrong : card.slips)
        slips.push_back(
            {{"slip", wrong.slip}, {"answer", wrong.answer}, {"answer_math", wrong.answer_math}});
    json::Json out{{"prompt", card.prompt}, {"prompt_math", card.prompt_math},
                   {"answer", card.answer}, {"answer_math", card.answer_math},
                   {"steps", card.steps},   {"slips", std::move(slips)}};
    if (cards::has_picture(card.picture)) out["picture"] = sheets::standalone_svg(card.picture);
    return out;
}

json::Json cards_json(const std::vector<cards::Card>& cards) {
    json::Json list = json::Json::array();
    for (const cards::Card& card : cards)
        list.push_back(card_json(card));
    return list;
}

Outcome refusal(const Request& request, const base::Error& error) {
    return cannot({{"skill", request.skill}, {"why", error.message}}, error.message);
}

/// Many sets in one go, for checks that want thousands of seeds.
Outcome many_sets(const Request& request) {
    json::Json sets = json::Json::array();
    for (std::int64_t i = 0; i < request.sets; ++i) {
        const std::uint64_t seed = request.seed + static_cast<std::uint64_t>(i);
        const auto made = cards::make_cards(request.skill, request.tier, request.count, seed);
        if (!made) return refusal(request, made.error());
        sets.push_back({{"seed", static_cast<std::int64_t>(seed)}, {"cards", cards_json(*made)}});
    }
    return done({{"skill", request.skill},
                 {"tier", cards::tier_id(request.tier)},
                 {"sets", std::move(sets)}});
}

}  // namespace

Outcome run_cards(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, read_request);
    if (!request) return bad_input("standard input", request.error());
    if (request->sets > 0) return many_sets(*request);
    const auto made =
        cards::make_cards(request->skill, request->tier, request->count, request->seed);
    if (!made) return refusal(*request, made.error());
    const cards::FormSet form =
        cards::make_form(request->form, request->skill, *made, request->seed);
    return done({{"skill", request->skill},
                 {"tier", cards::tier_id(request->tier)},
                 {"features", cards::tier_features(request->skill, request->tier)},
                 {"cards", cards_json(*made)},
                 {"form", form_json(form)}});
}

}  // namespace tallyround::cli
