#include <doctest/doctest.h>

#include "json/texts.h"

using namespace tallyround::json;

TEST_CASE("texts come back as they were written") {
    const Texts texts{{"look", "dark"}, {"name", "Zoë \"\\\n"}, {"empty", ""}};
    CHECK(write_texts(texts) == R"({"empty":"","look":"dark","name":"Zoë \"\\\n"})");
    CHECK(read_texts(write_texts(texts)) == texts);
}

TEST_CASE("what is no text is left out, what is no object is nothing") {
    CHECK(read_texts(R"({"a":"b","c":1,"d":null,"e":["f"]})") == Texts{{"a", "b"}});
    for (const char* bad : {"", "{", "[\"a\"]", "7", "\"text\"", "{\"a\":\"b\"} x"})
        CHECK(read_texts(bad).empty());
}

TEST_CASE("bytes that are not UTF-8 are written as JSON all the same") {
    CHECK(read_texts(write_texts({{"a", "x\xFFy"}})) == Texts{{"a", "x\xEF\xBF\xBDy"}});
}
