#include "session/prep.h"

#include <doctest/doctest.h>

#include "classroom.h"

using namespace tallyround::testing;

TEST_CASE("stock, prep list and own cards are kept and can be undone") {
    Classroom room;
    room.ok(SetStock{room.cls, "whiteboards", 12});
    room.ok(SetStock{room.cls, "dice", 3});
    REQUIRE(room.c().stock.size() == 2);
    CHECK(room.c().stock[0].item == "dice");
    room.ok(SetStock{room.cls, "dice", -1});
    CHECK(room.c().stock.size() == 1);
    room.refused(SetStock{room.cls, "", 1});
    room.refused(SetStock{room.cls, "dice", 1'000'000});

    room.plan();
    room.ok(SetReady{room.cls, room.block, "p1/dice", true});
    CHECK(room.b().ready.size() == 1);
    room.ok(Undo{});
    CHECK(room.b().ready.empty());

    room.ok(AddOwnSkill{room.cls, "Read a bus timetable", 6});
    const auto skill = room.c().own_skills.back().id;
    room.ok(SetOwnCards{room.cls, skill, {{"When does the bus leave?", "8:05"}, {" ", "x"}}});
    CHECK(room.c().own_skills.back().cards.size() == 1);
    room.refused(SetOwnCards{room.cls, SkillId("mean"), {}});
    room.refused(SetOwnCards{room.cls, skill, std::vector<OwnCard>(500, {"a", "b"})});
}

TEST_CASE("skills of a framework keep their codes and order, and come once") {
    Classroom room;
    const std::vector<OwnSkill> skills{{SkillId("f1"), "Add", 5, "F.1", {}, {}},
                                       {SkillId("f2"), "Multiply", 6, "F.2", {SkillId("f1")}, {}}};
    room.ok(BringSkills{room.cls, skills});
    const auto& own = room.c().own_skills;
    REQUIRE(own.size() == 2);
    CHECK(own[1].code == "F.2");
    REQUIRE(own[1].before.size() == 1);
    CHECK(own[1].before.front() == own[0].id);
    room.ok(BringSkills{room.cls, skills});
    CHECK(room.c().own_skills.size() == 2);
}

TEST_CASE("a mark can name the wrong answer that was seen") {
    Classroom room;
    room.plan();
    PutMark mark{room.cls, room.block, room.student(0), SkillId("mean"), {}};
    mark.level = Level::stuck;
    mark.slip = "median-for-mean";
    room.ok(mark);
    REQUIRE(room.c().slips.size() == 1);
    CHECK(room.c().slips.front().slip == "median-for-mean");
    room.ok(Undo{});
    CHECK(room.c().slips.empty());
    mark.slip = std::string(65, 'x');
    room.refused(mark);
}

TEST_CASE("the prep box says what the block holds") {
    Classroom room;
    room.ready();
    const auto box = prep_box(room.c(), room.b());
    CHECK(box.centers.size() == 6);
    CHECK(box.centers[2].number == 3);
    CHECK(box.groups.size() == 6);
    CHECK(box.students() == 24);
    CHECK(box.has_chart);
    CHECK(box.rounds.front().day == "Mon 30 Nov");
    for (const auto& center : box.centers)
        CHECK(center.visits == 6);
    room.ok(CloseCenter{room.cls, room.block, room.b().centers[0].id, true});
    CHECK(prep_box(room.c(), room.b()).centers.front().number == 1);
    CHECK(center_number(room.b(), room.b().centers[0].id) == 0);
    room.ok(SetAbsent{room.cls, room.block, room.student(0), true});
    CHECK(prep_box(room.c(), room.b()).missed.size() == 1);
}
