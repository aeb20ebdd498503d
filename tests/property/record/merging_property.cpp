#include <doctest/doctest.h>

#include <algorithm>

#include "devices.h"
#include "record/fold.h"
#include "record/merging.h"

using namespace tallyround;
using namespace tallyround::record;
using testing::Devices;
using testing::Draw;

namespace {

/// The same device twice: one log merges at once, one in steps while it goes on.
struct Twice {
    base::Random& random;
    Draw draw{random};
    Log whole{ReplicaId("r9")};
    Log stepped{ReplicaId("r9")};
    std::int64_t now = 0;

    void append_one() {
        Body body = draw.body();
        if (random.below(3) == 0 && !stepped.events().empty()) {
            const auto at = std::size_t(random.below(stepped.events().size()));
            body = Retracted{{stepped.events()[at].ref()}};
        }
        now += std::int64_t(random.below(1000));
        whole.append(body, now);
        stepped.append(std::move(body), now);
    }

    void merge(const std::vector<Event>& events, const std::vector<Event>& between) {
        const auto most = std::size_t(1 + random.below(60));
        const auto slip = random.below(8);
        Merging merging(stepped, events, random.below(4) == 0 ? Merging::soon_done : 0);
        double progress = 0;
        while (!merging.step(most)) {
            REQUIRE(merging.progress() >= progress);
            progress = merging.progress();
            if (random.below(20) == 0) append_one();
            if (slip == 0 && random.below(5) == 0) {
                stepped.merge(between);
                whole.merge(between);
            }
        }
        if (random.below(3) == 0) append_one();
        REQUIRE(merging.finish(stepped) == whole.merge(events));
    }

    void check() {
        REQUIRE(stepped.state() == whole.state());
        REQUIRE(stepped.state() == fold(stepped.events()));
        REQUIRE(std::equal(stepped.events().begin(), stepped.events().end(), whole.events().begin(),
                           whole.events().end(), same));
        for (std::size_t i = 0; i < whole.events().size(); ++i)
            REQUIRE(stepped.counts(i) == whole.counts(i));
    }
};

}  // namespace

TEST_CASE("a merge in steps, beside a log that goes on, is the merge at once") {
    constexpr std::uint64_t seed = 4720;
    MESSAGE("seed " << seed);
    base::Random random(seed);
    for (int world = 0; world < 150; ++world) {
        const bool erases = world % 5 == 0;
        const Devices devices(random, 3, 150, erases);
        Twice twice{random};
        twice.now = devices.logs()[0].events().back().stamp.ms;
        // Clocks may be behind what comes in, or ahead.
        if (world % 2 == 0) twice.now += 12 * std::int64_t(3'600'000);
        auto pieces = pieces_of(devices, random);
        for (auto& piece : pieces) {
            if (random.below(3) == 0) random.shuffle(piece);
            twice.merge(piece, pieces[std::size_t(random.below(pieces.size()))]);
            twice.check();
        }
        // Undo reaches behind what came in.
        for (int i = 0; i < 5; ++i)
            twice.append_one();
        twice.check();
    }
}

TEST_CASE("this device's own events that come in: its numbers go on after them") {
    Log there{ReplicaId("mine")};
    for (Body& body : testing::some_class())
        there.append(std::move(body), 5);
    Log here{ReplicaId("mine")};
    Merging merging(here, testing::copy(there.events()), 0);
    while (!merging.step(2)) {
    }
    const auto size = there.events().size();
    CHECK(merging.finish(here) == size);
    CHECK(here.append(FlagSet{}, 6).stamp.sequence == size + 1);
}
