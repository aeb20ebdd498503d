#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "../../support/random_events.h"
#include "../../support/share.h"
#include "devices.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;
using testing::copy;
using testing::Devices;
using testing::Draw;
using testing::pieces_of;

namespace {

/// Every mark that any device made of a student it knew and nobody took back.
std::size_t marks_in(const Log& log) {
    std::set<EventRef> made;
    for (std::size_t i = 0; i < log.events().size(); ++i) {
        if (log.counts(i) && std::holds_alternative<Marked>(log.events()[i].body))
            made.insert(log.events()[i].ref());
    }
    for (const Class& cls : log.state().classes) {
        for (const Mark& mark : cls.marks)
            REQUIRE(made.contains(log.events()[mark.event].ref()));
    }
    return made.size();
}

}  // namespace

TEST_CASE("any order, grouping and repetition of merges ends in the same state") {
    constexpr std::uint64_t seed = 4711;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    const int wanted = testing::share("TALLYROUND_INTERLEAVINGS", 5'000);
    int interleavings = 0;
    std::size_t marks = 0;
    while (interleavings < wanted) {
        const Devices devices(random, 2 + static_cast<int>(random.below(3)), 60);
        Log want{ReplicaId("want")};
        want.load(devices.all());
        const std::string hash = state_hash(want.state());
        marks += marks_in(want);
        for (int order = 0; order < 100; ++order, ++interleavings) {
            Log log{ReplicaId("r9")};
            for (auto& piece : pieces_of(devices, random)) {
                random.shuffle(piece);
                log.merge(piece);
            }
            REQUIRE(state_hash(log.state()) == hash);
            REQUIRE(log.events().size() == want.events().size());
            REQUIRE(marks_in(log) == marks_in(want));
        }
    }
    MESSAGE(interleavings << " interleavings, clocks up to 6 hours off");
    CHECK(interleavings >= wanted);
    CHECK(marks > 0);
}

TEST_CASE("a log that is appended to and merged is always the fold of its events") {
    constexpr std::uint64_t seed = 4712;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    for (int world = 0; world < 60; ++world) {
        const Devices devices(random, 2, 900);
        for (const Log& log : devices.logs()) {
            REQUIRE(log.state() == fold(log.events()));
            const auto counts = in_force(log.events());
            for (std::size_t i = 0; i < counts.size(); ++i)
                REQUIRE(log.counts(i) == counts[i]);
            REQUIRE(
                std::is_sorted(log.events().begin(), log.events().end(),
                               [](const Event& a, const Event& b) { return a.stamp < b.stamp; }));
        }
    }
}

TEST_CASE("taking events back is the same as their never having been") {
    constexpr std::uint64_t seed = 4713;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    Draw draw{random};
    for (int world = 0; world < 400; ++world) {
        Log log{ReplicaId("r0")};
        for (Body& body : testing::some_class())
            log.append(std::move(body), 1000);
        const auto steps = 1 + random.below(world % 20 == 0 ? 700 : 60);
        for (std::uint64_t i = 0; i < steps; ++i) {
            Body body = draw.body();
            if (!std::holds_alternative<Retracted>(body)) log.append(std::move(body), 2000);
        }
        const auto before = copy(log.events());
        std::vector<bool> gone(before.size());
        Retracted undo;
        for (auto n = random.below(5) + 1; n > 0; --n) {
            const auto at = static_cast<std::size_t>(random.below(before.size()));
            gone[at] = true;
            undo.events.push_back(before[at].ref());
        }
        const std::string with_all = state_hash(log.state());
        const EventRef undone = log.append(undo, 3000).ref();
        std::vector<Event> rest;
        for (std::size_t i = 0; i < before.size(); ++i) {
            if (!gone[i]) rest.push_back(before[i]);
        }
        REQUIRE(canonical(log.state()) == canonical(fold(rest)));
        log.append(Retracted{{undone}}, 4000);
        REQUIRE(state_hash(log.state()) == with_all);
    }
}

TEST_CASE("undo and redo in chains: an event counts when nothing that counts takes it back") {
    constexpr std::uint64_t seed = 4714;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    for (int world = 0; world < 3000; ++world) {
        std::vector<Event> events;
        const auto n = 2 + random.below(12);
        for (std::uint64_t i = 1; i <= n; ++i) {
            Retracted r;
            for (auto k = random.below(3); k > 0; --k)
                r.events.push_back({ReplicaId("r"), 1 + random.below(n)});
            events.push_back({{static_cast<std::int64_t>(i), 0, ReplicaId("r"), i}, r, ""});
        }
        const auto counts = in_force(events);
        for (std::size_t i = 0; i < events.size(); ++i) {
            bool taken_back = false;
            for (std::size_t j = i + 1; j < events.size(); ++j) {
                const auto& targets = std::get<Retracted>(events[j].body).events;
                const bool names = std::count(targets.begin(), targets.end(), events[i].ref()) > 0;
                taken_back = taken_back || (counts[j] && names);
            }
            REQUIRE(counts[i] == !taken_back);
        }
    }
}

TEST_CASE("random events in any order never break the fold") {
    constexpr std::uint64_t seed = 4715;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    Draw draw{random, 3};
    for (int world = 0; world < 300; ++world) {
        std::vector<Event> events;
        for (auto n = random.below(400); n > 0; --n)
            events.push_back(draw.event());
        Log log{ReplicaId("r0")};
        log.load(events);
        random.shuffle(events);
        Log other{ReplicaId("r1")};
        other.load(events);
        REQUIRE(state_hash(log.state()) == state_hash(other.state()));
        for (const Class& cls : log.state().classes) {
            for (const Block& block : cls.blocks) {
                REQUIRE(block.lesson.phase_ends_ms >= 0);
                REQUIRE(block.lesson.paused_left_ms >= -1);
                std::vector<StudentId> seated;
                for (const auto& group : block.groups)
                    seated.insert(seated.end(), group.begin(), group.end());
                std::sort(seated.begin(), seated.end());
                REQUIRE(std::adjacent_find(seated.begin(), seated.end()) == seated.end());
            }
        }
    }
}

TEST_CASE("a copied replica's clashing names resolve alike on every device") {
    constexpr std::uint64_t seed = 4716;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    Draw draw{random, 3};
    for (int world = 0; world < 300; ++world) {
        std::vector<Event> events;
        for (int i = 0; i < 30; ++i) {
            Event e = draw.event();
            e.stamp.sequence = 1 + random.below(6);
            e.stamp.ms = static_cast<std::int64_t>(random.below(4));
            events.push_back(e);
        }
        Log one{ReplicaId("a")};
        one.load(events);
        random.shuffle(events);
        Log two{ReplicaId("b")};
        for (const Event& e : events)
            two.merge(std::span(&e, 1));
        REQUIRE(one.events().size() == two.events().size());
        REQUIRE(one.state() == two.state());
    }
}

TEST_CASE("who is deleted for good on one device stays so, in any order of merging") {
    constexpr std::uint64_t seed = 4717;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    std::size_t worlds_with_somebody_gone = 0;
    for (int world = 0; world < 60; ++world) {
        const Devices devices(random, 2 + static_cast<int>(random.below(3)), 80, true);
        Log want{ReplicaId("want")};
        want.load(devices.all());
        if (!want.erased().empty()) ++worlds_with_somebody_gone;
        const std::string hash = state_hash(want.state());
        for (int order = 0; order < 40; ++order) {
            Log log{ReplicaId("r9")};
            for (auto& piece : pieces_of(devices, random)) {
                random.shuffle(piece);
                log.merge(piece);
                REQUIRE(log.state() == fold(log.events()));
            }
            REQUIRE(state_hash(log.state()) == hash);
            // Nothing of them is left but the tombstones.
            auto kept = copy(log.events());
            REQUIRE(purge(kept, log.erased()) == 0);
            for (const Class& cls : log.state().classes) {
                REQUIRE_FALSE(log.erased().has_class(cls.id));
                for (const Student& s : cls.students)
                    REQUIRE_FALSE(log.erased().has(cls.id, s.id));
                for (const Mark& m : cls.marks)
                    REQUIRE_FALSE(log.erased().has(cls.id, m.student));
            }
        }
    }
    CHECK(worlds_with_somebody_gone > 30);
}
