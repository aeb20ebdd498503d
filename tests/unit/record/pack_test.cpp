#include <doctest/doctest.h>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;

namespace {

constexpr std::uint64_t seed = 8107;

std::vector<Event> some_events(int n) {
    base::Random random(seed);
    testing::Draw draw{random, 30};
    std::vector<Event> out;
    for (int i = 0; i < n; ++i) {
        out.push_back(draw.event());
        Event mark = out.back();
        mark.body = Marked{ClassId("c"), {}, StudentId("s"), SkillId("k"), {}, i, Level::stuck, {}};
        if (i % 2 == 0) out.push_back(mark);
    }
    return out;
}

bool equal(const std::vector<Event>& a, const std::vector<Event>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), same);
}

}  // namespace

TEST_CASE("a snapshot gives back the same events in the same order") {
    MESSAGE("seed " << seed);
    for (const int n : {0, 1, 2, 500}) {
        const auto events = some_events(n);
        const auto back = unpack(pack(events));
        REQUIRE(back.has_value());
        CHECK(equal(*back, events));
    }
}

TEST_CASE("marks in a snapshot keep numbers at their limits") {
    std::vector<Event> events;
    for (const std::int64_t ms : {max_ms, std::int64_t{0}, max_ms}) {
        events.push_back({{ms, 0xFFFFFFFFU, ReplicaId("r"), static_cast<std::uint64_t>(max_ms)},
                          Marked{ClassId("12345678901234567890123"), BlockId("b"), StudentId("s"),
                                 SkillId("k"), CenterId("c"), 10'000, Level::shaky, Help::together},
                          ""});
    }
    const auto back = unpack(pack(events));
    REQUIRE(back.has_value());
    CHECK(equal(*back, events));
}

TEST_CASE("a snapshot with any one byte changed is refused") {
    const std::string good = pack(some_events(12));
    MESSAGE("seed " << seed << ", " << good.size() << " bytes");
    for (std::size_t at = 0; at < good.size(); ++at) {
        for (const int flip : {1, 0x80, 0xFF}) {
            std::string bad = good;
            bad[at] = static_cast<char>(bad[at] ^ flip);
            INFO("byte " << at);
            REQUIRE_FALSE(unpack(bad).has_value());
        }
    }
}

TEST_CASE("a snapshot cut short, grown or of another sort is refused with a reason") {
    const std::string good = pack(some_events(5));
    for (std::size_t size = 0; size < good.size(); ++size) {
        const auto cut = unpack(good.substr(0, size));
        REQUIRE_FALSE(cut.has_value());
        CHECK(cut.error().message == "The snapshot is cut short.");
    }
    CHECK(unpack(good + "x").error().message == "The snapshot is damaged.");
    CHECK(unpack("{\"format\":1}").error().message == "This is not a snapshot.");
    std::string newer = good;
    newer[8] = 2;
    CHECK(unpack(newer).error().message == "The snapshot is from a newer version of the app.");
}

namespace {

/// With a checksum that is right.
std::string sealed(std::string snapshot) {
    Hasher hasher;
    hasher.add(std::string_view(snapshot).substr(0, 28));
    hasher.add(std::string_view(snapshot).substr(60));
    return snapshot.replace(28, 32, hasher.hex());
}

}  // namespace

TEST_CASE("a snapshot with a right checksum and wrong contents is refused") {
    MESSAGE("seed " << seed);
    const std::string good = pack(some_events(12));
    base::Random random(seed);
    int refused = 0;
    for (int i = 0; i < 20'000; ++i) {
        std::string bad = good;
        const auto at = 60 + static_cast<std::size_t>(random.below(bad.size() - 60));
        bad[at] = static_cast<char>(random.below(256));
        const auto events = unpack(sealed(bad));
        if (!events) {
            CHECK(events.error().message == "The snapshot is damaged.");
            ++refused;
        }
    }
    CHECK(refused > 1000);
}

TEST_CASE("a snapshot that claims another number of events is refused before room is made") {
    std::string bad = pack(some_events(3));
    for (const int count : {0x00, 0x01, 0x7F}) {
        // The number of events stands in bytes 12 to 19, lowest byte first.
        bad[12] = static_cast<char>(count);
        bad[19] = static_cast<char>(count);
        CHECK(unpack(sealed(bad)).error().message == "The snapshot is damaged.");
    }
}

namespace {

/// The header of a snapshot of `events` events before this body; the checksum is right.
std::string with_body(const std::string& body, unsigned char events) {
    std::string out = pack({}).substr(0, 60);
    out[12] = static_cast<char>(events);
    out[20] = static_cast<char>(body.size());
    return sealed(out + body);
}

}  // namespace

TEST_CASE("numbers that run on, a counter past its end and bytes left over are damage") {
    const std::string_view why = "The snapshot is damaged.";
    // Ids, lines and marks, and eleven columns: all empty.
    const std::string none(14, '\0');
    REQUIRE(unpack(with_body(none, 0)).has_value());
    CHECK(unpack(with_body(std::string(12, '\xFF') + none, 0)).error().message == why);
    CHECK(unpack(with_body(none + '\0', 0)).error().message == why);
    // A line that is said to be longer than there are bytes.
    const std::string line = to_line({{1, 0, ReplicaId("r"), 1}, Retracted{}, ""});
    REQUIRE(line.size() < 120);
    const auto lines = [&](std::size_t size) {
        std::string body("\0\1\0", 3);
        body += static_cast<char>(size);
        return with_body(body + line + std::string(12, '\0'), 1);
    };
    REQUIRE(unpack(lines(line.size())).has_value());
    CHECK(unpack(lines(127)).error().message == why);
    // One mark whose counter does not fit into 32 bits.
    const auto mark = [&](const std::string& counter) {
        std::string body("\1\1r\0\1", 5);
        const std::string columns[] = {std::string(1, '\0'), std::string(1, '\2'), counter};
        for (int i = 0; i < 11; ++i)
            body += static_cast<char>(i < 3 ? columns[i].size() : 1);
        for (int i = 0; i < 11; ++i)
            body += i < 3 ? columns[i] : std::string(1, '\0');
        return with_body(body, 1);
    };
    REQUIRE(unpack(mark("\xFF\xFF\xFF\xFF\x0F")).has_value());
    CHECK(unpack(mark("\xFF\xFF\xFF\xFF\x0F"))->front().stamp.counter == 0xFFFFFFFFU);
    CHECK(unpack(mark("\xFF\xFF\xFF\xFF\x1F")).error().message == why);
}
