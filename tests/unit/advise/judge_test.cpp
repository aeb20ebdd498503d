#include "advise/judge.h"

#include <doctest/doctest.h>

#include <vector>

#include "base/random.h"

using namespace tallyround::advise;
using tallyround::base::Random;

namespace {

CenterLook look(int center, int student, double gain, int round = -1, int group = -1) {
    return {center, student, 0.4, 0.4 + gain, 0.0, round, group};
}

}  // namespace

TEST_CASE("four students are too early whatever they gained, and nothing in gives nothing out") {
    CHECK(judge_centers({}).empty());
    std::vector<CenterLook> looks;
    for (int s = 0; s < 4; ++s)
        looks.push_back(look(0, s, 0.5));
    CHECK(judge_centers(looks).front().verdict == Verdict::too_early);
    // More visits of the same student are no more students.
    looks.push_back(look(0, 0, 0.5));
    CHECK(judge_centers(looks).front().students == 4);
    CHECK(judge_centers(looks).front().verdict == Verdict::too_early);
    looks.push_back(look(0, 4, 0.5));
    CHECK(judge_centers(looks).front().verdict == Verdict::keep);
}

TEST_CASE("a center that helps is kept, one that does not is swapped, a doubtful one watched") {
    std::vector<CenterLook> looks;
    for (int s = 0; s < 16; ++s) {
        looks.push_back(look(0, s, 0.30));
        looks.push_back(look(1, s, -0.15));
        looks.push_back(look(2, s, s % 2 == 0 ? 0.35 : -0.3));
    }
    const auto judged = judge_centers(looks);
    REQUIRE(judged.size() == 3);
    CHECK(judged[0].verdict == Verdict::keep);
    CHECK(judged[1].verdict == Verdict::swap);
    CHECK(judged[2].verdict == Verdict::watch);
    for (const CenterJudgement& c : judged) {
        CHECK(c.low < c.gain);
        CHECK(c.gain < c.high);
    }
    // Shrunk toward the common mean.
    CHECK(judged[0].gain < judged[0].mean);
    CHECK(judged[1].gain > judged[1].mean);
}

TEST_CASE("what the round and the group do is not laid to the center") {
    // Two centers that help alike. Late rounds gain .3 less, and the second center was late for
    // most; by groups the same.
    for (const bool by_group : {false, true}) {
        Random random(11);
        std::vector<CenterLook> looks;
        for (int s = 0; s < 40; ++s) {
            const int center = s % 2;
            const bool late = random.unit() < (center == 0 ? 0.2 : 0.8);
            const double gain = 0.25 - (late ? 0.3 : 0.0) + 0.05 * (random.unit() - 0.5);
            looks.push_back(by_group ? look(center, s, gain, -1, late ? 1 : 0)
                                     : look(center, s, gain, late ? 2 : 1, -1));
        }
        const auto adjusted = judge_centers(looks);
        for (CenterLook& one : looks)
            one.round = one.group = -1;
        const auto plain = judge_centers(looks);
        CHECK(plain[0].mean - plain[1].mean > 0.12);
        CHECK(adjusted[0].mean - adjusted[1].mean < 0.05);
        CHECK(adjusted[0].mean - adjusted[1].mean > -0.05);
    }
}
