// Sets of 24 cards of every skill and tier, each timed: the median, the slowest and whose it is.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include "cards/bank.h"
#include "cards/generate.h"

using namespace tallyround;

int main() {
    constexpr std::int64_t count = 24;
    std::vector<double> times;
    std::string slowest;
    double most = 0.0;
    for (const cards::SkillInfo& skill : cards::skill_bank()) {
        if (!cards::has_generator(skill.id)) continue;
        for (const auto tier : {cards::Tier::support, cards::Tier::core, cards::Tier::stretch}) {
            double best = 1e9;  // of three runs: what the machine does beside is not ours
            for (std::uint64_t seed = 1; seed <= 3; ++seed) {
                const auto start = std::chrono::steady_clock::now();
                const auto made = cards::make_cards(skill.id, tier, count, 1);
                const auto took = std::chrono::steady_clock::now() - start;
                if (!made || made->size() != count) return 1;
                best = std::min(best, std::chrono::duration<double, std::milli>(took).count());
            }
            times.push_back(best);
            if (best > most) {
                most = best;
                slowest = std::string(skill.id) + " " + std::string(cards::tier_id(tier));
            }
        }
    }
    std::sort(times.begin(), times.end());
    std::printf(R"({"sets":%zu,"p50":%.3f,"p95":%.3f,"most":%.3f,"slowest":"%s"})"
                "\n",
                times.size(), times[times.size() / 2], times[times.size() * 95 / 100], most,
                slowest.c_str());
    return 0;
}
