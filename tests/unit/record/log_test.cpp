#include <doctest/doctest.h>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;

namespace {

const ClassId cls("x0");
const BlockId block("x1");

Log small_log(const char* replica = "r0") {
    Log log{ReplicaId(replica)};
    for (Body& body : testing::some_class())
        log.append(std::move(body), 1000);
    return log;
}

Marked look(const char* student, Level level = Level::secure) {
    return {cls, block, StudentId(student), SkillId("x1"), CenterId("x1"), 1, level, Help::none};
}

std::size_t marks(const Log& log) {
    return log.state().classes.at(0).marks.size();
}

}  // namespace

TEST_CASE("stamps never run back, whatever the clock does") {
    Log log{ReplicaId("r0")};
    CHECK(log.append(ClassMade{cls, "6b", 6}, 5000).stamp == Stamp{5000, 0, ReplicaId("r0"), 1});
    CHECK(log.append(look("x1"), 5000).stamp == Stamp{5000, 1, ReplicaId("r0"), 2});
    CHECK(log.append(look("x1"), 4000).stamp == Stamp{5000, 2, ReplicaId("r0"), 3});
    CHECK(log.append(look("x1"), 5001).stamp == Stamp{5001, 0, ReplicaId("r0"), 4});
}

TEST_CASE("the clock goes on from the newest event of anybody") {
    Log log{ReplicaId("r0")};
    const std::vector<Event> ahead{{{9000, 7, ReplicaId("r1"), 1}, ClassMade{cls, "6b", 6}, ""}};
    log.merge(ahead);
    CHECK(log.append(look("x1"), 5000).stamp == Stamp{9000, 8, ReplicaId("r0"), 1});
}

TEST_CASE("the sequence goes on after a load and after own events come back by a merge") {
    Log first = small_log();
    const auto n = first.events().size();
    Log again{ReplicaId("r0")};
    again.load({first.events().begin(), first.events().end()});
    CHECK(again.append(look("x1"), 1).stamp.sequence == n + 1);
    Log empty{ReplicaId("r0")};
    CHECK(empty.merge(first.events()) == n);
    CHECK(empty.append(look("x1"), 1).stamp.sequence == n + 1);
}

TEST_CASE("undo takes a mark back and redo brings it back") {
    Log log = small_log();
    const EventRef ref = log.append(look("x1"), 2000).ref();
    const auto with_mark = state_hash(log.state());
    CHECK(marks(log) == 1);
    const EventRef undo = log.append(Retracted{{ref}}, 3000).ref();
    CHECK(marks(log) == 0);
    CHECK_FALSE(log.counts(log.events().size() - 2));
    const EventRef redo = log.append(Retracted{{undo}}, 4000).ref();
    CHECK(marks(log) == 1);
    CHECK(state_hash(log.state()) == with_mark);
    log.append(Retracted{{redo}}, 5000);
    CHECK(marks(log) == 0);
}

TEST_CASE("undo of an event far back, and of one before a checkpoint") {
    Log log = small_log();
    const EventRef early = log.append(look("x1"), 2000).ref();
    for (int i = 0; i < 1000; ++i)
        log.append(look("x2"), 3000 + i);
    CHECK(marks(log) == 1001);
    const EventRef undo = log.append(Retracted{{early}}, 9000).ref();
    CHECK(marks(log) == 1000);
    CHECK(state_hash(log.state()) == state_hash(fold(log.events())));
    for (int i = 0; i < 600; ++i)
        log.append(look("x3"), 9000 + i);
    log.append(Retracted{{undo}}, 10'000);
    CHECK(marks(log) == 1601);
    CHECK(log.state() == fold(log.events()));
}

TEST_CASE("taking a class back takes everything in it") {
    Log log = small_log();
    log.append(look("x1"), 2000);
    log.append(Retracted{{log.events()[0].ref()}}, 3000);
    CHECK(log.state().classes.empty());
}

TEST_CASE("a retraction of itself, of nothing known or of something later changes nothing") {
    Log log = small_log();
    log.append(look("x1"), 2000);
    const auto before = state_hash(log.state());
    const std::uint64_t next = log.events().size() + 1;
    log.append(Retracted{{{ReplicaId("r0"), next}, {ReplicaId("r9"), 4}}}, 3000);
    CHECK(state_hash(log.state()) == before);
    log.append(Retracted{{{ReplicaId("r0"), next + 2}}}, 3000);
    log.append(look("x2"), 4000);
    CHECK(marks(log) == 2);
}

TEST_CASE("merging twice brings nothing new") {
    Log a = small_log("r0");
    Log b{ReplicaId("r1")};
    CHECK(b.merge(a.events()) == a.events().size());
    b.append(look("x1"), 5000);
    CHECK(b.merge(a.events()) == 0);
    CHECK(a.merge(b.events()) == 1);
    CHECK(state_hash(a.state()) == state_hash(b.state()));
}

TEST_CASE("older events from another device come in between") {
    Log a = small_log("r0");
    Log b{ReplicaId("r1")};
    b.merge(a.events());
    a.append(StudentRenamed{cls, StudentId("x1"), "Late"}, 9000);
    b.append(StudentRenamed{cls, StudentId("x1"), "Early"}, 5000);
    CHECK(a.merge(b.events()) == 1);
    CHECK(b.merge(a.events()) == 1);
    CHECK(a.state().classes[0].student(StudentId("x1"))->name == "Late");
    CHECK(a.state() == b.state());
}

TEST_CASE("a copied replica's two events of one name: every device keeps the same one") {
    const Stamp stamp{7000, 0, ReplicaId("r5"), 1};
    const std::vector<Event> one{{stamp, ClassMade{cls, "A", 6}, ""}};
    const std::vector<Event> two{{stamp, ClassMade{cls, "B", 6}, ""}};
    Log a{ReplicaId("r0")};
    Log b{ReplicaId("r1")};
    a.merge(one);
    a.merge(two);
    b.merge(two);
    b.merge(one);
    CHECK(a.state() == b.state());
    CHECK(a.events().size() == 1);
}

TEST_CASE("hash of bytes is XXH3-128 as published") {
    // xxHash 0.8 specification, empty input with seed 0; checked with `xxhsum -H2 /dev/null`.
    CHECK(bytes_hash("") == "99aa06d3014798d86001c324468d497f");
    Hasher hasher;
    hasher.add("tally");
    hasher.add("round");
    CHECK(hasher.hex() == bytes_hash("tallyround"));
}

TEST_CASE("a counter that has run out takes the next millisecond") {
    Log log{ReplicaId("r0")};
    const std::vector<Event> last{
        {{9000, 0xFFFFFFFFU, ReplicaId("r1"), 1}, ClassMade{cls, "6b", 6}, ""}};
    log.merge(last);
    CHECK(log.append(look("x1"), 5000).stamp == Stamp{9001, 0, ReplicaId("r0"), 1});
}

TEST_CASE("marks are taken back one by one through a record longer than all checkpoints") {
    Log log = small_log();
    for (int i = 0; i < 2000; ++i)
        log.append(look("x1"), 2000 + i);
    CHECK(marks(log) == 2000);
    const auto before = log.events().size();
    for (std::size_t back = 1; back <= 1400; back += 200)
        log.append(Retracted{{log.events()[before - back].ref()}}, 9000);
    CHECK(marks(log) == 1993);
    CHECK(state_hash(log.state()) == state_hash(fold(log.events())));
}

TEST_CASE("events of later versions are the same only if all that they say is") {
    const Event one{{5, 0, ReplicaId("r"), 1}, Foreign{"weather", R"({"sky":"blue"})"}, ""};
    Event other = one;
    CHECK(same(one, other));
    other.body = Foreign{"weather", R"({"sky":"grey"})"};
    CHECK_FALSE(same(one, other));
    other.body = Foreign{"clouds", R"({"sky":"blue"})"};
    CHECK_FALSE(same(one, other));
    other.body = Retracted{};
    CHECK_FALSE(same(one, other));
}
