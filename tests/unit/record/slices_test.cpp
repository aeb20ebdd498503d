// A record read, folded and packed in slices of any size is the one that comes of it at once.
#include <doctest/doctest.h>

#include <algorithm>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/loading.h"
#include "record/packer.h"

using namespace tallyround;
using namespace tallyround::record;

namespace {

const ClassId cls("x0");

/// Marks of a long time and, now and then, one that is taken back much later.
std::vector<Event> long_record(std::size_t size, const char* replica = "r0") {
    std::vector<Event> out;
    const ReplicaId by(replica);
    const auto add = [&](Body body) {
        const auto n = out.size() + 1;
        out.push_back({{std::int64_t(n) * 1000, 0, by, n}, std::move(body), ""});
    };
    for (Body& body : testing::some_class())
        add(std::move(body));
    while (out.size() < size) {
        const auto n = out.size();
        if (n % 700 == 699) {
            add(Retracted{{{by, n / 2}, {by, n - 600}}});
        } else {
            add(Marked{cls, BlockId("x1"), StudentId("x" + std::to_string(n % 4)), SkillId("x1"),
                       CenterId("x1"), int(n % 5), Level(n % 3), Help::none});
        }
    }
    return out;
}

Log in_slices(std::vector<Event> events, std::size_t most) {
    Loading loading(ReplicaId("r0"), std::move(events));
    double before = 0;
    while (!loading.step(most)) {
        CHECK(loading.progress() >= before);
        before = loading.progress();
    }
    return loading.take();
}

}  // namespace

TEST_CASE("a snapshot packed and unpacked in slices") {
    const std::vector<Event> events = long_record(900);
    const std::string whole = pack(events);
    for (const std::size_t most : {std::size_t{1}, std::size_t{7}, std::size_t{5000}}) {
        Packer packer(events.size());
        std::vector<Event> growing = events;
        growing.push_back(events[3]);  // what comes later is not in it
        while (!packer.step(growing, most)) {
        }
        CHECK(packer.take() == whole);
        Unpacker unpacker(whole);
        double before = 0;
        while (!unpacker.step(most)) {
            CHECK(unpacker.progress() >= before);
            before = unpacker.progress();
        }
        const auto back = unpacker.take();
        REQUIRE(back.has_value());
        CHECK(std::equal(back->begin(), back->end(), events.begin(), events.end(), same));
    }
    Unpacker damaged(whole.substr(0, whole.size() - 1));
    CHECK(damaged.step(10));
    CHECK(damaged.take().error().message == "The snapshot is cut short.");
}

TEST_CASE("a record loaded in slices goes on as one loaded at once") {
    std::vector<Event> events = long_record(3000);
    events.push_back({{3'100'000, 0, ReplicaId("r1"), 1}, Erased{cls, StudentId("x3")}, ""});
    std::reverse(events.begin(), events.end());
    Log whole{ReplicaId("r0")};
    whole.load(events);
    for (const std::size_t most : {std::size_t{1}, std::size_t{64}, std::size_t{100'000}}) {
        Log log = in_slices(events, most);
        CHECK(log.state() == whole.state());
        CHECK(log.rewrites() == whole.rewrites());
        CHECK(log.erased().has(cls, StudentId("x3")));
        CHECK(log.append(FlagSet{cls, StudentId("x1"), true}, 1).stamp.sequence == 3001);
        log.append(Retracted{{{ReplicaId("r0"), 2500}}}, 1);
        CHECK(log.state() == fold(log.events()));
    }
    CHECK(in_slices({}, 1).events().empty());
}

TEST_CASE("older events that come in are folded from a checkpoint before them") {
    const std::vector<Event> events = long_record(6000);
    // So far back the first of them: a few, further than a checkpoint, before everything.
    for (const std::int64_t back : {3, 200, 1500, 5000, 6000}) {
        Log log{ReplicaId("r0")};
        log.load(events);
        const std::uint64_t moves = log.moves();
        std::vector<Event> more;
        for (std::uint64_t n = 1; n <= 40; ++n) {
            const std::int64_t ms = (6000 - back) * 1000 + std::int64_t(n) * 90 + 1;
            more.push_back({{ms, 0, ReplicaId("r1"), n},
                            Marked{cls, BlockId("x1"), StudentId("x1"), SkillId("x1"),
                                   CenterId("x1"), 2, Level::stuck, Help::none},
                            ""});
        }
        // One of ours from before is taken back there.
        more.push_back({{more.back().stamp.ms + 1, 0, ReplicaId("r1"), 41},
                        Retracted{{{ReplicaId("r0"), 900}, {ReplicaId("r0"), 5990}}},
                        ""});
        CHECK(log.merge(more) == more.size());
        CHECK(log.moves() > moves);
        CHECK(log.state() == fold(log.events()));
        CHECK(log.merge(more) == 0);
        // What counts is known as well, and undo still works from here.
        log.append(Retracted{{{ReplicaId("r1"), 41}}}, 9'000'000);
        CHECK(log.state() == fold(log.events()));
        CHECK(std::is_sorted(log.events().begin(), log.events().end(),
                             [](const Event& a, const Event& b) { return a.stamp < b.stamp; }));
    }
}

TEST_CASE("an appended event moves none that is there") {
    Log log{ReplicaId("r0")};
    log.load(long_record(100));
    const std::uint64_t moves = log.moves();
    log.append(FlagSet{cls, StudentId("x1"), true}, 1);
    CHECK(log.moves() == moves);
}

TEST_CASE("of a record that grows for long the checkpoints thin out, and undo still works") {
    Log log{ReplicaId("r0")};
    for (const Event& e : long_record(3500))
        log.append(Body(e.body), e.stamp.ms);
    for (const std::uint64_t n : {3400, 2900, 1500, 20}) {
        log.append(Retracted{{{ReplicaId("r0"), n}}}, 9'000'000);
        CHECK(log.state() == fold(log.events()));
    }
}
