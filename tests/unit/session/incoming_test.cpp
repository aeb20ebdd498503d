#include "session/incoming.h"

#include <doctest/doctest.h>

#include <set>

#include "../../support/random_events.h"
#include "session/bringing.h"
#include "session/session.h"

using namespace tallyround;
using record::Event;
using session::EventNames;
using session::Sieve;

namespace {

std::vector<Event> many_events(std::size_t n, std::uint64_t seed) {
    base::Random random(seed);
    testing::Draw draw{random};
    std::vector<Event> out;
    while (out.size() < n) {
        out.push_back(draw.event());
        out.back().stamp.ms = std::int64_t(out.size()) * 10;
        out.back().stamp.sequence = out.size();
        out.back().stamp.replica = record::ReplicaId("r" + std::to_string(random.below(2)));
    }
    return out;
}

record::Log log_of(std::vector<Event> events) {
    record::Log log{record::ReplicaId("mine")};
    log.load(std::move(events));
    return log;
}

std::size_t bring(session::Session& to, session::Incoming incoming,
                  std::vector<Event>* told = nullptr) {
    session::Bringing bringing(to.log(), std::move(incoming), true, 100);
    return to.conclude(bringing, told);
}

}  // namespace

TEST_CASE("names of events as text and back") {
    EventNames names;
    for (const std::uint64_t n : {1, 2, 3, 7, 9, 10})
        names.add({record::ReplicaId("r1"), n});
    names.add({record::ReplicaId("r0"), 18'446'744'073'709'551'615U});
    const std::string text = names.text();
    CHECK(text == "r0:18446744073709551615-18446744073709551615;r1:1-3,7-7,9-10");
    CHECK(EventNames::read(text).text() == text);
    CHECK(EventNames().text().empty());
    // What is not of this form is left out, the rest is there.
    CHECK(EventNames::read("r1:1-3,x-4,9,8-7,0-2,5-6;:1-2;no way:1-2;r2;r3:4-4;;").text() ==
          "r1:1-3,5-6;r3:4-4");
}

TEST_CASE("names of events are a set, whatever order they come in") {
    constexpr std::uint64_t seed = 88;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    for (int round = 0; round < 300; ++round) {
        EventNames names;
        std::set<record::EventRef> expected;
        CHECK(names.empty());
        for (auto n = random.below(60); n > 0; --n) {
            const record::EventRef ref{record::ReplicaId("r" + std::to_string(random.below(3))),
                                       random.below(40)};
            names.add(ref);
            expected.insert(ref);
        }
        for (const char* r : {"r0", "r1", "r2", "r3"}) {
            for (std::uint64_t n = 0; n < 45; ++n) {
                const record::EventRef ref{record::ReplicaId(r), n};
                CHECK(names.contains(ref) == expected.contains(ref));
            }
        }
    }
}

TEST_CASE("a sieve leaves out what the log has just so, in any order, and notes its places") {
    const auto events = many_events(200, 3);
    record::Log log = log_of({events.begin(), events.begin() + 150});
    REQUIRE(log.events().size() == 150);
    std::vector<Event> file = events;
    file.erase(file.begin() + 20, file.begin() + 30);
    file[60].extra = R"({"other":1})";
    std::swap(file[3], file[100]);
    Sieve sieve(log);
    std::vector<Event> fresh;
    for (const Event& e : file) {
        if (sieve.fresh(e)) fresh.push_back(e);
    }
    CHECK(fresh.size() == 51);
    const auto seen = sieve.take_seen();
    REQUIRE(seen.size() == 150);
    for (std::size_t i = 0; i < 150; ++i)
        CHECK(seen[i] == ((i < 20 || i >= 30) && i != 70));
}

TEST_CASE("a beginning holds while events come behind it, and no longer when one comes before") {
    const auto events = many_events(20, 4);
    record::Log log = log_of({events.begin() + 1, events.begin() + 11});
    const session::Beginning began(log, 5);
    CHECK(session::Beginning(log, 0).holds(log));
    log.append(record::ClassArchived{}, 1'000'000);
    CHECK(began.holds(log));
    log.merge(std::vector{events[15]});
    CHECK(began.holds(log));
    log.merge(std::vector{events[0]});
    CHECK_FALSE(began.holds(log));
}

TEST_CASE("a sifted merge does what a merge of the whole does, and finds the same conflicts") {
    const model::ClassId cls("c");
    const auto renamed = [&](const char* who, std::uint64_t n, std::int64_t ms, const char* name) {
        return Event{{ms, 0, record::ReplicaId(who), n}, record::ClassRenamed{cls, name, 6}, {}};
    };
    std::vector<Event> common{
        {{10, 0, record::ReplicaId("a"), 1}, record::ClassMade{cls, "Six", 6}, {}},
        renamed("a", 2, 20, "Room 6")};
    std::vector<Event> ours = common;
    ours.push_back(renamed("a", 3, 30, "Ours"));
    std::vector<Event> theirs = common;
    theirs.push_back(renamed("b", 1, 40, "Theirs"));
    theirs.push_back(renamed("b", 2, 50, "Theirs at last"));

    session::Session whole(record::ReplicaId("a"), 1);
    whole.load(ours);
    const auto fresh = whole.merge(theirs, true);
    session::Session sifted(record::ReplicaId("a"), 1);
    sifted.load(ours);
    session::Incoming in;
    Sieve sieve(sifted.log());
    for (const Event& e : theirs) {
        if (sieve.fresh(e)) in.events.push_back(e);
    }
    CHECK(in.events.size() == 2);
    in.seen = sieve.take_seen();
    std::vector<Event> told;
    CHECK(bring(sifted, std::move(in), &told) == 2);
    CHECK(std::equal(told.begin(), told.end(), fresh.begin(), fresh.end(), record::same));
    CHECK(sifted.state() == whole.state());
    REQUIRE(sifted.conflicts().size() == 1);
    CHECK(sifted.conflicts()[0].won == whole.conflicts()[0].won);
    CHECK(sifted.conflicts()[0].lost == "\"Ours\", grade 6");
    // All but the names of what is left out is as before: an event of a name that is known stays
    // out, even when it says something else.
    Event other = renamed("a", 3, 60, "Copied device");
    CHECK(bring(sifted, {{other}, {}}) == 0);
    CHECK(sifted.state() == whole.state());
}

TEST_CASE("a merge in steps sees what happens meanwhile") {
    const model::ClassId cls("c");
    const auto renamed = [&](const char* who, std::uint64_t n, std::int64_t ms, const char* name) {
        return Event{{ms, 0, record::ReplicaId(who), n}, record::ClassRenamed{cls, name, 6}, {}};
    };
    const std::vector<Event> common{
        {{10, 0, record::ReplicaId("a"), 1}, record::ClassMade{cls, "Six", 6}, {}}};
    session::Session s(record::ReplicaId("a"), 1);
    s.load(common);
    session::Bringing bringing(s.log(), {{renamed("b", 1, 20, "Theirs")}, {true}}, true, 100);
    double progress = 0;
    const auto some_steps = [&](int n) {
        for (bool over = false; n > 0 && !over; --n) {
            over = bringing.step(1);
            CHECK(bringing.progress() >= progress);
            progress = bringing.progress();
        }
    };
    some_steps(2);
    std::vector<Event> told;
    SUBCASE("something newer here: it is a conflict") {
        REQUIRE(s.send(session::RenameClass{cls, "Ours", 6}, 30));
        some_steps(100);
        CHECK(s.conclude(bringing, &told) == 1);
        REQUIRE(s.conflicts().size() == 1);
        CHECK(s.conflicts()[0].won == "\"Ours\", grade 6");
        CHECK(s.state().find_class(cls)->name == "Ours");
        CHECK(s.undo_label() != "");
    }
    SUBCASE("something older from elsewhere: all comes in, conflicts are not looked for") {
        s.merge({renamed("c", 1, 5, "Third")});
        some_steps(100);
        CHECK(s.conclude(bringing, &told) == 1);
        CHECK(s.conflicts().empty());
        CHECK(s.state().find_class(cls)->name == "Theirs");
        CHECK(s.log().events().size() == 3);
    }
    CHECK(told.size() == 1);
}
