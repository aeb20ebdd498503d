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

TEST_CASE("a card of one's own takes a picture, keeps it when edited and lets it go") {
    Classroom room;
    const std::string png("\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\2\x80\0\0\1\xe0\x8\6\0\0\0", 29);
    room.ok(AddOwnSkill{room.cls, "Read a bus timetable", 6});
    const auto skill = room.c().own_skills.back().id;
    const auto cards = [&] { return room.c().own_skills.back().cards; };
    room.ok(SetOwnCards{room.cls, skill, {{"When?", "8:05"}, {"Where?", "At the bridge"}}});
    room.ok(SetCardPicture{room.cls, skill, 1, png});
    REQUIRE(room.c().pictures.size() == 1);
    CHECK(room.c().pictures[0].width == 640);
    CHECK(room.c().pictures[0].data.starts_with("iVBORw0KGgo"));
    CHECK(cards()[1].picture == room.c().pictures[0].id);
    CHECK(cards()[0].picture.empty());

    auto told = cards();
    told[1].shows = " A  timetable\x01 ";
    told[0].picture = PictureId("nowhere");
    told[0].shows = "nothing";
    room.ok(SetOwnCards{room.cls, skill, told});
    CHECK(cards()[1].shows == "A timetable");
    CHECK(cards()[0].picture.empty());
    CHECK(cards()[0].shows.empty());

    CHECK(room.refused(SetCardPicture{room.cls, skill, 0, "<svg onload='x'/>"}).find("PNG") !=
          std::string::npos);
    room.refused(SetCardPicture{room.cls, skill, 2, png});
    room.refused(SetCardPicture{room.cls, SkillId("mean"), 0, png});
    room.ok(Undo{});
    room.ok(Undo{});
    CHECK(room.c().pictures.empty());
    for (int i = 0; i < 60; ++i)
        room.ok(SetCardPicture{room.cls, skill, 0, png});
    CHECK(room.refused(SetCardPicture{room.cls, skill, 0, png}).find("60") != std::string::npos);
}

TEST_CASE("the levels of a center's cards are kept in the plan and print so") {
    Classroom room;
    room.ready();
    const CenterId center = room.b().centers[1].id;
    room.ok(SetCenterTiers{room.cls, room.block, center, {3, 1, 3}});
    CHECK(room.b().centers[1].tiers == std::vector<int>{1, 3});
    CHECK(prep_box(room.c(), room.b()).centers[1].tiers == std::vector<int>{1, 3});
    CHECK(prep_box(room.c(), room.b()).centers[0].tiers.empty());
    room.refused(SetCenterTiers{room.cls, room.block, center, {0}});
    room.refused(SetCenterTiers{room.cls, room.block, center, {4}});
    room.refused(SetCenterTiers{room.cls, room.block, CenterId("gone"), {1}});
    // Changing the center otherwise leaves them alone; a copy of the block has them, too.
    Center wider = room.b().centers[1];
    wider.title = "By the window";
    room.ok(EditCenter{room.cls, room.block, wider});
    CHECK(room.b().centers[1].tiers == std::vector<int>{1, 3});
    room.ok(MakeBlock{room.cls, "Again", room.block});
    CHECK(room.b().centers[1].tiers == std::vector<int>{1, 3});
    room.ok(MakeBlockFrom{room.cls, "", {}, {{SkillId("mean"), "cards", {2}}}});
    CHECK(room.b().centers[0].tiers == std::vector<int>{2});
    room.refused(MakeBlockFrom{room.cls, "", {}, {{SkillId("mean"), "cards", {9}}}});
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
