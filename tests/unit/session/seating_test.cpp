#include "session/seating.h"

#include <algorithm>
#include <set>

#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

/// Twelve students in groups of up to four, with a block of six rounds.
Classroom grouped(int students = 12) {
    Classroom room(students);
    room.plan();
    room.time(3);
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    return room;
}

GroupRules rules_of(const Classroom& room) {
    return room.b().group_rules;
}

int home(const Classroom& room, std::size_t student) {
    return group_of(room.b(), room.student(student));
}

std::set<int> homes(const Classroom& room, const std::vector<std::size_t>& students) {
    std::set<int> out;
    for (const std::size_t s : students)
        out.insert(home(room, s));
    return out;
}

}  // namespace

TEST_CASE("a student with a seat works in that group whatever the seed") {
    Classroom room = grouped();
    GroupRules rules;
    rules.seats = {{room.student(3), 2}, {room.student(4), 0}};
    CHECK(room.ok(SetGroupRules{room.cls, room.block, rules}).said ==
          "Student 4 always works in Group 3.");
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK(home(room, 3) == 2);
        CHECK(home(room, 4) == 0);
    }
}

TEST_CASE("a locked group stays exactly as it is, whoever is away, and the rest is even") {
    Classroom room = grouped(24);
    room.ok(MoveStudent{room.cls, room.block, room.b().groups[1][3], 6});
    const auto kept = room.b().groups[1];
    REQUIRE(kept.size() == 3);
    GroupRules rules;
    rules.locked = {1};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    room.ok(SetAbsent{room.cls, room.block, kept[0], true});
    const Groups before = room.b().groups;
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK(room.b().groups[1] == kept);
        // 21 others: six groups of three or four.
        REQUIRE(room.b().groups.size() == 7);
        for (std::size_t g = 0; g < 7; ++g)
            if (g != 1) CHECK(room.b().groups[g].size() >= 3);
    }
    CHECK(room.b().groups != before);
}

TEST_CASE("company: one of the partners who are here, and none needed when all are away") {
    Classroom room = grouped(16);
    room.ok(SetCompany{room.cls, room.student(0), {room.student(5), room.student(9)}});
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK((home(room, 0) == home(room, 5) || home(room, 0) == home(room, 9)));
    }
    room.ok(SetAbsent{room.cls, room.block, room.student(5), true});
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK(home(room, 0) == home(room, 9));
    }
    room.ok(SetAbsent{room.cls, room.block, room.student(9), true});
    CHECK(has(room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any}).said,
              "Nobody whom Student 1 is to sit with is here today."));
}

TEST_CASE("a helper's students share as many groups as there are rounds with the helper") {
    Classroom room = grouped(24);
    const std::vector<std::size_t> with{0, 4, 8, 12, 16};
    GroupRules rules;
    rules.helpers = {{"Aide", {}, {1, 3}}};
    for (const std::size_t s : with)
        rules.helpers[0].students.push_back(room.student(s));
    room.ok(SetGroupRules{room.cls, room.block, rules});
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK(homes(room, with).size() <= 2);
    }
    // There in one round alone, for five students: that is more than one group holds.
    rules.helpers[0].rounds = {2};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    const std::string text = room.refused(MakeGroups{room.cls, room.block});
    CHECK(has(text, "Aide goes along with"));
    CHECK(has(text, "so they share one group"));
    CHECK(has(text, "at most 4 in a group"));
    CHECK(has(text, "Taking any one of them away resolves it."));
}

TEST_CASE("students who need time for one skill sit together when nothing else speaks") {
    Classroom room(8);
    room.plan({"mean", "percent-of"});
    for (std::size_t i = 0; i < 8; ++i) {
        for (int n = 0; n < 4; ++n) {
            room.ok(PutMark{room.cls,
                            room.block,
                            room.student(i),
                            SkillId(i % 2 == 0 ? "mean" : "percent-of"),
                            {},
                            0,
                            Level::stuck});
        }
    }
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, seed});
        CHECK(homes(room, {0, 2, 4, 6}).size() == 1);
    }
}

TEST_CASE("the teacher says how many groups; too few are refused with the count") {
    Classroom room(24);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, 1, 8});
    CHECK(room.b().groups.size() == 8);
    for (const auto& group : room.b().groups)
        CHECK(group.size() == 3);
    CHECK(has(room.refused(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, 1, 5}),
              "5 groups of at most 4 hold 20 students, and 24 are here."));
    CHECK(has(room.refused(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, 1, 13}),
              "Number of groups"));
    GroupRules rules;
    rules.seats = {{room.student(0), 7}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    CHECK(has(room.refused(MakeGroups{room.cls, room.block, GroupPolicy::any, 4, 1, 7}),
              "Student 1 always works in Group 8, but there would be 7 groups."));
    // Left to itself the number grows with the rule.
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    CHECK(room.b().groups.size() == 8);
    CHECK(home(room, 0) == 7);
}

TEST_CASE("repeats: the best possible is said when it is proved") {
    // Eight students in two groups of four, again: each new group has two of an old one or more,
    // so at least four pairs meet again.
    Classroom room(8);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    room.ok(MakeBlock{room.cls, "Second", {}});
    room.block = room.b().id;
    CHECK(has(room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any}).said,
              "4 pairs met in an earlier block; that is the best possible."));
}

TEST_CASE("every rule is in words and its removal takes exactly that one away") {
    Classroom room = grouped();
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::apart});
    room.ok(SetPair{room.cls, room.student(2), room.student(3), PairRule::together});
    room.ok(SetCompany{room.cls, room.student(4), {room.student(5), room.student(6)}});
    GroupRules rules;
    rules.seats = {{room.student(7), 1}};
    rules.locked = {2};
    rules.helpers = {{"Aide", {room.student(8), room.student(9)}, {1}}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    const std::vector<std::string> words{
        "Student 1 and Student 2 sit apart",
        "Student 3 and Student 4 sit together",
        "Student 5 sits with Student 6 or Student 7",
        "Student 8 always works in Group 2",
        "Group 3 stays as it is",
        "Aide goes along with Student 9 and Student 10 in round 1, so they share one group"};
    const auto texts = [&] {
        std::vector<std::string> out;
        for (const Obstacle& rule : group_rules(room.c(), room.b()))
            out.push_back(rule.text);
        return out;
    };
    CHECK(texts() == words);
    for (std::size_t i = 0; i < words.size(); ++i) {
        room.ok(*group_rules(room.c(), room.b())[i].remove);
        auto left = words;
        left.erase(left.begin() + std::ptrdiff_t(i));
        CHECK(texts() == left);
        room.ok(Undo{});
    }
}

TEST_CASE("taking any one rule of a conflict away resolves it") {
    Classroom room = grouped();
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::together});
    room.ok(SetPair{room.cls, room.student(5), room.student(6), PairRule::apart});
    GroupRules rules;
    rules.seats = {{room.student(0), 1}, {room.student(1), 2}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    const MakeGroups wish{room.cls, room.block, GroupPolicy::any};
    CHECK(has(room.refused(wish), "The rules for Student 1 and Student 2 cannot all hold"));
    auto job = room.session.begin(wish, room.now);
    REQUIRE(job.has_value());
    while (!job->step(1000)) {
    }
    REQUIRE_FALSE(room.session.conclude(*job, room.now).has_value());
    const auto in_the_way = job->obstacles();
    REQUIRE(in_the_way.size() == 3);
    for (const Obstacle& rule : in_the_way) {
        room.ok(*rule.remove);
        room.ok(wish);
        room.ok(Undo{});
        room.ok(Undo{});
    }
    CHECK(rules_of(room).seats.size() == 2);
}

TEST_CASE("mending moves nobody without need, seats who came and keeps all rules") {
    Classroom room = grouped(23);
    const Groups before = room.b().groups;
    room.ok(SetAbsent{room.cls, room.block, before[0][0], true});
    CHECK(room.ok(MendGroups{room.cls, room.block}).events.empty());
    const StudentId late(room.ok(AddStudents{room.cls, {{"Late", ""}}}).made.front());
    const auto happened = room.ok(MendGroups{room.cls, room.block});
    CHECK(has(happened.said, "Nobody has to move."));
    CHECK(group_of(room.b(), late) >= 0);
    for (std::size_t g = 0; g < before.size(); ++g)
        for (const StudentId& id : before[g])
            CHECK(group_of(room.b(), id) == int(g));
}

TEST_CASE("mending moves as few as the rules let and says so") {
    // Group 1 is full and Student 1 must sit there: one of the four has to make room.
    Classroom room(8);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    const std::size_t other = home(room, 0) == 0 ? 1 : 0;
    GroupRules rules;
    rules.seats = {{room.student(0), int(other)}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    const auto said = room.ok(MendGroups{room.cls, room.block}).said;
    CHECK(has(said, "2 students move; fewer are not possible."));
    CHECK(home(room, 0) == int(other));
}

TEST_CASE(
    "a term: this block and the next ones bring new partners, and the first groups are used") {
    // Sixteen students in fours can meet everybody once in five blocks (the affine plane of order
    // four); one is taught, so four more can be without a repeat.
    Classroom room(16);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    const Groups first = room.b().groups;
    room.ok(MakeBlock{room.cls, "Second", {}});
    room.block = room.b().id;
    const auto said = room.ok(PlanTerm{room.cls, room.block, 4}).said;
    CHECK(said == "4 blocks planned after 1 taught: no two students meet twice.");
    REQUIRE(room.b().groups.size() == 4);
    for (const auto& group : room.b().groups) {
        CHECK(group.size() == 4);
        for (const auto& old : first)
            CHECK(std::count_if(group.begin(), group.end(), [&](const StudentId& s) {
                      return std::find(old.begin(), old.end(), s) != old.end();
                  }) <= 1);
    }
    // A sixth block: 6 x 24 meetings and 120 pairs.
    CHECK(has(room.ok(PlanTerm{room.cls, room.block, 5}).said,
              "5 blocks planned after 1 taught: 24 repeats in all; fewer are not possible."));
    CHECK(has(room.refused(PlanTerm{room.cls, room.block, 0}), "Blocks"));
}

TEST_CASE("a term keeps who sits apart and together, seats by number, and no locked group") {
    Classroom room = grouped(15);
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::apart});
    room.ok(SetPair{room.cls, room.student(2), room.student(3), PairRule::together});
    GroupRules rules;
    rules.seats = {{room.student(5), 3}};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        room.ok(PlanTerm{room.cls, room.block, 6, 4, seed});
        CHECK(home(room, 0) != home(room, 1));
        CHECK(home(room, 2) == home(room, 3));
        CHECK(home(room, 5) == 3);
    }
    rules.locked = {1};
    room.ok(SetGroupRules{room.cls, room.block, rules});
    CHECK(has(room.refused(PlanTerm{room.cls, room.block, 6}), "Group 2 is locked"));
}
