#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

TEST_CASE("a class is made with a tidied name and an id of its own") {
    Classroom room(0);
    const auto made = room.ok(MakeClass{"  Room \x07 12 \n", 5}).made;
    const Class* cls = room.session.state().find_class(ClassId(made.front()));
    REQUIRE(cls != nullptr);
    CHECK(cls->name == "Room 12");
    CHECK(cls->grade == 5);
    CHECK(made.front().size() == 10);
    CHECK(made.front() != room.cls.str());
}

TEST_CASE("a class is refused without a name, with a long one or with an odd grade") {
    Classroom room(0);
    CHECK(has(room.refused(MakeClass{" \t ", 6}), "Class name: It is empty"));
    std::string long_name;
    for (int i = 0; i < 300; ++i)
        long_name += "é";
    CHECK(has(room.refused(MakeClass{long_name, 6}), "has 300 letters. Use at most 120"));
    CHECK(has(room.refused(MakeClass{"Room", 0}), "Grade: 0 is not possible. Choose 1 to 12"));
    room.ok(MakeClass{long_name.substr(0, 240), 6});  // 120 letters of two bytes
}

TEST_CASE("an archived class takes no changes until it comes back") {
    Classroom room(3);
    room.ok(ArchiveClass{room.cls, true});
    CHECK(has(room.refused(RenameClass{room.cls, "Other", 6}), "Room 3 is archived"));
    CHECK(has(room.refused(AddStudents{room.cls, {{"Ana", ""}}}), "archived"));
    room.ok(ArchiveClass{room.cls, false});
    room.ok(RenameClass{room.cls, "Other", 7});
    CHECK(room.c().name == "Other");
    CHECK(room.ok(RenameClass{room.cls, "Other", 7}).events.empty());
}

TEST_CASE("an unknown class or student is an error, not a crash") {
    Classroom room(2);
    CHECK(has(room.refused(RenameClass{ClassId("nowhere"), "X", 6}), "not here any more"));
    CHECK(has(room.refused(RenameStudent{room.cls, StudentId("nobody"), "X"}), "not in Room 3"));
    CHECK(has(room.refused(MakeGroups{room.cls, BlockId("none")}), "block is not here"));
}

TEST_CASE("students come in with two of one name kept apart") {
    Classroom room(0);
    const auto happened =
        room.ok(AddStudents{room.cls, {{"Ana", "17"}, {"Ana", ""}, {"李小明", ""}}});
    CHECK(happened.said == "3 students added.");
    REQUIRE(room.c().students.size() == 3);
    CHECK(room.student(0) != room.student(1));
    CHECK(room.c().students[0].source_id == "17");
    CHECK(room.c().students[2].name == "李小明");
    CHECK(happened.made[1] == room.student(1).str());
}

TEST_CASE("a paste that is no class list is refused as a whole, with the count or the line") {
    Classroom room(3);
    AddStudents many{room.cls, {}};
    for (int i = 0; i < 400; ++i)
        many.students.push_back({"N" + std::to_string(i), ""});
    CHECK(has(room.refused(many), "400 names are too many: a class holds at most 120"));
    many.students.resize(117);
    many.students[41].name = "  ";
    CHECK(has(room.refused(many), "Name 42: It is empty"));
    CHECK(has(room.refused(AddStudents{room.cls, {}}), "There is no name"));
    many.students[41].name = "N41";
    room.ok(many);
    CHECK(room.c().students.size() == 120);
    CHECK(has(room.refused(AddStudents{room.cls, {{"One more", ""}}}), "has 120 already"));
}

TEST_CASE("a newcomer after grouping is said to have no group") {
    Classroom room(8);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block});
    CHECK(room.ok(AddStudents{room.cls, {{"Ana", ""}}}).said == "Ana added. Ana has no group yet.");
    CHECK(group_of(room.b(), room.student(8)) == -1);
}

TEST_CASE("a student who leaves gives up the seat and keeps the marks") {
    Classroom room(8);
    room.ready();
    const StudentId id = room.student(2);
    room.ok(PutMark{room.cls, room.block, id, SkillId("mean"), {}, 0});
    const int group = group_of(room.b(), id);
    REQUIRE(group >= 0);
    room.ok(SetStudentLeft{room.cls, id, true});
    CHECK(group_of(room.b(), id) == -1);
    CHECK(room.c().marks.size() == 1);
    CHECK(has(room.refused(MoveStudent{room.cls, room.block, id, 0}), "has left"));
    CHECK(has(room.ok(SetStudentLeft{room.cls, id, false}).said, "Student 3 has no group yet"));
}

TEST_CASE("a pair has two different students and its rule can be taken away") {
    Classroom room(4);
    CHECK(has(room.refused(SetPair{room.cls, room.student(0), room.student(0)}),
              "Student 1 cannot be paired with Student 1"));
    room.ok(SetPair{room.cls, room.student(1), room.student(0), PairRule::apart});
    CHECK(room.c().rule_between(room.student(0), room.student(1)) == PairRule::apart);
    room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::none});
    CHECK(room.c().pairs.empty());
}

TEST_CASE("a pair set apart while in one group is told so") {
    Classroom room(4);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block});
    REQUIRE(room.b().groups.size() == 1);
    const auto said =
        room.ok(SetPair{room.cls, room.student(0), room.student(1), PairRule::apart}).said;
    CHECK(has(said, "They are in one group now"));
}

TEST_CASE("an own skill can be planned like one of the bank") {
    Classroom room(4);
    room.plan({"mean"});
    const SkillId own(room.ok(AddOwnSkill{room.cls, "Mental percent", 6}).made.front());
    CHECK(skill_title(room.c(), own) == "Mental percent");
    CHECK(skill_grade(room.c(), own) == 6);
    room.ok(ChooseSkill{room.cls, room.block, own, true});
    room.ok(AddCenter{room.cls, room.block, "cards", own});
    CHECK(room.b().centers.back().skill == own);
    CHECK(has(room.refused(ChooseSkill{room.cls, room.block, SkillId("flying"), true}),
              "There is no skill \"flying\""));
}
