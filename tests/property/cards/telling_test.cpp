#include <doctest/doctest.h>

#include <set>
#include <string>

#include "cards/draft.h"
#include "cards/families.h"

using namespace tallyround;
using namespace tallyround::cards;

namespace {

constexpr std::uint64_t seed = 20'261'125;
constexpr int draws = 1500;  // as many as the composer spends on a card that tells all its slips

/// Of `count` different cards, how many tell all their slips apart: every slip that was tried has
/// an answer of its own.
int telling(const Generator& generator, Tier tier, int count, base::Random& random) {
    std::set<std::string> prompts;
    int full = 0;
    for (int card = 0; card < count; ++card) {
        for (int i = 0; i < draws; ++i) {
            Draw draw(random, tier);
            Draft draft;
            if (!generator.make(draw, draft) || draft.verdict() != Draft::Verdict::full) continue;
            if (!prompts.insert(draft.card().prompt).second) continue;
            ++full;
            break;
        }
    }
    return full;
}

}  // namespace

TEST_CASE("in any twelve cards at least 60 % tell all their slips apart") {
    MESSAGE("seed " << seed);
    base::Random random(seed);
    for (const auto& family : all_families()) {
        for (const Generator& generator : family) {
            CAPTURE(generator.skill);
            for (const Tier tier : {Tier::support, Tier::core, Tier::stretch}) {
                CAPTURE(tier_id(tier));
                CHECK(telling(generator, tier, 12, random) >= 8);  // 60 % of 12, rounded up
            }
        }
    }
}
