#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "plan/accept.h"
#include "plan/chart_model.h"
#include "plan/design.h"
#include "plan/field.h"
#include "plan/minimal.h"

using namespace tallyround;
using namespace tallyround::plan::detail;

TEST_CASE("finite fields have inverses and distribute") {
    for (const int order : {2, 3, 4, 5, 7, 8, 9, 16, 25, 27}) {
        CAPTURE(order);
        const auto field = finite_field(order);
        REQUIRE(field);
        for (int a = 0; a < order; ++a) {
            CHECK(field->add(a, 0) == a);
            CHECK(field->multiply(a, 1) == a);
            int inverses = 0;
            for (int b = 0; b < order; ++b) {
                inverses += a > 0 && field->multiply(a, b) == 1;
                const int c = (a * 7 + b * 3 + 1) % order;
                CHECK(field->multiply(a, field->add(b, c)) ==
                      field->add(field->multiply(a, b), field->multiply(a, c)));
            }
            CHECK(inverses == (a > 0 ? 1 : 0));
        }
    }
    CHECK_FALSE(finite_field(6));
    CHECK_FALSE(finite_field(12));
    CHECK_FALSE(finite_field(1));
}

TEST_CASE("falling_exp is close to exp and accept never refuses a gain") {
    for (double x = 0.0; x < 12.0; x += 0.25)
        CHECK(std::abs(plan::falling_exp(x) - std::exp(-x)) < 0.04);
    base::Random random(1);
    CHECK(plan::accept(-1.0, 0.1, random));
    CHECK(plan::accept(0.0, 0.1, random));
    CHECK_FALSE(plan::accept(100.0, 0.1, random));
}

TEST_CASE("root_of finds the factor of a cooling schedule") {
    const double factor = plan::root_of(0.01, 100);
    CHECK(std::abs(std::pow(factor, 100) - 0.01) < 1e-6);
}

TEST_CASE("the deletion filter keeps exactly a minimal conflict") {
    const std::set<int> wanted{3, 17, 20};
    int calls = 0;
    const auto kept = plan::minimal_conflict(40, [&](const std::vector<char>& flags) {
        ++calls;
        return std::all_of(wanted.begin(), wanted.end(), [&](int i) { return flags[i] != 0; });
    });
    for (int i = 0; i < 40; ++i)
        CHECK((kept[i] != 0) == (wanted.count(i) > 0));
    CHECK(calls < 80);
}

TEST_CASE("matching fills places up to their room") {
    CHECK(most_matched({0b01, 0b01, 0b10}, {1, 1}) == 2);
    CHECK(most_matched({0b01, 0b01, 0b10}, {2, 1}) == 3);
    CHECK(most_matched({0b11, 0b01}, {1, 1}) == 2);
    CHECK(most_matched({0b0}, {1}) == 0);
}

TEST_CASE("lines of a field: no pair twice, and the columns add blocks where they split") {
    const auto blocks = [](int points, int size) {
        const auto design = lines(points, size);
        return design ? int(design->blocks.size()) : 0;
    };
    CHECK(blocks(16, 4) == 5);
    CHECK(blocks(20, 4) == 5);
    CHECK(blocks(28, 4) == 7);
    CHECK(blocks(32, 4) == 9);
    CHECK(blocks(9, 3) == 4);
    CHECK(blocks(64, 4) == 21);
    CHECK(blocks(24, 4) == 0);
    CHECK(blocks(12, 4) == 0);
}

TEST_CASE("a base block search finds Kirkman's 15 in sevens") {
    const auto shapes = cyclic_shapes(15, 3);
    REQUIRE_FALSE(shapes.empty());
    CHECK(shapes.front().modulus == 7);
    BaseSearch search(shapes.front(), 3, 1);
    REQUIRE(search.step(2'000'000));
    const Design design = develop(shapes.front(), 3, search.base());
    plan::PartnersProblem p;
    p.students = 15;
    p.size = 3;
    p.blocks = 7;
    const auto found = measure(p, design.blocks);
    CHECK(found.repeat_pairs == 0);
    CHECK(found.distinct_pairs == 105);
}
