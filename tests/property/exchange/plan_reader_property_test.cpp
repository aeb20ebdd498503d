// A plan file that comes in pieces says what one read at once says, wherever it is cut.
#include "exchange/plan_reader.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "../../support/random_events.h"
#include "exchange/plan_file.h"
#include "record/log.h"

using namespace tallyround;
using exchange::PlanReader;
using record::Event;

namespace {

constexpr std::uint64_t seed = 577;

struct Said {
    std::string error;
    std::vector<Event> events;
    std::string app;
    std::string extra;
};
Said said(base::Result<exchange::PlanFile> plan) {
    if (!plan) return {plan.error().where + "|" + plan.error().message, {}, {}, {}};
    return {"", std::move(plan->events), plan->app, plan->extra};
}

Said in_pieces(std::string_view bytes, base::Random& random, std::size_t longest) {
    PlanReader reader(bytes.size());
    std::string_view rest = bytes;
    while (!rest.empty()) {
        const auto n = std::min<std::size_t>(rest.size(), random.below(longest) + 1);
        if (reader.feed(std::string(rest.substr(0, n))) == PlanReader::Fed::whole)
            return said(exchange::read_plan(bytes));
        rest.remove_prefix(n);
    }
    return said(reader.finish());
}

void agree(const std::string& bytes, base::Random& random) {
    const Said whole = said(exchange::read_plan(bytes));
    for (const std::size_t longest : {1U, 3U, 40U, 500U, 100'000U}) {
        const Said pieces = in_pieces(bytes, random, longest);
        INFO(bytes.substr(0, 3000));
        REQUIRE(pieces.error == whole.error);
        CHECK(pieces.app == whole.app);
        CHECK(pieces.extra == whole.extra);
        CHECK(std::equal(pieces.events.begin(), pieces.events.end(), whole.events.begin(),
                         whole.events.end(), record::same));
    }
}

std::string some_plan(base::Random& random) {
    testing::Draw draw{random};
    std::vector<Event> events;
    for (auto n = random.below(12); n > 0; --n) {
        events.push_back(draw.event());
        if (random.below(10) > 0) events.back().stamp.sequence = events.size();
    }
    return exchange::write_plan(events, random.below(4) == 0 ? R"({"room":"Zoë 12","x":[1]})" : "");
}

/// One change of the sort that happens to files: or that a program makes of them.
void harm(std::string& bytes, base::Random& random) {
    const auto at = random.below(bytes.size());
    switch (random.below(9)) {
        case 0:
            bytes.resize(at);
            break;
        case 1:
            bytes[at] = static_cast<char>(random.below(256));
            break;
        case 2:
            bytes.erase(at, random.below(20) + 1);
            break;
        case 3:
            bytes.insert(at, bytes.substr(random.below(bytes.size()), random.below(30)));
            break;
        case 4:
            bytes.insert(at, 1, "{}[]\",:\\ \n\rtfn-0e.\x01\xC3"[random.below(20)]);
            break;
        case 5:
            bytes += "  \n" + std::string(random.below(2), 'x');
            break;
        case 6:
            bytes.insert(0, "\xEF\xBB\xBF");
            break;
        case 7:
            for (std::size_t i = 0; (i = bytes.find('\n', i)) != std::string::npos; i += 2)
                bytes.insert(i, "\r");
            break;
        default:
            for (std::size_t i = 0; (i = bytes.find(':', i)) != std::string::npos; i += 2)
                bytes.insert(i + 1, " ");
    }
}

}  // namespace

TEST_CASE("a plan file in pieces says what it says as a whole: what is good, and what is wrong") {
    MESSAGE("seed " << seed);
    base::Random random(seed);
    for (int round = 0; round < 1500; ++round) {
        std::string bytes = some_plan(random);
        for (auto n = random.below(3); n > 0 && !bytes.empty(); --n)
            harm(bytes, random);
        agree(bytes, random);
    }
}

TEST_CASE("files in pieces: other layouts, other sorts of files, and none") {
    base::Random random(seed);
    for (const char* text :
         {"", " ", "{", "{}", "[1,2", "true", "tru", "12", "-", "null x",
          R"({"format":"other","data":[1,2,3]})", R"({"format":"tallyround-plan"})",
          R"({"format":"tallyround-plan","version":2,"checksum":"","events":[]})",
          R"({"format":"tallyround-plan","version":1,"events":5,"checksum":""})",
          R"({"format":"tallyround-plan","version":1,"events":[],"events":[]})",
          R"({"format":"tallyround-sealed","box":""})",
          R"({"format":"tallyround-plan","version":1,"events":[1,{},"a"]})"}) {
        agree(text, random);
    }
}

TEST_CASE("events that are not wanted are checked and not kept") {
    base::Random random(seed);
    testing::Draw draw{random};
    std::vector<Event> events;
    for (std::uint64_t n = 1; n <= 60; ++n) {
        events.push_back(draw.event());
        events.back().stamp.sequence = n;
    }
    const auto read = [&](const std::string& bytes) {
        std::size_t place = 0;
        PlanReader reader(bytes.size(), [&](const Event&) { return place++ % 20 == 7; });
        for (const char c : bytes)
            reader.feed({&c, 1});
        return reader.finish();
    };
    const std::string good = exchange::write_plan(events);
    const auto plan = read(good);
    REQUIRE_MESSAGE(plan.has_value(), plan.error().text());
    REQUIRE(plan->events.size() == 3);
    CHECK(record::same(plan->events[1], events[27]));
    events[40].stamp.sequence = 3;
    events[40].stamp.replica = events[2].stamp.replica;
    CHECK(said(read(exchange::write_plan(events))).error ==
          said(exchange::read_plan(exchange::write_plan(events))).error);
    std::string bad = good;
    bad.replace(bad.find("\"n\":50"), 6, "\"n\":-1");
    CHECK(said(read(bad)).error == said(exchange::read_plan(bad)).error);
    // Laid out anew the texts differ and the events are the same: not damaged.
    std::string spaced = good;
    for (std::size_t i = 0; (i = spaced.find("\"kind\":", i)) != std::string::npos; i += 8)
        spaced.insert(i + 7, " ");
    CHECK(read(spaced).has_value());
}

TEST_CASE("one value of many megabytes is left to the reader of the whole") {
    std::string bytes = R"({"format":"tallyround-plan","version":1,"data":")";
    PlanReader reader(bytes.size() + (std::size_t{8} << 20U));
    CHECK(reader.feed(bytes) == PlanReader::Fed::on);
    const std::string letters(1 << 20, 'a');
    for (int i = 0; i < 3; ++i)
        CHECK(reader.feed(letters) == PlanReader::Fed::on);
    CHECK(reader.feed(letters) == PlanReader::Fed::whole);
    CHECK(reader.feed(letters) == PlanReader::Fed::whole);
}
