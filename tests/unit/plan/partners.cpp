#include "plan/partners.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace tallyround;
using plan::PartnersProblem;
using plan::PartnersSearch;

namespace {

PartnersProblem term(int students, int size, int blocks) {
    PartnersProblem p;
    p.students = students;
    p.size = size;
    p.blocks = blocks;
    return p;
}

/// Every student in one group a block, groups of the sizes they should have.
void check_shape(const PartnersProblem& p, const plan::Partners& found) {
    CHECK(int(found.blocks.size()) == p.blocks);
    for (const auto& block : found.blocks) {
        std::vector<int> sizes;
        std::vector<int> all;
        for (const auto& group : block) {
            sizes.push_back(int(group.size()));
            all.insert(all.end(), group.begin(), group.end());
        }
        std::sort(sizes.rbegin(), sizes.rend());
        std::sort(all.begin(), all.end());
        CHECK(sizes == plan::block_sizes(p.students, p.size));
        REQUIRE(int(all.size()) == p.students);
        for (int i = 0; i < p.students; ++i)
            CHECK(all[i] == i);
    }
}

}  // namespace

TEST_CASE("sizes of a block") {
    CHECK(plan::block_sizes(28, 4) == std::vector<int>(7, 4));
    CHECK(plan::block_sizes(26, 4) == std::vector<int>{4, 4, 4, 4, 4, 3, 3});
    CHECK(plan::block_sizes(5, 4) == std::vector<int>{3, 2});
    CHECK(plan::block_sizes(3, 4) == std::vector<int>{3});
}

TEST_CASE("pairs, threes, fours and fives without a repeat, mixed sizes too") {
    struct Case {
        int students, size, blocks;
    };
    for (const Case c : {Case{8, 2, 7}, Case{15, 3, 7}, Case{9, 3, 4}, Case{25, 5, 6},
                         Case{13, 4, 4}, Case{22, 4, 7}, Case{26, 4, 8}, Case{34, 4, 11}}) {
        CAPTURE(c.students);
        const auto p = term(c.students, c.size, c.blocks);
        const auto search = solve_partners(p);
        check_shape(p, *search.best());
        CHECK(search.best()->repeat_pairs == 0);
        CHECK(search.proved_best());
    }
}

TEST_CASE("more blocks than can be without repeats") {
    const auto p = term(12, 4, 3);
    const auto search = solve_partners(p, 400'000);
    check_shape(p, *search.best());
    CHECK(search.best()->repeat_pairs == plan::bound_repeats(12, 4, 3));
    CHECK(search.proved_best());
}

TEST_CASE("apart and together hold in every block") {
    auto p = term(24, 4, 6);
    p.apart = {{0, 1, 2}, {5, 9}};
    p.together = {{3, 4}};
    const auto search = solve_partners(p, 2'000'000);
    const auto& found = *search.best();
    check_shape(p, found);
    CHECK(found.broken_pairs == 0);
    for (const auto& block : found.blocks) {
        for (const auto& group : block) {
            const auto has = [&](int s) {
                return std::find(group.begin(), group.end(), s) != group.end();
            };
            CHECK(has(0) + has(1) + has(2) <= 1);
            CHECK(has(5) + has(9) <= 1);
            CHECK(has(3) == has(4));
        }
    }
}

TEST_CASE("a term goes on from what was taught, with a changed class") {
    const auto first = solve_partners(term(16, 4, 2));
    auto p = term(16, 4, 5);
    p.fixed = first.best()->blocks;
    const auto search = solve_partners(p, 4'000'000);
    check_shape(p, *search.best());
    CHECK(search.best()->blocks[0] == p.fixed[0]);
    CHECK(search.best()->blocks[1] == p.fixed[1]);
    CHECK(search.best()->repeat_pairs <= 6);
    // Student 15 left before the second block was taught: fewer pairs have met.
    for (auto& group : p.fixed[1])
        group.erase(std::remove(group.begin(), group.end(), 15), group.end());
    const auto changed = solve_partners(p, 1'000'000);
    CHECK(changed.best()->blocks[1] == p.fixed[1]);
}

TEST_CASE("bounds") {
    CHECK(plan::bound_blocks(16, 4) == 5);
    CHECK(plan::bound_blocks(24, 4) == 7);
    CHECK(plan::bound_blocks(12, 4) == 1);
    CHECK(plan::bound_blocks(27, 4) == 9);
    CHECK(plan::bound_blocks(8, 2) == 7);
    CHECK(plan::bound_repeats(28, 4, 9) == 0);
    CHECK(plan::bound_repeats(28, 4, 10) == 42);
    CHECK(plan::bound_repeats(8, 4, 2) == 4);
}

TEST_CASE("slices change nothing") {
    const auto p = term(18, 4, 6);
    const auto whole = solve_partners(p, 300'000);
    PartnersSearch sliced(p, 300'000);
    while (!sliced.step(20'000)) {
    }
    CHECK(sliced.best()->blocks == whole.best()->blocks);
}
