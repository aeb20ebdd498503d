#include "record/recover.h"

#include <doctest/doctest.h>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;

namespace {

std::vector<Event> some_class() {
    Log log{ReplicaId("r0")};
    for (Body& body : testing::some_class())
        log.append(std::move(body), 1000);
    return {log.events().begin(), log.events().end()};
}

bool equal(const std::vector<Event>& a, const std::vector<Event>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), same);
}

}  // namespace

TEST_CASE("a snapshot and the lines after it come out in their order") {
    const std::vector<Event> events = some_class();
    const std::span<const Event> all(events);
    const std::string snapshot = pack(all.first(4));
    std::string lines;
    for (const Event& e : all.subspan(4))
        lines += to_line(e) + "\n";
    const Recovered both = recover(snapshot, lines);
    CHECK(equal(both.events, events));
    CHECK(both.unreadable.empty());
    CHECK(both.snapshot_problem.empty());

    CHECK(recover("", "").events.empty());
    CHECK(recover("", "").snapshot_problem.empty());
    CHECK(equal(recover(pack(all), "").events, events));
    // The last line's end may be missing, and lines may be empty.
    lines.pop_back();
    CHECK(equal(recover(snapshot, "\n\n" + lines).events, events));
}

TEST_CASE("a line that is no event is kept with the reason, the others are read") {
    const std::vector<Event> events = some_class();
    const std::string first = to_line(events[0]);
    const std::string torn = to_line(events[1]).substr(0, 40);
    const std::string other = R"({"at":[1,0],"by":"r0","n":2,"kind":7})";
    const Recovered out = recover("", first + "\n" + torn + "\n" + other + "\n" + first);
    REQUIRE(out.events.size() == 2);
    CHECK(same(out.events[0], events[0]));
    CHECK(same(out.events[1], events[0]));
    REQUIRE(out.unreadable.size() == 2);
    CHECK(out.unreadable[0].line == torn);
    CHECK(out.unreadable[0].why.starts_with("line 1, column "));
    CHECK(out.unreadable[1].line == other);
    CHECK(out.unreadable[1].why.starts_with("/kind: "));
}

TEST_CASE("a snapshot that cannot be read is told, and the lines are there") {
    const std::vector<Event> events = some_class();
    std::string snapshot = pack(events);
    snapshot.back() ^= 1;
    const Recovered out = recover(snapshot, to_line(events[0]));
    CHECK(out.snapshot_problem == "The snapshot is damaged.");
    CHECK(out.events.size() == 1);
    CHECK(recover("no snapshot", "").snapshot_problem == "This is not a snapshot.");
}
