#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;
using testing::Draw;

namespace {

constexpr std::uint64_t seed = 20261125;

Event mark() {
    return {{1'796'000'000'000, 2, ReplicaId("tablet"), 17},
            Marked{ClassId("c1"), BlockId("b1"), StudentId("s1"), SkillId("frac-add"),
                   CenterId("k1"), 2, Level::shaky, Help::hint},
            ""};
}

std::string refused(const std::string& line) {
    const auto event = from_line(line);
    REQUIRE_FALSE(event.has_value());
    return event.error().text();
}

/// The same text without the first place where `what` stands.
std::string with(std::string text, const std::string& what, const std::string& instead) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), instead);
}

}  // namespace

TEST_CASE("a mark is one line with its members in a fixed order") {
    CHECK(to_line(mark()) ==
          R"({"at":[1796000000000,2],"by":"tablet","n":17,"kind":"marked","class":"c1",)"
          R"("block":"b1","student":"s1","skill":"frac-add","center":"k1","round":2,)"
          R"("level":"shaky","help":"hint"})");
}

TEST_CASE("members that have their first value are left out") {
    Event e = mark();
    e.body = Marked{ClassId("c1"), {}, StudentId("s1"), {}, {}, 0, Level::stuck, Help::none};
    CHECK(to_line(e) ==
          R"({"at":[1796000000000,2],"by":"tablet","n":17,"kind":"marked","class":"c1",)"
          R"("student":"s1","level":"stuck"})");
    CHECK(same(*from_line(to_line(e)), e));
}

TEST_CASE("every kind comes back as it was written") {
    MESSAGE("seed " << seed);
    base::Random random(seed);
    Draw draw{random};
    for (int round = 0; round < 200; ++round) {
        for (std::size_t kind = 0; kind < std::variant_size_v<Body>; ++kind) {
            const Event e = draw.event(kind);
            const std::string line = to_line(e);
            REQUIRE(line.find('\n') == std::string::npos);
            const auto back = from_line(line);
            INFO(line);
            REQUIRE_MESSAGE(back.has_value(), back.error().text());
            REQUIRE(same(*back, e));
            REQUIRE(to_line(*back) == line);
        }
    }
}

TEST_CASE("the fast reader and the JSON reader agree, on good lines and on spoilt ones") {
    MESSAGE("seed " << seed);
    base::Random random(seed);
    Draw draw{random};
    static const std::string spoilers = "\"\\{}[],:-+.0123456789abcdefn \x01\x7F\xC3\xA9";
    int fast = 0;
    for (int i = 0; i < 60'000; ++i) {
        std::string line = to_line(draw.event());
        for (int n = draw.below(3); n > 0; --n) {
            const auto at = static_cast<std::size_t>(random.below(line.size()));
            const char c = spoilers[static_cast<std::size_t>(random.below(spoilers.size()))];
            if (random.below(3) == 0) {
                line.erase(at, 1);
            } else {
                line[at] = c;
            }
        }
        Event scanned;
        if (!scan_line(line, scanned)) continue;
        ++fast;
        const auto document = json::parse(line);
        INFO(line);
        REQUIRE(document.has_value());
        const auto read = from_json(json::Field(*document, ""));
        REQUIRE(read.has_value());
        REQUIRE(same(*read, scanned));
    }
    CHECK(fast > 9'000);
}

TEST_CASE("the fast reader takes marks as they are written") {
    Event e;
    CHECK(scan_line(to_line(mark()), e));
    CHECK(same(e, mark()));
}

TEST_CASE("kinds and members of later versions survive") {
    const std::string later = R"({"at":[5,0],"by":"r","n":1,"kind":"weather_noted",)"
                              R"("deep":{"b":[1,{"a":null}]},"sky":"blue"})";
    const auto foreign = from_line(later);
    REQUIRE(foreign.has_value());
    CHECK(std::get<Foreign>(foreign->body).kind == "weather_noted");
    CHECK(to_line(*foreign) == later);

    const std::string more = with(to_line(mark()), "}", R"(,"colour":"teal","x":[1.5]})");
    const auto known = from_line(more);
    REQUIRE(known.has_value());
    CHECK(std::holds_alternative<Marked>(known->body));
    CHECK(to_line(*known) == more);
}

TEST_CASE("what is wrong in a line is named with its place") {
    const std::string good = to_line(mark());
    CHECK(refused(with(good, R"("level":"shaky")", R"("level":"great")")) ==
          "/level: Expected one of: secure, shaky, stuck.");
    CHECK(refused(with(good, R"("student":"s1",)", "")) == "/: \"student\" is missing.");
    CHECK(refused(with(good, R"("student":"s1")", R"("student":"")")) ==
          "/student: Expected an id: 1 to 23 letters, digits, dots, dashes or underscores.");
    CHECK(refused(with(good, R"("student":"s1")", R"("student":"a b")")).starts_with("/student: "));
    CHECK(refused(with(good, R"("round":2)", R"("round":-1)"))
              .starts_with("/round: Expected a whole"));
    CHECK(refused(with(good, R"("round":2)", R"("round":2.5)"))
              .starts_with("/round: Expected a whole"));
    CHECK(refused(with(good, R"("n":17)", R"("n":0)")).starts_with("/n: Expected a whole"));
    CHECK(refused(with(good, R"("kind":"marked")", R"("kind":7)")) == "/kind: Expected text.");
    CHECK(refused(with(good, "[1796000000000,2]", "[1796000000000]")) ==
          "/at: Expected [milliseconds, counter].");
    CHECK(refused(with(good, "[1796000000000,2]", "[1796000000000,-2]")).starts_with("/at/1: "));
    CHECK(refused(good.substr(0, good.size() - 1)).find("too early") != std::string::npos);
    CHECK(refused("[]").starts_with("/: Expected an object"));
}

TEST_CASE("dates and times in a line must exist") {
    const Event e{{1, 0, ReplicaId("r"), 1},
                  TimeSet{ClassId("c"), BlockId("b"), {{{2028, 2, 29}, 550, 605}}, {}},
                  ""};
    const std::string good = to_line(e);
    CHECK(good.find(R"("periods":[{"date":"2028-02-29","start":"09:10","end":"10:05"}])") !=
          std::string::npos);
    CHECK(refused(with(good, "2028-02-29", "2027-02-29")) ==
          "/periods/0/date: Expected a date such as \"2026-12-01\".");
    CHECK(refused(with(good, "09:10", "9:10")) ==
          "/periods/0/start: Expected a time of day such as \"09:10\".");
    CHECK(refused(with(good, "10:05", "10:05:30")).starts_with("/periods/0/end: "));
}

TEST_CASE("text that is not UTF-8 is written as valid JSON all the same") {
    Event e{{1, 0, ReplicaId("r"), 1}, ClassMade{ClassId("c"), "a\xFF\xC3(", 6}, ""};
    const auto back = from_line(to_line(e));
    REQUIRE(back.has_value());
    CHECK(std::get<ClassMade>(back->body).name == "a\xEF\xBF\xBD\xEF\xBF\xBD(");
}

TEST_CASE("numbers at their limits come back") {
    for (const std::int64_t ms : {std::int64_t{0}, max_ms}) {
        const Event e{{ms, 0xFFFFFFFFU, ReplicaId("r"), static_cast<std::uint64_t>(max_ms)},
                      TimeAdded{ClassId("c"), BlockId("b"), -max_ms},
                      ""};
        const auto back = from_line(to_line(e));
        REQUIRE(back.has_value());
        CHECK(same(*back, e));
    }
    CHECK(refused(R"({"at":[9007199254740992,0],"by":"r","n":1,"kind":"x"})").starts_with("/at/0"));
}

TEST_CASE("an event's name in a retraction is a replica and a number") {
    const std::string good = R"({"at":[5,0],"by":"r","n":2,"kind":"retracted","events":[["r",1]]})";
    const auto event = from_line(good);
    REQUIRE(event.has_value());
    CHECK(std::get<Retracted>(event->body).events == std::vector<EventRef>{{ReplicaId("r"), 1}});
    for (const char* bad : {"[]", R"(["r"])", R"(["r",1,2])"})
        CHECK(refused(with(good, R"(["r",1])", bad)).starts_with("/events/0: "));
    CHECK(refused(with(good, R"(["r",1])", R"(["r"])")) ==
          "/events/0: Expected an event's name: [\"replica\", number].");
    CHECK(refused(with(good, R"(["r",1])", R"(["r",-1])")).starts_with("/events/0/1: "));
}

TEST_CASE("the fast reader leaves odd numbers and long texts to the JSON reader") {
    Event e;
    const std::string good = to_line(mark());
    for (const char* n : {"00000000000000017", "017", "-0", "-", "17.0"})
        CHECK_FALSE(scan_line(with(good, R"("n":17)", R"("n":)" + std::string(n)), e));
    CHECK(from_line(with(good, R"("n":17)", R"("n":17.0)")).has_value());
    const std::string name = R"({"at":[5,0],"by":"r","n":2,"kind":"class_made","class":"c",)"
                             R"("name":"6b","grade":6})";
    CHECK(scan_line(name, e));
    const std::string vast = with(name, "6b", std::string(max_text + 1, 'x'));
    CHECK_FALSE(scan_line(vast, e));
    CHECK(refused(vast).starts_with("/name: "));
    CHECK(scan_line(with(name, "6b", std::string(max_text, 'x')), e));
}
