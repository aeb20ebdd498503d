#include <doctest/doctest.h>

#include <functional>
#include <string>
#include <vector>

#include "base/text.h"
#include "exchange/framework.h"
#include "exchange/plan_file.h"
#include "exchange/roster.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::exchange;

namespace {

constexpr std::size_t hundred_mb = 100'000'000;

std::string filled(const std::string& start, const std::string& piece, const std::string& end) {
    std::string out = start;
    out.reserve(hundred_mb + piece.size() + end.size());
    while (out.size() < hundred_mb)
        out += piece;
    return out + end;
}

std::string deep(int levels) {
    return std::string(static_cast<std::size_t>(levels), '[') +
           std::string(static_cast<std::size_t>(levels), ']');
}

const std::string geojson =
    R"({"type":"FeatureCollection","features":[{"type":"Feature","geometry":)"
    R"({"type":"Point","coordinates":[10.5,47.1]},"properties":{}}]})";
const std::string package = R"({"name":"left","version":"1.0.0","dependencies":{"a":"^2.0.0"}})";

record::Event mark(std::uint64_t n) {
    return {{static_cast<std::int64_t>(n), 0, record::ReplicaId("r"), n},
            record::FlagSet{model::ClassId("c"), model::StudentId("s"), true},
            ""};
}

/// What is said of a file that cannot be a plan; nothing of it is used.
std::string said(const std::string& bytes) {
    const auto plan = read_plan(bytes);
    REQUIRE_FALSE(plan.has_value());
    REQUIRE(base::is_utf8(plan.error().text()));
    return plan.error().text();
}

bool has(const std::string& text, const std::string& part) {
    INFO(text);
    const bool there = text.find(part) != std::string::npos;
    CHECK(there);
    return there;
}

}  // namespace

TEST_CASE("another app's JSON: what is missing, and what to do") {
    for (const std::string& file : {geojson, package, std::string("[1,2]"), std::string("null"),
                                    std::string(R"({"format":"other","version":1})"),
                                    std::string(R"({"format":{"a":1},"version":1})")}) {
        has(said(file), "not a Tallyround plan");
    }
    CHECK_FALSE(read_framework(geojson).has_value());
    has(read_framework(package).error().text(), "not a CASE package");
}

TEST_CASE("half a file: where it ends, and what to do; what is whole can be taken over") {
    std::vector<record::Event> events;
    for (std::uint64_t n = 1; n <= 40; ++n)
        events.push_back(mark(n));
    const std::string whole = write_plan(events);
    for (std::size_t size = 1; size < whole.size() - 1; size += 7) {
        const std::string half = whole.substr(0, size);
        const std::string text = said(half);
        has(text, "line ");
        has(text, "Export the plan again, or choose a plan file.");
        CHECK(salvage_plan(half).events.size() <= events.size());
    }
    CHECK(salvage_plan(whole.substr(0, whole.size() * 3 / 4)).events.size() > 25);
}

TEST_CASE("an event twice under one name: both places") {
    const std::string text =
        said(write_plan(std::vector<record::Event>{mark(1), mark(2), mark(1)}));
    has(text, "/events/2");
    has(text, "/events/0");
}

TEST_CASE("a file from the future: which version, and what to do") {
    std::string newer = write_plan(std::vector<record::Event>{mark(1)});
    newer.replace(newer.find("\"version\":1"), 11, "\"version\":7");
    const std::string text = said(newer);
    has(text, "newer version");
    has(text, "Update the app");
}

TEST_CASE("a thousand levels deep: refused where it gets too deep, everywhere") {
    const std::string nested = deep(1000);
    has(said(nested), "Nested deeper");
    has(said(R"({"format":"tallyround-plan","version":1,"events":[)" + nested + "]}"), "deeper");
    has(said(R"({"x":)" + nested + "}"), "line 1, column");
    has(read_framework(nested).error().text(), "Nested deeper");
    CHECK_FALSE(read_roster(nested, "deep.json").has_value());
}

TEST_CASE("a hundred megabytes of anything: said at once, and nothing of it is used") {
    const std::vector<std::function<std::string()>> files{
        [] { return filled("", "[", ""); },
        [] { return filled(R"({"type":"FeatureCollection","features":[0)", ",[10.5,47.1]", "]}"); },
        [] { return filled(R"({"format":"tallyround-plan","version":1,"events":[)", "7,", "7]}"); },
        [] { return filled("\"", "words and words ", "\""); },
        [] { return std::string(hundred_mb, '\0'); },
    };
    for (const auto& make : files) {
        const std::string file = make();
        CHECK(said(file).size() > 20);
        has(read_framework(file).error().text(), "at most");
        has(read_roster(file, "big.csv").error().text(), "at most");
    }
}
