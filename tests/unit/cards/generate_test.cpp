#include "cards/generate.h"

#include <doctest/doctest.h>

#include <map>
#include <set>
#include <string>

#include "cards/bank.h"

using namespace tallyround::cards;

namespace {

constexpr Tier tiers[] = {Tier::support, Tier::core, Tier::stretch};

bool same(const Card& a, const Card& b) {
    if (a.slips.size() != b.slips.size()) return false;
    for (std::size_t i = 0; i < a.slips.size(); ++i)
        if (a.slips[i].slip != b.slips[i].slip || a.slips[i].answer != b.slips[i].answer)
            return false;
    return a.prompt == b.prompt && a.prompt_math == b.prompt_math && a.answer == b.answer &&
           a.answer_math == b.answer_math && a.steps == b.steps;
}

}  // namespace

TEST_CASE("at least 72 skills have cards, each with features for three tiers") {
    int made = 0;
    for (const SkillInfo& skill : skill_bank()) {
        CAPTURE(skill.id);
        if (!has_generator(skill.id)) continue;
        ++made;
        std::set<std::string_view> features;
        for (Tier tier : tiers)
            features.insert(tier_features(skill.id, tier));
        CHECK(features.size() == 3);
        CHECK(features.count("") == 0);
    }
    CHECK(made >= 72);
}

TEST_CASE("the same request gives the same cards, and a longer set begins with the shorter one") {
    const auto one = make_cards("frac-add-unlike", Tier::core, 6, 3);
    const auto two = make_cards("frac-add-unlike", Tier::core, 20, 3);
    const auto other = make_cards("frac-add-unlike", Tier::core, 6, 4);
    REQUIRE(one);
    REQUIRE(two);
    REQUIRE(other);
    for (std::size_t i = 0; i < one->size(); ++i)
        CHECK(same((*one)[i], (*two)[i]));
    CHECK_FALSE(same(one->front(), other->front()));
}

TEST_CASE("counts outside 1 to 500, unknown skills and far too many cards are refused in words") {
    for (std::int64_t count :
         {std::int64_t{0}, std::int64_t{-1}, std::int64_t{501}, std::int64_t{1'000'000}}) {
        const auto cards = make_cards("mean", Tier::core, count, 1);
        REQUIRE_FALSE(cards);
        CHECK(cards.error().where == "count");
    }
    const auto unknown = make_cards("frac-ad-unlike", Tier::core, 1, 1);
    REQUIRE_FALSE(unknown);
    CHECK(unknown.error().message.find("frac-add-unlike") != std::string::npos);
    CHECK(make_cards("frac-add-unlike", Tier::core, 500, 1)->size() == 500);
}

TEST_CASE("tiers have names and only those") {
    for (Tier tier : tiers)
        CHECK(find_tier(tier_id(tier)) == tier);
    CHECK_FALSE(find_tier("Core"));
    CHECK_FALSE(find_tier(""));
}

TEST_CASE("every slip has an id, a short rule and an honest source") {
    std::map<std::string_view, const SlipInfo*> known;
    for (const SkillInfo& skill : skill_bank()) {
        if (!has_generator(skill.id)) continue;
        CAPTURE(skill.id);
        CHECK(skill_slips(skill.id).size() >= 3);
        std::set<std::string_view> here;
        for (const SlipInfo* slip : skill_slips(skill.id)) {
            CAPTURE(slip->id);
            CHECK(here.insert(slip->id).second);
            CHECK(slip->id.find_first_not_of("abcdefghijklmnopqrstuvwxyz-") ==
                  std::string_view::npos);
            CHECK(slip->rule.size() >= 10);
            CHECK(slip->rule.size() <= 95);
            CHECK(find_slip(slip->id) != nullptr);
            CHECK(slip->source.empty() == (slip->status == practice));
            const bool honest = slip->status == practice || slip->status == from_memory ||
                                slip->status == abstract_read;
            CHECK(honest);
        }
    }
    CHECK(find_slip("no-such-slip") == nullptr);
}
