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

namespace {

/// The grade of one item with such an educationLevel.
int grade(const std::string& level) {
    const auto read = read_framework(
        R"({"CFDocument":{},"CFItems":[{"identifier":"a","fullStatement":"x","educationLevel":)" +
        level + "}]}");
    REQUIRE(read);
    return read->skills.at(0).grade;
}

}  // namespace

TEST_CASE("the grade is the first of 1 to 12 that is named, else 6") {
    CHECK(grade(R"(["KG","07","08"])") == 7);
    CHECK(grade(R"(["grade 12"])") == 12);
    CHECK(grade(R"([5,"08"])") == 8);  // a number that is no text
    for (const char* none : {"[]", R"("05")", "5", "{}", R"(["13"])", R"(["00"])", R"(["KG"])",
                             R"(["1234567890123"])", R"(["/:"])", "null"})
        CHECK_MESSAGE(grade(none) == 6, none);
}

TEST_CASE("an item without a statement or an identifier is refused; an empty short one is not") {
    const auto read = read_framework(
        R"({"CFDocument":{},"CFItems":[
            {"identifier":"a","abbreviatedStatement":"  ","fullStatement":"Whole"}]})");
    REQUIRE(read);
    CHECK(read->skills.at(0).title == "Whole");
    CHECK(read->warnings.empty());  // no associations at all
    const auto refused = [](std::string_view text) {
        const auto none = read_framework(text);
        REQUIRE_FALSE(none);
        return none.error().text();
    };
    CHECK(refused(R"({"CFDocument":{},"CFItems":[{"identifier":"","fullStatement":"x"}]})") ==
          "/CFItems/0/identifier: Expected an identifier; it is empty.");
    CHECK(refused(R"({"CFDocument":{},"CFItems":[{"identifier":"a","fullStatement":" "}]})") ==
          "/CFItems/0: Expected a \"fullStatement\" that says what the item is.");
    CHECK(refused(R"({"CFItems":[]})").starts_with("/: This is JSON but not a CASE package"));
    CHECK(refused(R"({"CFDocument":{}})").starts_with("/: This is JSON but not a CASE package"));
}

TEST_CASE("an order link to itself, to a heading or said twice adds nothing") {
    const auto link = [](const char* type, const char* from, const char* to) {
        return R"({"associationType":")" + std::string(type) + R"(","originNodeURI":"u/)" + from +
               R"(","destinationNodeURI":"u/)" + to + R"("})";
    };
    const auto read = read_framework(
        R"({"CFDocument":{},"CFItems":[{"identifier":"h","fullStatement":"Heading"},)"
        R"({"identifier":"a","fullStatement":"A"},{"identifier":"b","fullStatement":"B"}],)"
        R"("CFAssociations":[)" +
        link("isChildOf", "a", "h") + "," + link("precedes", "a", "a") + "," +
        link("precedes", "a", "b") + "," + link("precedes", "a", "b") + "," +
        link("precedes", "a", "h") + "," + link("precedes", "h", "b") + "]}");
    REQUIRE(read);
    REQUIRE(read->skills.size() == 2);
    CHECK(read->skills[0].before.empty());
    CHECK(read->skills[1].before == std::vector<std::string>{"f1"});
    REQUIRE(read->warnings.size() == 1);
    CHECK(read->warnings[0].starts_with("2 order links left out"));
}
