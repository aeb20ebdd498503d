// The same result on every platform and standard library: hashes of what fixed problems give.
#include <doctest/doctest.h>

#include "plan/chart.h"
#include "plan/group.h"
#include "plan/partners.h"

using namespace tallyround;

namespace {

/// FNV-1a over whole numbers.
class Hash {
  public:
    void add(int value) {
        for (int shift = 0; shift < 32; shift += 8) {
            state_ ^= (std::uint64_t(std::uint32_t(value)) >> unsigned(shift)) & 0xFFU;
            state_ *= 1099511628211U;
        }
    }
    void add(const std::vector<std::vector<int>>& rows) {
        for (const auto& row : rows) {
            add(int(row.size()));
            for (const int value : row)
                add(value);
        }
    }
    std::uint64_t value() const { return state_; }

  private:
    std::uint64_t state_ = 14695981039346656037U;
};

}  // namespace

TEST_CASE("groups are the same everywhere") {
    plan::GroupProblem p;
    p.students = 26;
    p.policy = plan::LevelPolicy::mixed;
    for (int i = 0; i < 26; ++i)
        p.level.push_back((i * 17 % 26) / 26.0);
    p.apart = {{0, 1}, {2, 3, 4}};
    p.together = {{5, 6}};
    Hash hash;
    for (int block = 0; block < 4; ++block) {
        p.past.push_back(solve_groups(p, 40'000).best()->groups);
        hash.add(p.past.back());
    }
    CHECK(hash.value() == 5783370944653739589U);
}

TEST_CASE("charts are the same everywhere") {
    plan::ChartProblem p;
    p.groups = 7;
    p.rounds = 7;
    p.centers.resize(7);
    p.order = plan::ChartOrder::balanced;
    plan::ChartRule rule;
    rule.kind = plan::ChartRule::Kind::before;
    rule.center = 0;
    rule.then = 3;
    p.rules = {rule};
    Hash hash;
    hash.add(*solve_chart(p, 20'000).best());
    CHECK(hash.value() == 6939814014957093450U);
}

TEST_CASE("terms are the same everywhere") {
    plan::PartnersProblem p;
    p.students = 22;
    p.blocks = 9;
    Hash hash;
    const auto search = solve_partners(p, 500'000);
    for (const auto& block : search.best()->blocks)
        hash.add(block);
    CHECK(hash.value() == 846620054631028436U);
}
