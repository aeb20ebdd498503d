#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <string>

#include "base/search.h"
#include "base/text.h"

using namespace tallyround::base;

namespace {

bool plain(const std::string& text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return c >= 'a' && c <= 'z'; });
}

}  // namespace

TEST_CASE("letters fold as the Unicode Character Database takes them apart (folding.py)") {
    std::ifstream in(std::string(TALLYROUND_TEST_DATA) + "/../base/folding.txt");
    REQUIRE(in.good());
    std::string line;
    std::getline(in, line);
    int compared = 0;
    while (std::getline(in, line)) {
        const std::size_t space = line.find(' ');
        const std::string letter = line.substr(0, space);
        const std::string folded = line.substr(space + 1);
        std::size_t at = 0;
        const char32_t c = next_code_point(letter, at);
        // Latin letters that no decomposition makes plain are folded by a choice of our own below.
        if (c < 0x370 || c >= 0x1E00) {
            if (length(folded) != 1 || !plain(folded)) continue;
        } else if (length(folded) != 1 || folded == letter) {
            continue;
        }
        ++compared;
        CHECK_MESSAGE(searchable(letter) == folded, letter);
    }
    CHECK(compared > 560);
}

TEST_CASE("parts of names are found whatever their case and marks, in any order") {
    CHECK(finds("Chloé Dubois", "chloe"));
    CHECK(finds("Chloé Dubois", "DUB chl"));
    CHECK(finds("Chloe\u0301 Dubois", "chloé"));  // the mark as a letter of its own
    CHECK(finds("Søren Łukasz Strauß", "soren lukasz strauss"));
    CHECK(finds("Nguyễn Thị Hồng", "nguyen hong"));
    CHECK(finds("Αλέξανδρος", "αλεξανδροσ"));
    CHECK(finds("ΣΟΦΊΑ", "σοφια"));
    CHECK(finds("Алёна Чайковская", "алена чаик"));
    CHECK(finds("שָׁלוֹם", "שלום"));
    CHECK(finds("مُحَمَّد", "محمد"));
    CHECK(finds("王小明", "小明"));
    CHECK(finds("प्रिया", "प्रिया"));
    CHECK(finds("anyone", "  "));
    CHECK_FALSE(finds("Chloé Dubois", "chloe k"));
    CHECK_FALSE(finds("王小明", "大"));
}
