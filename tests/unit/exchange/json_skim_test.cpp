#include "exchange/json_skim.h"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "base/random.h"

using namespace tallyround;
using exchange::JsonSkim;

namespace {

bool skims(std::string_view text) {
    JsonSkim in(text);
    in.value();
    return in.end();
}

}  // namespace

TEST_CASE("skimming accepts what a general JSON parser accepts, and refuses what it refuses") {
    constexpr std::uint64_t seed = 8259;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    const std::vector<std::string> pieces{
        "{",          "}",       "[",       "]",       ",",    ":",        "\"",   "\"a\"",
        "\"\"",       "1",       "0",       "-",       "-1.5", "e",        "1e-5", "E-2",
        ".",          "01",      "true",    "nul",     "null", "false",    "\\",   "\\n",
        "\\u00",      "\\u00e9", "\\ud83d", "\\ude00", " ",    "\n",       "\t",   "\x01",
        "Zo\xC3\xAB", "\xC3",    "\x7F",    "{}",      "[]",   "{\"k\":1}"};
    int accepted = 0;
    for (int i = 0; i < 200'000; ++i) {
        std::string text;
        const bool quoted = random.below(3) == 0;
        for (auto n = random.below(6) + 1; n > 0; --n)
            text += pieces[static_cast<std::size_t>(random.below(pieces.size()))];
        if (quoted) text = "[\"" + text + "\"]";
        const bool want = nlohmann::json::accept(text);
        INFO(text);
        REQUIRE(skims(text) == want);
        accepted += want ? 1 : 0;
    }
    CHECK(accepted > 5000);
}

TEST_CASE("values come as their own text") {
    JsonSkim in(" { \"a\" : [1, {\"b\":2}] } ");
    CHECK(in.take('{'));
    CHECK(in.string() == "\"a\"");
    CHECK(in.expect(':'));
    CHECK(in.value() == "[1, {\"b\":2}]");
    CHECK_FALSE(in.take(','));
    CHECK(in.expect('}'));
    CHECK(in.end());
}

TEST_CASE("the first thing wrong stays, with its place") {
    const std::string text = "{\"a\":1,\n\"b\" 2}";
    JsonSkim in(text);
    in.value();
    CHECK(in.failed());
    exchange::TextPlace place;
    place.pass(std::string_view(text).substr(0, in.at()));
    CHECK(place.text() == "line 2, column 5");
    CHECK(in.value().empty());
    CHECK_FALSE(in.take('2'));
    CHECK(in.why().starts_with("Expected : here"));
}

TEST_CASE("escapes of characters are pairs where they must be, and numbers have all their digits") {
    const auto good = [](std::string_view text) {
        JsonSkim in(text);
        in.value();
        return in.end();
    };
    for (const char* text : {R"("\ud83d\ude00")", R"("\u00e9")", R"("\uE000")", R"("\uFFFF")",
                             "1e+5", "1E-5", "-0.5e0", "0"})
        CHECK_MESSAGE(good(text), text);
    for (const char* text :
         {R"("\ud83d")", R"("\ud83d\u0041")", R"("\ud83d\ue000")", R"("\ude00")", R"("\ud83d\n")",
          R"("\ud8")", R"("\u00g9")", R"("\u00e)", R"("\x")", "1e", "1e+", "1.", "-", "01"})
        CHECK_MESSAGE(!good(text), text);
}

TEST_CASE("after a failure nothing more is taken until a good place is named") {
    const std::string text = "[1,?] \"b\"";
    JsonSkim in(text);
    in.value();
    REQUIRE(in.failed());
    const std::size_t place = in.at();
    const std::string why = in.why();
    CHECK(in.string().empty());
    CHECK(in.value().empty());
    in.fail("Something else.");
    CHECK(in.why() == why);
    CHECK(in.at() == place);
    in.jump(6);
    CHECK_FALSE(in.failed());
    CHECK(in.string() == "\"b\"");
    CHECK(in.end());
}
