// data/evidence/binom_check.csv was computed with R 4.2.2 and SciPy 1.10; Wilson 1927, Jeffreys as
// in Brown, Cai, DasGupta 2001 (Stat. Sci. 16:101), Clopper & Pearson 1934.
#include "evidence/intervals.h"

#include <doctest/doctest.h>

#include <cmath>

#include "table.h"

using namespace tallyround::evidence;

TEST_CASE("intervals and beliefs agree with the table") {
    const auto rows = read_table("evidence/binom_check.csv");
    REQUIRE(rows.size() == 14);
    for (std::size_t i = 1; i < rows.size(); ++i) {
        const auto cell = [&](std::size_t column) { return std::stod(rows[i][column]); };
        const double x = cell(0);
        const double n = cell(1);
        CAPTURE(x);
        CAPTURE(n);
        CHECK(std::abs(wilson(x, n).low - cell(2)) < 1e-12);
        CHECK(std::abs(wilson(x, n).high - cell(3)) < 1e-12);
        CHECK(std::abs(jeffreys(x, n).low - cell(4)) < 1e-12);
        CHECK(std::abs(jeffreys(x, n).high - cell(5)) < 1e-12);
        CHECK(std::abs(clopper_pearson(x, n).low - cell(6)) < 1e-12);
        CHECK(std::abs(clopper_pearson(x, n).high - cell(7)) < 1e-12);
        CHECK(std::abs(belief_above(0.8, x, n) - cell(10)) < 1e-12);
        CHECK(std::abs(belief_above(0.8, x, n, 0.5, 0.5) - cell(11)) < 1e-12);
    }
}

TEST_CASE("Wilson on the cases of Newcombe 1998, Stat. Med. 17:857") {
    const auto check = [](double x, double n, double low, double high) {
        CHECK(std::abs(wilson(x, n).low - low) < 5.1e-5);
        CHECK(std::abs(wilson(x, n).high - high) < 5.1e-5);
    };
    check(81, 263, 0.2553, 0.3662);
    check(15, 148, 0.0624, 0.1605);
    check(0, 20, 0.0, 0.1611);
    check(1, 29, 0.0061, 0.1718);
}

TEST_CASE("three secure in a row leave 59 % belief in a rate above .8") {
    CHECK(belief_above(0.8, 3, 3) == doctest::Approx(1.0 - std::pow(0.8, 4)));
    CHECK(belief_above(0.8, 9, 10) == doctest::Approx(0.6778774528).epsilon(1e-10));
    CHECK(belief_above(0.8, 10, 10) == doctest::Approx(0.9141006541).epsilon(1e-10));
}

TEST_CASE("normal distribution function at its table points") {
    CHECK(normal_below(0.0) == 0.5);
    CHECK(normal_below(z95) == doctest::Approx(0.975).epsilon(1e-12));
    CHECK(normal_below(-1.0) == doctest::Approx(0.158655253931457).epsilon(1e-12));
}
