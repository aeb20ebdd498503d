#include <set>

#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

std::set<std::string> cells(const std::vector<CenterId>& row) {
    std::set<std::string> out;
    for (const CenterId& id : row)
        out.insert(id.str());
    return out;
}

/// Nobody shares a center, and every cell from `from` on names an open one.
void check_sound(const Block& block, std::size_t from = 0) {
    const std::size_t rounds = block.chart.empty() ? 0 : block.chart.front().size();
    for (std::size_t r = from; r < rounds; ++r) {
        std::set<std::string> used;
        for (const auto& row : block.chart) {
            REQUIRE(row.size() == rounds);
            if (row[r].empty()) continue;
            const Center* center = find_center(block, row[r]);
            REQUIRE(center != nullptr);
            CHECK_FALSE(center->closed);
            CHECK(used.insert(row[r].str()).second);
        }
    }
}

}  // namespace

TEST_CASE("six groups go round six centers in order, each once") {
    // Common practice, no source: groups move in order 1, 2, ... 6, 1.
    Classroom room(24);
    room.ready();
    const Block& block = room.b();
    REQUIRE(block.chart.size() == 6);
    check_sound(block);
    for (const auto& row : block.chart) {
        REQUIRE(row.size() == 6);
        CHECK(cells(row).size() == 6);
        for (std::size_t r = 1; r < row.size(); ++r) {
            std::size_t from = 0;
            while (block.centers[from].id != row[r - 1])
                ++from;
            CHECK(row[r] == block.centers[(from + 1) % 6].id);
        }
    }
}

TEST_CASE("a chart waits for groups and centers") {
    Classroom room(8);
    room.block = BlockId(room.ok(MakeBlock{room.cls, "B", {}}).made.front());
    CHECK(has(room.refused(MakeChart{room.cls, room.block}), "no groups yet"));
    room.ok(MakeGroups{room.cls, room.block});
    CHECK(has(room.refused(MakeChart{room.cls, room.block}), "no open center"));
}

TEST_CASE("devices are shared out or their lack is named") {
    Classroom room(16);
    room.plan({"mean", "median"});
    room.ok(AddCenter{room.cls, room.block, "device", SkillId("unit-rate")});
    room.ok(AddCenter{room.cls, room.block, "device", SkillId("ratio-write")});
    room.ok(SetDevices{room.cls, room.block, 4});
    room.chart();
    for (std::size_t r = 0; r < room.b().chart.front().size(); ++r) {
        int at_devices = 0;
        for (const auto& row : room.b().chart) {
            const Center* center = find_center(room.b(), row[r]);
            if (center != nullptr && center->kind == "device") ++at_devices;
        }
        CHECK(at_devices <= 1);
    }
    room.ok(SetDevices{room.cls, room.block, 8});
    room.ok(MakeChart{room.cls, room.block});
    check_sound(room.b());
    for (const auto& row : room.b().chart)
        CHECK(cells(row).size() == 4);
    const auto said = room.ok(SetDevices{room.cls, room.block, 2}).said;
    CHECK(has(said, "needs 4 devices at once and there are 2"));
    CHECK(room.b().chart.empty());
    CHECK(has(room.refused(MakeChart{room.cls, room.block}), "Devices: Device practice needs 4"));
}

TEST_CASE("before the lesson the chart follows centers and rounds") {
    Classroom room(24);
    room.ready();
    room.ok(AddCenter{room.cls, room.block, "cards", SkillId("median")});
    CHECK(room.b().chart.front().size() == 7);
    check_sound(room.b());
    room.ok(CloseCenter{room.cls, room.block, room.b().centers[2].id, true});
    CHECK(room.b().chart.front().size() == 6);
    check_sound(room.b());
    room.time(4);
    CHECK(room.b().chart.front().size() == 4);
    for (std::size_t i = 0; i < room.b().centers.size(); ++i) {
        if (!room.b().centers[i].closed) {
            room.ok(CloseCenter{room.cls, room.block, room.b().centers[i].id, true});
        }
    }
    CHECK(room.b().chart.empty());
}

TEST_CASE("a number of groups that changes makes the chart follow") {
    Classroom room(24);
    room.ready();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 3, 1});
    CHECK(room.b().groups.size() == 8);
    CHECK(room.b().chart.size() == 8);
    check_sound(room.b());
}

TEST_CASE("cells change places in a round that is not over") {
    Classroom room(24);
    room.ready();
    const CenterId a = room.b().chart[0][1];
    const CenterId b = room.b().chart[3][1];
    const auto said = room.ok(SwapCells{room.cls, room.block, 2, 0, 3}).said;
    CHECK(room.b().chart[0][1] == b);
    CHECK(room.b().chart[3][1] == a);
    CHECK(has(said, "Group 1 is at"));
    CHECK(has(room.refused(SwapCells{room.cls, room.block, 9, 0, 3}), "no round 9"));
    CHECK(has(room.refused(SwapCells{room.cls, room.block, 1, 0, 6}), "no Group 7"));
}

TEST_CASE("a center that closes in mid-lesson leaves what was done alone and changes little") {
    Classroom room(24);
    room.ready();
    room.ok(StartLesson{room.cls, room.block});
    for (int i = 0; i < 3; ++i)
        room.ok(NextPhase{room.cls, room.block});  // round 1, move, round 2
    const Chart before = room.b().chart;
    const CenterId closed = before[0][3];
    const auto happened = room.ok(CloseCenter{room.cls, room.block, closed, true});
    CHECK(happened.events.size() == 2);
    CHECK(has(happened.said, "The rounds left are planned anew"));
    std::size_t touched = 0;
    for (std::size_t g = 0; g < 6; ++g) {
        CHECK(room.b().chart[g][0] == before[g][0]);
        CHECK(room.b().chart[g][1] == before[g][1]);
        for (std::size_t r = 2; r < 6; ++r) {
            CHECK(room.b().chart[g][r] != closed);
            if (room.b().chart[g][r] != before[g][r]) ++touched;
        }
    }
    CHECK(touched >= 4);  // one cell a round was at the closed center
    CHECK(touched <= 8);
    check_sound(room.b(), 2);
    room.ok(Undo{});
    CHECK(room.b().chart == before);
    CHECK_FALSE(find_center(room.b(), closed)->closed);
}

TEST_CASE("a new center in mid-lesson takes over places that had become empty") {
    Classroom room(24);
    room.ready();
    room.ok(StartLesson{room.cls, room.block});
    room.ok(NextPhase{room.cls, room.block});
    room.ok(CloseCenter{room.cls, room.block, room.b().centers[4].id, true});
    const auto empty = [&] {
        int n = 0;
        for (const auto& row : room.b().chart) {
            for (const CenterId& id : row)
                n += id.empty() ? 1 : 0;
        }
        return n;
    };
    CHECK(empty() == 5);
    room.ok(AddCenter{room.cls, room.block, "game", SkillId("median")});
    CHECK(empty() == 0);
    check_sound(room.b(), 1);
}
