#include "cards/exact.h"

#include <doctest/doctest.h>

#include <cstdint>

using namespace tallyround::cards;

TEST_CASE("fractions reduce, carry the sign on top and compute exactly") {
    CHECK(Exact(6, -8) == Exact(-3, 4));
    CHECK(Exact(1, 3) + Exact(1, 12) == Exact(5, 12));
    CHECK(Exact(7, 10) - Exact(1, 4) == Exact(9, 20));
    CHECK(Exact(2, 3) * Exact(3, 4) == Exact(1, 2));
    CHECK((Exact(1, 3) + Exact(1, 12)) / Exact(2, 9) == Exact(15, 8));
    CHECK(-Exact(2, 5) == Exact(-2, 5));
    CHECK(abs(Exact(-2, 5)) == Exact(2, 5));
    CHECK(power(Exact(2, 3), 3) == Exact(8, 27));
    CHECK(power(Exact(2), -3) == Exact(1, 8));
}

TEST_CASE("division by zero and results past 64 bits are undefined and stay so") {
    CHECK_FALSE(Exact(1, 0).defined());
    CHECK_FALSE((Exact(1) / Exact(0)).defined());
    CHECK_FALSE((Exact(INT64_MAX) + Exact(1)).defined());
    CHECK_FALSE((Exact(INT64_MAX) * Exact(2)).defined());
    CHECK_FALSE((Exact(1, INT64_MAX) + Exact(1, INT64_MAX - 1)).defined());
    CHECK_FALSE((Exact::undefined() + Exact(1)).defined());
    CHECK_FALSE((Exact(1) / Exact::undefined()).defined());
    CHECK_FALSE(power(Exact(10), 30).defined());
    CHECK_FALSE(power(Exact(0), 0).defined());
    CHECK_FALSE(Exact(INT64_MIN, 1).defined());
    CHECK_FALSE(Exact::undefined() < Exact(1));
    CHECK_FALSE(Exact::undefined() > Exact(1));
}

TEST_CASE("comparison never overflows") {
    CHECK(Exact(3, 7) < Exact(1, 2));
    CHECK(Exact(-1, 2) < Exact(-3, 7));
    CHECK(Exact(INT64_MAX, INT64_MAX - 1) > Exact(1));
    CHECK(Exact(INT64_MAX - 1, INT64_MAX) < Exact(INT64_MAX, INT64_MAX - 1));
    CHECK(Exact(7, 2) > Exact(3));
    CHECK(Exact(-7, 2) < Exact(-3));
}

TEST_CASE("floor and rounding, halves away from zero") {
    CHECK(floor_of(Exact(-7, 2)) == -4);
    CHECK(floor_of(Exact(7, 2)) == 3);
    CHECK(round_to(Exact(1255, 100), 1) == Exact(126, 10));
    CHECK(round_to(Exact(-1255, 100), 1) == Exact(-126, 10));
    CHECK(round_to(Exact(1254, 100), 1) == Exact(125, 10));
}

TEST_CASE("numbers are written for people and for a computer-algebra system") {
    CHECK(whole_text(1234) == "1234");
    CHECK(whole_text(12480) == "12,480");
    CHECK(whole_text(1234567) == "1,234,567");
    CHECK(whole_text(-7) == "−7");
    CHECK(mixed_text(Exact(17, 12)) == "1 5/12");
    CHECK(mixed_text(Exact(-7, 3)) == "−2 1/3");
    CHECK(mixed_text(Exact(3, 4)) == "3/4");
    CHECK(mixed_text(Exact(8, 4)) == "2");
    CHECK(decimal_text(Exact(7, 20)) == "0.35");
    CHECK(decimal_text(Exact(-5, 2)) == "−2.5");
    CHECK(decimal_text(Exact(1, 3)) == "1/3");
    CHECK(decimal_text(Exact(1, 1000)) == "0.001");
    CHECK(fixed_text(Exact(993, 10), 2) == "99.30");
    CHECK(money_text(Exact(63, 5)) == "$12.60");
    CHECK(money_text(Exact(7)) == "$7");
    CHECK(power_text(-12) == "⁻¹²");
    CHECK(math(Exact(-17, 12)) == "-17/12");
    CHECK(math_in(Exact(-3)) == "(-3)");
    CHECK(math_in(Exact(3)) == "3");
}
