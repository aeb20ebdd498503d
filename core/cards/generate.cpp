#include "cards/generate.h"

#include <algorithm>
#include <iterator>
#include <unordered_set>

#include "base/random.h"
#include "base/text.h"
#include "cards/bank.h"
#include "cards/draft.h"
#include "cards/families.h"

namespace tallyround::cards {

namespace {

constexpr int tries_for_full = 1500;  // draws in search of a card that tells all its slips apart
constexpr int tries_at_all = 20'000;  // draws before a skill counts as used up

const std::vector<Generator>& generators() {
    static const std::vector<Generator> all = [] {
        std::vector<Generator> list;
        for (auto family : all_families())
            std::move(family.begin(), family.end(), std::back_inserter(list));
        return list;
    }();
    return all;
}

const Generator* find_generator(std::string_view skill) {
    const auto& all = generators();
    const auto it =
        std::find_if(all.begin(), all.end(), [&](const Generator& g) { return g.skill == skill; });
    return it == all.end() ? nullptr : &*it;
}

/// FNV-1a, so that each skill and tier has a stream of its own.
std::uint64_t stream(std::string_view skill, Tier tier, std::uint64_t seed) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    const auto mix = [&](unsigned char byte) { hash = (hash ^ byte) * 0x100000001b3U; };
    for (char c : skill)
        mix(static_cast<unsigned char>(c));
    mix(static_cast<unsigned char>(tier));
    for (int i = 0; i < 8; ++i)
        mix(static_cast<unsigned char>(seed >> (8 * i)));
    return hash;
}

class Set {
  public:
    Set(const Generator& generator, Tier tier, std::uint64_t seed)
        : generator_(generator), tier_(tier), random_(stream(generator.skill, tier, seed)) {}

    /// The next card, different from all before; nothing when the skill is used up.
    std::optional<Card> next() {
        std::optional<Card> second_best;
        for (int i = 0; i < tries_at_all; ++i) {
            if (second_best && i >= tries_for_full) break;
            Draw draw(random_, tier_);
            Draft draft;
            if (!generator_.make(draw, draft)) continue;
            const Draft::Verdict verdict = draft.verdict();
            if (verdict == Draft::Verdict::broken || seen(draft.card())) continue;
            if (verdict == Draft::Verdict::full) return keep(draft.card());
            if (!second_best) second_best = draft.card();
        }
        if (second_best) keep(*second_best);
        return second_best;
    }

  private:
    bool seen(const Card& card) const { return prompts_.count(card.prompt) > 0; }
    Card keep(const Card& card) {
        prompts_.insert(card.prompt);
        return card;
    }

    const Generator& generator_;
    Tier tier_;
    base::Random random_;
    std::unordered_set<std::string> prompts_;
};

}  // namespace

std::string_view tier_id(Tier tier) {
    switch (tier) {
        case Tier::support:
            return "support";
        case Tier::core:
            return "core";
        case Tier::stretch:
            return "stretch";
    }
    return {};
}

std::optional<Tier> find_tier(std::string_view id) {
    for (Tier tier : {Tier::support, Tier::core, Tier::stretch})
        if (tier_id(tier) == id) return tier;
    return std::nullopt;
}

bool has_generator(std::string_view skill) {
    return find_generator(skill) != nullptr;
}

std::string unknown_skill(std::string_view skill) {
    return "There is no skill \"" + base::first_code_points(skill, 40) +
           "\". Near it: " + base::list_of(nearest_skills(skill)) + ".";
}

base::Result<std::vector<Card>> make_cards(std::string_view skill, Tier tier, std::int64_t count,
                                           std::uint64_t seed) {
    if (find_skill(skill) == nullptr) return base::fail("skill", unknown_skill(skill));
    if (count < 1 || count > max_cards) return base::fail("count", "Ask for 1 to 500 cards.");
    const Generator* generator = find_generator(skill);
    if (generator == nullptr)
        return base::fail("skill", "No cards can be made for \"" + std::string(skill) +
                                       "\" yet; write your own cards for it.");
    Set set(*generator, tier, seed);
    std::vector<Card> cards;
    cards.reserve(static_cast<std::size_t>(count));
    while (static_cast<std::int64_t>(cards.size()) < count) {
        std::optional<Card> card = set.next();
        if (!card)
            return base::fail("count", "Only " + std::to_string(cards.size()) +
                                           " different cards can be made for \"" +
                                           std::string(skill) + "\" at this tier and seed.");
        cards.push_back(std::move(*card));
    }
    return cards;
}

std::string_view tier_features(std::string_view skill, Tier tier) {
    const Generator* generator = find_generator(skill);
    return generator == nullptr ? std::string_view{}
                                : generator->features[static_cast<std::size_t>(tier)];
}

const std::vector<const SlipInfo*>& skill_slips(std::string_view skill) {
    static const std::vector<const SlipInfo*> none;
    const Generator* generator = find_generator(skill);
    return generator == nullptr ? none : generator->slips;
}

const SlipInfo* find_slip(std::string_view id) {
    for (const Generator& generator : generators())
        for (const SlipInfo* slip : generator.slips)
            if (slip->id == id) return slip;
    return nullptr;
}

}  // namespace tallyround::cards
