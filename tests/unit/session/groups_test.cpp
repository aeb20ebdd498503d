#include <algorithm>
#include <set>

#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

std::vector<std::size_t> sizes(const Block& block) {
    std::vector<std::size_t> out;
    for (const auto& group : block.groups)
        out.push_back(group.size());
    std::sort(out.begin(), out.end());
    return out;
}

}  // namespace

TEST_CASE("24 students make six groups of four, 27 make seven") {
    // Common practice, no source: at most four at a center, so 24 students need six.
    Classroom room(24);
    room.plan();
    CHECK(room.ok(MakeGroups{room.cls, room.block}).said == "6 groups of up to 4 made.");
    CHECK(sizes(room.b()) == std::vector<std::size_t>(6, 4));
    Classroom larger(27);
    larger.plan();
    CHECK(has(larger.ok(MakeGroups{larger.cls, larger.block}).said,
              "6 centers for 7 groups: some groups will wait"));
    CHECK(sizes(larger.b()) == std::vector<std::size_t>{3, 4, 4, 4, 4, 4, 4});
}

TEST_CASE("groups keep who must be apart and who must be together") {
    Classroom room(12);
    room.plan();
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::apart});
    room.ok(SetPair{room.cls, room.student(2), room.student(3), PairRule::together});
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK(group_of(room.b(), room.student(0)) != group_of(room.b(), room.student(1)));
        CHECK(group_of(room.b(), room.student(2)) == group_of(room.b(), room.student(3)));
    }
}

TEST_CASE("rules that cannot all hold are refused by name") {
    Classroom room(8);
    room.plan();
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::together});
    room.ok(SetPair{room.cls, room.student(1), room.student(2), PairRule::together});
    room.ok(SetPair{room.cls, room.student(0), room.student(2), PairRule::apart});
    const std::string text = room.refused(MakeGroups{room.cls, room.block});
    CHECK(has(text, "Student 1, Student 2 and Student 3"));
    CHECK(has(room.refused(MakeGroups{room.cls, room.block, GroupPolicy::any, 5}), "Group size"));
}

TEST_CASE("absent students are not grouped anew but keep a seat they have") {
    Classroom room(8);
    room.plan();
    room.ok(SetAbsent{room.cls, room.block, room.student(5), true});
    const auto said = room.ok(MakeGroups{room.cls, room.block}).said;
    CHECK(group_of(room.b(), room.student(5)) == -1);
    CHECK(has(said, "Student 6 has no group yet"));
    room.ok(SetAbsent{room.cls, room.block, room.student(1), true});
    CHECK(group_of(room.b(), room.student(1)) >= 0);
}

TEST_CASE("a second block brings new partners together") {
    Classroom room(16);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    const Groups before = room.b().groups;
    room.ok(MakeBlock{room.cls, "Second", {}});
    room.block = room.b().id;
    const auto said = room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any}).said;
    CHECK(has(said, "Nobody meets a partner of an earlier block again"));
    for (const auto& group : room.b().groups) {
        for (const auto& old : before) {
            const auto shared = std::count_if(group.begin(), group.end(), [&](const StudentId& s) {
                return std::find(old.begin(), old.end(), s) != old.end();
            });
            CHECK(shared <= 1);
        }
    }
}

TEST_CASE("similar groups put like estimates together, mixed ones spread them") {
    Classroom room(8);
    room.plan({"mean"});
    for (std::size_t i = 0; i < 8; ++i) {
        for (int n = 0; n < 4; ++n) {
            room.ok(PutMark{room.cls,
                            room.block,
                            room.student(i),
                            SkillId("mean"),
                            {},
                            0,
                            i % 2 == 0 ? Level::secure : Level::stuck});
        }
    }
    const auto secure_in_first = [&] {
        const auto& group = room.b().groups.front();
        int n = 0;
        for (std::size_t i = 0; i < 8; i += 2)
            n += int(std::count(group.begin(), group.end(), room.student(i)));
        return n;
    };
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::similar});
    CHECK((secure_in_first() == 0 || secure_in_first() == 4));
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::mixed});
    CHECK(secure_in_first() == 2);
}

TEST_CASE("students change places, and a seat passes to someone without one") {
    Classroom room(8);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block});
    const StudentId a = room.b().groups[0][0];
    const StudentId b = room.b().groups[1][2];
    room.ok(SwapStudents{room.cls, room.block, a, b});
    CHECK(room.b().groups[0][0] == b);
    CHECK(room.b().groups[1][2] == a);
    const StudentId late(room.ok(AddStudents{room.cls, {{"Late", ""}}}).made.front());
    room.ok(SwapStudents{room.cls, room.block, late, a});
    CHECK(room.b().groups[1][2] == late);
    CHECK(group_of(room.b(), a) == -1);
    CHECK(has(room.refused(SwapStudents{room.cls, room.block, a, a}), "two students"));
}

TEST_CASE("a move never makes a fifth nor seats those who must be apart") {
    Classroom room(7);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block});
    const std::size_t four = room.b().groups[0].size() == 4 ? 0 : 1;
    const StudentId a = room.b().groups[1 - four][0];
    const StudentId b = room.b().groups[four][0];
    CHECK(has(room.refused(MoveStudent{room.cls, room.block, a, int(four)}), "has 4 students"));
    room.ok(SetPair{room.cls, a, b, PairRule::apart});
    CHECK(has(room.refused(MoveStudent{room.cls, room.block, b, int(1 - four)}), "must sit apart"));
    room.ok(MoveStudent{room.cls, room.block, b, 2});
    CHECK(room.b().groups.size() == 3);
    CHECK(group_of(room.b(), b) == 2);
    CHECK(has(room.refused(MoveStudent{room.cls, room.block, a, 4}), "There is no Group 5"));
}

TEST_CASE("parting two who should be together is allowed but said") {
    Classroom room(7);
    room.plan();
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::together});
    room.ok(MakeGroups{room.cls, room.block});
    CHECK(has(room.ok(MoveStudent{room.cls, room.block, room.student(0), 2}).said,
              "should sit together: move the other one"));
}

TEST_CASE("a swap by hand says what it does to repeats and rules") {
    Classroom room(8);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    const Groups first = room.b().groups;
    room.ok(MakeBlock{room.cls, "Second", {}});
    room.block = room.b().id;
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    // Two of each old group in each new one: four repeats. An exchange across makes three and one
    // of each, so three meetings in each group: six.
    StudentId a = room.b().groups[0][0];
    const auto old_group = [&](const StudentId& id) {
        return std::find(first[0].begin(), first[0].end(), id) != first[0].end();
    };
    const auto& other = room.b().groups[1];
    const StudentId b = *std::find_if(other.begin(), other.end(), [&](const StudentId& id) {
        return old_group(id) != old_group(a);
    });
    CHECK(has(room.ok(SwapStudents{room.cls, room.block, a, b}).said, " 2 more repeats."));
    CHECK(has(room.ok(SwapStudents{room.cls, room.block, a, b}).said, " 2 repeats fewer."));
    GroupRules rules;
    rules.seats = {{a, 0}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    const auto name = room.c().student(a)->name;
    CHECK(has(room.ok(SwapStudents{room.cls, room.block, a, b}).said,
              "Not so now: " + name + " always works in Group 1."));
}
