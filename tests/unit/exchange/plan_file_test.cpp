#include "exchange/plan_file.h"

#include <doctest/doctest.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::exchange;
using record::Event;

namespace {

constexpr std::uint64_t seed = 31415;

std::vector<Event> some_events(std::size_t n) {
    base::Random random(seed);
    testing::Draw draw{random};
    std::vector<Event> out;
    for (std::size_t i = 0; i < n; ++i) {
        out.push_back(draw.event(i % std::variant_size_v<record::Body>));
        out.back().stamp.sequence = i + 1;
    }
    return out;
}

bool equal(const std::vector<Event>& a, const std::vector<Event>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), record::same);
}

std::string refused(const std::string& bytes) {
    const auto plan = read_plan(bytes);
    REQUIRE_FALSE(plan.has_value());
    return plan.error().text();
}

std::string with(std::string text, const std::string& what, const std::string& instead) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), instead);
}

/// A small file whose events are known.
std::string small_plan(int marks = 3) {
    record::Log log{record::ReplicaId("r0")};
    for (record::Body& body : testing::some_class())
        log.append(std::move(body), 1000);
    for (int i = 0; i < marks; ++i) {
        log.append(record::Marked{model::ClassId("x0"),
                                  model::BlockId("x1"),
                                  model::StudentId("x1"),
                                  model::SkillId("x1"),
                                  model::CenterId("x1"),
                                  i,
                                  model::Level::shaky,
                                  {}},
                   2000);
    }
    return write_plan(log.events());
}

}  // namespace

TEST_CASE("a plan file gives back its events and says the same again") {
    MESSAGE("seed " << seed);
    for (const std::size_t n : {0U, 1U, 2U, 300U}) {
        const auto events = some_events(n);
        const std::string bytes = write_plan(events);
        const auto plan = read_plan(bytes);
        INFO(bytes);
        REQUIRE_MESSAGE(plan.has_value(), plan.error().text());
        CHECK(equal(plan->events, events));
        CHECK(plan->version == 1);
        CHECK(plan->app == "tallyround");
        CHECK(plan->extra.empty());
        CHECK(write_plan(plan->events, plan->extra) == bytes);
    }
}

TEST_CASE("a plan file is JSON with one event a line") {
    const std::string bytes = small_plan();
    const auto document = json::parse(bytes);
    REQUIRE(document.has_value());
    CHECK((*document)["format"] == "tallyround-plan");
    CHECK((*document)["events"].size() == 13);
    CHECK(std::count(bytes.begin(), bytes.end(), '\n') == 16);
    CHECK((*document)["checksum"].get<std::string>().size() == 32);
}

TEST_CASE("members of later versions survive around the events and in them") {
    const std::string extra = R"({"later":{"deep":[1,{"x":null}]},"notes":"Zoë"})";
    auto events = some_events(40);
    const auto plan = read_plan(write_plan(events, extra));
    REQUIRE(plan.has_value());
    CHECK(plan->extra == extra);
    CHECK(equal(plan->events, events));
    CHECK(read_plan(write_plan(plan->events, plan->extra))->extra == extra);
}

TEST_CASE("a file laid out anew by another program is not damaged") {
    const auto events = some_events(60);
    const std::string bytes = write_plan(events);
    const auto document = json::parse(bytes);
    REQUIRE(document.has_value());
    for (const int indent : {-1, 2}) {
        const auto plan = read_plan(document->dump(indent));
        REQUIRE_MESSAGE(plan.has_value(), plan.error().text());
        CHECK(equal(plan->events, events));
    }
    std::string crlf = bytes;
    for (std::size_t at = 0; (at = crlf.find('\n', at)) != std::string::npos; at += 2)
        crlf.insert(at, "\r");
    CHECK(read_plan(crlf).has_value());
    CHECK(read_plan("\xEF\xBB\xBF" + bytes).has_value());
}

TEST_CASE("bytes that are not JSON are named by line and column") {
    CHECK(refused("").starts_with("line 1, column 1: The JSON text ends too early."));
    CHECK(refused("hello").starts_with("line 1, column 1: This is not valid JSON"));
    CHECK(refused("PK\x03\x04").starts_with("line 1, column 1: "));
    CHECK(refused(small_plan() + "x").starts_with("line 17, column 1: There is more text"));
    CHECK(refused(with(small_plan(), "\"kind\":", "\"kind\"")).starts_with("line 3, column "));
    CHECK(refused(with(small_plan(), "6b", "6\xFF")).find("not UTF-8") != std::string::npos);
    const std::string deep(1000, '[');
    CHECK(refused(deep).find("Nested deeper than 64 levels") != std::string::npos);
}

TEST_CASE("JSON of another sort is called what it is") {
    for (const char* text : {"{}", "[1,2]", "7", R"({"events":[{"a":1}]})", "null"}) {
        CHECK(refused(text) ==
              "/: This is JSON but not a Tallyround plan: it has no \"format\" member.");
    }
    CHECK(refused(R"({"format":"weather","version":3})").starts_with("/format: This is JSON but"));
    CHECK(refused(R"({"format":7})").starts_with("/format: This is JSON but"));
}

TEST_CASE("a newer version is told apart, whatever its events look like") {
    const std::string bytes =
        with(with(small_plan(), "\"version\":1", "\"version\":2"), "class_made", "class_born");
    CHECK(refused(bytes) ==
          "/version: This plan was made by a newer version of the app (format 2; this one reads "
          "1). Update the app to open it.");
    CHECK(refused(with(small_plan(), "\"version\":1", "\"version\":0")).starts_with("/version: "));
    CHECK(refused(with(small_plan(), "\"version\":1", "\"ver\":1")).find("is missing") !=
          std::string::npos);
}

TEST_CASE("an event that cannot be right is named by its pointer") {
    const std::string bytes = with(small_plan(), "\"level\":\"shaky\"", "\"level\":\"great\"");
    CHECK(refused(bytes) ==
          "/events/10/level: Expected one of: secure, shaky, stuck. The checksum does not match "
          "either: the file was damaged or changed.");
    CHECK(
        refused(with(small_plan(), "\"grade\":6", "\"grade\":2e9999")).starts_with("/events/0: "));
    const auto head = R"({"format":"tallyround-plan","version":1,"checksum":"","events":)";
    CHECK(refused(std::string(head) + "[17]}").starts_with("/events/0: Expected an object"));
    CHECK(refused(std::string(head) + "{}}").find("not a list") != std::string::npos);
}

TEST_CASE("two events of one name are refused, with both places") {
    auto events = some_events(20);
    events[17].stamp.replica = events[3].stamp.replica;
    events[17].stamp.sequence = events[3].stamp.sequence;
    CHECK(refused(write_plan(events)) ==
          "/events/17: This event has the same name (\"by\" and \"n\") as /events/3.");
}

TEST_CASE("a change of anything in the events is found by the checksum") {
    const std::string bytes = with(small_plan(), "Student 2", "Student 7");
    CHECK(refused(bytes).starts_with("/checksum: The file is damaged or was changed"));
    CHECK(refused(with(small_plan(), "\"checksum\"", "\"ignored\"")).find("is missing") !=
          std::string::npos);
    const auto salvaged = salvage_plan(bytes);
    CHECK(salvaged.events.size() == 13);
    CHECK(salvaged.lost == 0);
    CHECK(salvaged.why == refused(bytes));
}

TEST_CASE("of half a file what came before can be salvaged") {
    const std::string bytes = small_plan(20);
    for (std::size_t size = 0; size < bytes.size() - 1; size += 7) {
        const std::string half = bytes.substr(0, size);
        CHECK(refused(half).find("ends too early") != std::string::npos);
        const auto salvaged = salvage_plan(half);
        const auto whole = std::count(half.begin(), half.end(), '\n') - 2;
        CHECK(std::ssize(salvaged.events) >= whole);
        CHECK(std::ssize(salvaged.events) <= std::max<std::ptrdiff_t>(whole + 1, 0));
    }
}

TEST_CASE("around broken lines the others can be salvaged") {
    std::string bytes = small_plan(20);
    bytes = with(bytes, "\"round\":3", "\"round\":\"3");
    bytes = with(bytes, "\"round\":9", "\"round\";9");
    bytes = with(bytes, "Student 2", "Student \x01");
    bytes = with(bytes, "\"level\":\"shaky\"}", "\"level\":\"great\"}");
    const auto salvaged = salvage_plan(bytes);
    CHECK(salvaged.events.size() == 26);
    CHECK(salvaged.lost == 4);
    CHECK(salvaged.why.starts_with("line "));
    CHECK(salvage_plan(small_plan()).why.empty());
    CHECK(salvage_plan("no").events.empty());
    CHECK(salvage_plan("").lost == 0);
}

TEST_CASE("any byte changed is refused or harmless, and never breaks anything") {
    const std::string good = small_plan(2);
    const auto want = record::state_hash(record::fold(read_plan(good)->events));
    base::Random random(seed);
    MESSAGE("seed " << seed);
    for (int i = 0; i < 20'000; ++i) {
        std::string bad = good;
        for (auto n = random.below(3) + 1; n > 0; --n)
            bad[static_cast<std::size_t>(random.below(bad.size()))] =
                static_cast<char>(random.below(256));
        const auto plan = read_plan(bad);
        const auto salvaged = salvage_plan(bad);
        REQUIRE(plan.has_value() == salvaged.why.empty());
        if (plan && plan->events.size() == 12) {
            REQUIRE(record::state_hash(record::fold(plan->events)) == want);
        }
    }
}

TEST_CASE("a member named like a language's insides is only a member") {
    const auto plan = read_plan(write_plan({}, R"({"__proto__":{"x":1},"constructor":2})"));
    REQUIRE(plan.has_value());
    CHECK(plan->extra == R"({"__proto__":{"x":1},"constructor":2})");
}

TEST_CASE("a file that is longer than can be read is refused by its length alone") {
    const std::size_t size = max_plan_bytes + 1;
    const auto room = std::make_unique_for_overwrite<char[]>(size);  // never touched
    const std::string_view vast(room.get(), size);
    const auto plan = read_plan(vast);
    REQUIRE_FALSE(plan.has_value());
    CHECK(plan.error().text().find("at most 536870912 can be read") != std::string::npos);
    const Salvage salvage = salvage_plan(vast);
    CHECK(salvage.events.empty());
    CHECK(salvage.why == plan.error().text());
}

TEST_CASE("a sealed file says that it needs its passcode") {
    const std::string bytes = R"({"format":"tallyround-sealed","version":1,"box":""})";
    CHECK(refused(bytes).starts_with("/format: This plan file is sealed with a passcode."));
}

TEST_CASE("of several bad events the first is named, and whether the file was changed") {
    const auto events = some_events(0);
    std::string text = with(write_plan(events), "[]", R"([{"a":1},{"b":1e999},{"c":3}])");
    const std::string said = refused(text);
    CHECK(said.starts_with("/events/0: "));
    CHECK(said.ends_with("The checksum does not match either: the file was damaged or changed."));
    // The same with a checksum of just these texts: a writer's fault, not damage.
    const std::string bad = R"({"at":[1,0],"by":"r","n":0,"kind":"weather"})";
    text = with(write_plan(events), "[]", "[" + bad + "]");
    const auto at = text.find("\"checksum\":\"") + 12;
    text.replace(at, 32, record::bytes_hash(bad));
    CHECK(refused(text).starts_with("/events/0/n: "));
    CHECK(refused(text).find("checksum") == std::string::npos);
}

TEST_CASE("members of the file are named where they cannot be read") {
    const std::string bytes = small_plan();
    CHECK(refused(with(bytes, "\"tallyround\"", R"("\ud83d")")).starts_with("line 1, column "));
    const std::string half = with(bytes, "\"tallyround\"", "1e999");
    CHECK(refused(half).starts_with("/app: "));
    // Names of members may be written with escapes.
    CHECK(read_plan(with(bytes, "\"version\"", "\"v\\u0065rsion\"")).has_value());
    // Of another app's file only a short "format" is looked at.
    CHECK(refused(R"({"format":")" + std::string(2000, 'x') + R"("})") ==
          "/: This is JSON but not a Tallyround plan: it has no \"format\" member.");
    CHECK(refused(with(bytes, "\"events\":[", "\"events\":7,\"old\":["))
              .starts_with("/: \"events\" is missing or not a list."));
}
