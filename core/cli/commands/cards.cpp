#include <limits>
#include <nlohmann/json.hpp>

#include "cards/bank.h"
#include "cards/generate.h"
#include "cli/cli.h"

namespace tallyround::cli {

namespace {

constexpr std::string_view synopsis = "cards  < REQUEST.json";

struct Request {
    std::string skill;
    cards::Tier tier = cards::Tier::core;
    std::int64_t count = 6;
    std::uint64_t seed = 1;
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
    return request;
}

json::Json card_json(const cards::Card& card) {
    json::Json slips = json::Json::array();
    for (const cards::WrongAnswer& wrong : card.slips)
        slips.push_back(
            {{"slip", wrong.slip}, {"answer", wrong.answer}, {"answer_math", wrong.answer_math}});
    return {{"prompt", card.prompt}, {"prompt_math", card.prompt_math},
            {"answer", card.answer}, {"answer_math", card.answer_math},
            {"steps", card.steps},   {"slips", std::move(slips)}};
}

}  // namespace

Outcome run_cards(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, read_request);
    if (!request) return bad_input("standard input", request.error());
    const auto made =
        cards::make_cards(request->skill, request->tier, request->count, request->seed);
    if (!made)
        return cannot({{"skill", request->skill}, {"why", made.error().message}},
                      made.error().message);
    json::Json list = json::Json::array();
    for (const cards::Card& card : *made)
        list.push_back(card_json(card));
    return done({{"skill", request->skill},
                 {"tier", cards::tier_id(request->tier)},
                 {"features", cards::tier_features(request->skill, request->tier)},
                 {"cards", std::move(list)}});
}

}  // namespace tallyround::cli
