#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "json/read.h"

using namespace tallyround;

TEST_CASE("a number too large to keep is an error, not an exception") {
    const auto value = json::parse(R"({"a":[1,2e9999]})");
    REQUIRE_FALSE(value.has_value());
    CHECK(value.error().message.find("larger than can be kept") != std::string::npos);
    CHECK(json::parse("[1e308,-1e308]").has_value());
}

TEST_CASE("broken JSON is named by line and column") {
    CHECK(json::parse("{\n\"a\":}").error().where == "line 2, column 5");
    CHECK(json::parse("[1,2").error().message == "The JSON text ends too early.");
    CHECK(json::parse("\xEF\xBB\xBF[1]").has_value());
    const auto deep = json::parse(std::string(1000, '['));
    CHECK(deep.error().message.find("Nested deeper than 64") != std::string::npos);
}

TEST_CASE("a field says where it is and what it may be") {
    const auto root = json::parse(R"({"a/b":[1,2.0,2.5,"x"]})");
    REQUIRE(root.has_value());
    const auto number = [&](std::size_t i) {
        return json::read(
            *root, [&](const json::Field& f) { return f.at("a/b").items()[i].integer(0, 5); });
    };
    CHECK(*number(0) == 1);
    CHECK(*number(1) == 2);
    CHECK(number(2).error().text() == "/a~1b/2: Expected a whole number from 0 to 5.");
    CHECK(number(3).error().where == "/a~1b/3");
}
