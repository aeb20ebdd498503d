#include "cards/column_slips.h"

#include <doctest/doctest.h>

using namespace tallyround::cards;

// Worked values of the rules of Brown and Burton 1978 (Cognitive Science 2:155) and Brown and
// VanLehn 1980 (Cognitive Science 4:379), worked out by hand from the published descriptions.

TEST_CASE("smaller from larger") {
    CHECK(smaller_from_larger(73, 58) == 25);
    CHECK(smaller_from_larger(507, 49) == 542);
    CHECK(smaller_from_larger(253, 178) == 125);
}

TEST_CASE("borrow without decrement") {
    CHECK(borrow_no_decrement(73, 58) == 25);  // one answer, two slips: such a card tells nothing
    CHECK(borrow_no_decrement(143, 28) == 125);
    CHECK(borrow_no_decrement(507, 49) == 568);
}

TEST_CASE("zero on top gives the bottom digit") {
    CHECK(zero_gives_bottom(140, 21) == 121);
    CHECK(zero_gives_bottom(1300, 522) == 822);
}

TEST_CASE("borrow from zero") {
    CHECK(borrow_from_zero(1300, 522) == 878);
    CHECK(borrow_from_zero(103, 45) == 158);
}

TEST_CASE("borrow across zero") {
    CHECK(borrow_across_zero(507, 49) == 368);
    CHECK(borrow_across_zero(103, 45) == 68);
}

TEST_CASE("without anything to borrow all slips give the right answer") {
    CHECK(smaller_from_larger(987, 123) == 864);
    CHECK(borrow_no_decrement(987, 123) == 864);
    CHECK(zero_gives_bottom(987, 123) == 864);
    CHECK(borrow_from_zero(987, 123) == 864);
    CHECK(borrow_across_zero(987, 123) == 864);
    CHECK(borrow_from_left(987, 123) == 864);
}
