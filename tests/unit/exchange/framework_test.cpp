#include "exchange/framework.h"

#include <doctest/doctest.h>

using namespace tallyround::exchange;

TEST_CASE("a CASE package: leaves are skills, with codes, grades and what precedes them") {
    const auto read = read_framework(R"({
      "CFDocument": {"identifier": "d", "title": "Our  framework"},
      "CFItems": [
        {"identifier": "h", "fullStatement": "Fractions"},
        {"identifier": "a", "fullStatement": "Add fractions", "humanCodingScheme": "F.1",
         "educationLevel": ["05"]},
        {"identifier": "b", "fullStatement": "A long statement", "abbreviatedStatement": "Multiply",
         "humanCodingScheme": "F.2", "educationLevel": ["KG", "06"]}],
      "CFAssociations": [
        {"associationType": "isChildOf", "originNodeURI": {"identifier": "a"},
         "destinationNodeURI": {"identifier": "h"}},
        {"associationType": "precedes", "originNodeURI": {"identifier": "a"},
         "destinationNodeURI": "items/b"},
        {"associationType": "precedes", "originNodeURI": {"identifier": "elsewhere"},
         "destinationNodeURI": {"identifier": "b"}},
        {"associationType": "isRelatedTo"}]})");
    REQUIRE(read);
    CHECK(read->title == "Our framework");
    REQUIRE(read->skills.size() == 2);
    CHECK(read->skills[0].code == "F.1");
    CHECK(read->skills[0].grade == 5);
    CHECK(read->skills[1].title == "Multiply");
    CHECK(read->skills[1].grade == 6);
    CHECK(read->skills[1].before == std::vector<std::string>{read->skills[0].id});
    CHECK(read->warnings.size() == 1);
}

TEST_CASE("what is no CASE package is refused with its place") {
    const auto where = [](std::string_view text) {
        const auto read = read_framework(text);
        REQUIRE_FALSE(read);
        CHECK_FALSE(read.error().message.empty());
        return read.error().where;
    };
    CHECK(where("{") != "");
    CHECK(where("[]") == "/");
    CHECK(where(R"({"CFDocument":{},"CFItems":[{"identifier":"a"}]})") == "/CFItems/0");
    CHECK(where(R"({"CFDocument":{},"CFItems":[{"fullStatement":"a"}]})") == "/CFItems/0");
    CHECK(where(R"({"CFDocument":{},"CFItems":[{"identifier":"a","fullStatement":"x"},
                                               {"identifier":"a","fullStatement":"y"}]})") ==
          "/CFItems/1/identifier");
    const std::string_view no_ends =
        R"({"CFDocument":{},"CFItems":[],"CFAssociations":[{"associationType":"precedes"}]})";
    CHECK(where(no_ends) == "/CFAssociations/0");
}
