#include <doctest/doctest.h>

#include <cstdio>
#include <fstream>
#include <string>

#include "cards/exact.h"

using namespace tallyround::cards;

namespace {

/// "4 3/5", "11/8", "3": up to three whole numbers.
Exact number(const std::string& text) {
    long long whole = 0;
    long long top = 0;
    long long bottom = 1;
    if (std::sscanf(text.c_str(), "%lld %lld/%lld", &whole, &top, &bottom) == 3)
        return Exact(whole) + Exact(top, bottom);
    if (std::sscanf(text.c_str(), "%lld/%lld", &top, &bottom) == 2) return {top, bottom};
    return Exact(std::stoll(text));
}

}  // namespace

TEST_CASE("the twenty published fraction subtraction items come out exactly") {
    // K. Tatsuoka's items as published with C. Tatsuoka 2002, Applied Statistics 51:337-350.
    std::ifstream file(TALLYROUND_TEST_DATA "/cards/tatsuoka_items_answers_pct.csv");
    std::string line;
    REQUIRE(std::getline(file, line));
    int items = 0;
    while (std::getline(file, line)) {
        const std::size_t a = line.find(',');
        const std::size_t b = line.find(',', a + 1);
        const std::size_t c = line.find(',', b + 1);
        const std::string expression = line.substr(a + 1, b - a - 1);
        const std::size_t minus = expression.find('-');
        CAPTURE(expression);
        CHECK(number(expression.substr(0, minus)) - number(expression.substr(minus + 1)) ==
              number(line.substr(b + 1, c - b - 1)));
        ++items;
    }
    CHECK(items == 20);
}
