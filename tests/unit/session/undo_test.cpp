#include "classroom.h"
#include "session/demo.h"

using namespace tallyround;
using namespace tallyround::testing;

TEST_CASE("undo walks back decision by decision and redo forward again") {
    Classroom room(4);
    const std::string start = room.hash();
    room.plan({"mean"});
    room.ok(PutMark{room.cls, room.block, room.student(0), SkillId("mean"), {}});
    const std::string marked = room.hash();
    room.ok(PutMark{room.cls, room.block, room.student(1), SkillId("mean"), {}});
    const std::string both = room.hash();
    CHECK(room.session.undo_label() == "mark for Student 2");
    CHECK(room.ok(Undo{}).said == "Taken back: mark for Student 2.");
    CHECK(room.hash() == marked);
    CHECK(room.session.undo_label() == "mark for Student 1");
    CHECK(room.session.redo_label() == "mark for Student 2");
    CHECK(room.ok(Redo{}).said == "Brought back: mark for Student 2.");
    CHECK(room.hash() == both);
    CHECK(room.session.redo_label().empty());
    for (int i = 0; i < 5; ++i)
        room.ok(Undo{});
    CHECK(room.hash() == start);
    for (int i = 0; i < 5; ++i)
        room.ok(Redo{});
    CHECK(room.hash() == both);
}

TEST_CASE("a decision with many events is one step") {
    Classroom room(0);
    room.ok(AddStudents{room.cls, {{"Ana", ""}, {"Bo", ""}, {"Cy", ""}}});
    CHECK(room.session.undo_label() == "3 students");
    room.ok(Undo{});
    CHECK(room.c().students.empty());
    CHECK(room.session.undo_label() == "new class Room 3");
    room.ok(Undo{});
    CHECK(room.session.state().classes.empty());
    CHECK(room.session.undo_label().empty());
    CHECK(has(room.session.send(Undo{}, room.now).error().text(), "nothing to take back"));
}

TEST_CASE("decisions of one and the same millisecond stay apart") {
    Classroom room(4);
    room.plan({"mean"});
    for (std::size_t i = 0; i < 40; ++i) {
        const auto happened = room.session.send(
            PutMark{room.cls, room.block, room.student(i % 4), SkillId("mean"), {}}, room.now);
        REQUIRE(happened.has_value());
    }
    CHECK(room.c().marks.size() == 40);
    const auto events = room.session.log().events();
    Session again(ReplicaId("tablet01"), 99);
    again.load({events.begin(), events.end()});
    REQUIRE(room.session.send(Undo{}, room.now).has_value());
    CHECK(room.c().marks.size() == 39);
    REQUIRE(again.send(Undo{}, room.now).has_value());
    CHECK(again.state().find_class(room.cls)->marks.size() == 39);
}

TEST_CASE("a new decision after an undo ends what could be brought back") {
    Classroom room(4);
    room.plan({"mean"});
    room.ok(SetFlag{room.cls, room.student(0), true});
    room.ok(Undo{});
    room.ok(SetFlag{room.cls, room.student(1), true});
    CHECK(room.session.redo_label().empty());
    CHECK(has(room.session.send(Redo{}, room.now).error().text(), "nothing to bring back"));
}

TEST_CASE("the history survives a reload") {
    Classroom room(4);
    room.plan({"mean"});
    const std::string planned = room.hash();
    room.ok(AddStudents{room.cls, {{"Dee", ""}, {"Eli", ""}}});
    const std::string more = room.hash();
    room.ok(SetFlag{room.cls, room.student(0), true});
    room.ok(Undo{});
    const auto events = room.session.log().events();
    Session again(ReplicaId("tablet01"), 99);
    again.load({events.begin(), events.end()});
    CHECK(again.undo_label() == "2 students");
    CHECK(again.redo_label() == "flag of Student 1");
    REQUIRE(again.send(Undo{}, room.now).has_value());
    CHECK(record::state_hash(again.state()) == planned);
    REQUIRE(again.send(Redo{}, room.now).has_value());
    CHECK(record::state_hash(again.state()) == more);
    REQUIRE(again.send(Redo{}, room.now).has_value());
    CHECK(again.state().find_class(room.cls)->flags.size() == 1);
}

TEST_CASE("a mark is taken back by its place, and that can be undone") {
    Classroom room(4);
    room.plan({"mean"});
    for (std::size_t i = 0; i < 3; ++i)
        room.ok(PutMark{room.cls, room.block, room.student(i), SkillId("mean"), {}});
    const std::string all = room.hash();
    const std::uint64_t second = room.c().marks[1].event;
    CHECK(room.ok(TakeBack{second}).said == "Taken back: mark for Student 2.");
    CHECK(room.c().marks.size() == 2);
    CHECK(room.ok(TakeBack{second}).events.empty());
    CHECK(room.session.undo_label() == "taking back a mark");
    room.ok(Undo{});
    CHECK(room.hash() == all);
    const std::uint64_t newest = room.c().marks[2].event;
    room.ok(TakeBack{newest});  // the newest decision of all: still a step of its own
    CHECK(room.c().marks.size() == 2);
    room.ok(Undo{});
    CHECK(room.hash() == all);
    CHECK(has(room.refused(TakeBack{0}), "not in the record"));
    CHECK(has(room.refused(TakeBack{1'000'000}), "not in the record"));
}

TEST_CASE("undo never reaches what another device did") {
    Classroom room(4);
    room.plan({"mean"});
    Session other(ReplicaId("phone001"), 5);
    const auto events = room.session.log().events();
    other.load({events.begin(), events.end()});
    const auto marked = other.send(
        PutMark{room.cls, room.block, room.student(0), SkillId("mean"), {}}, room.now + 5000);
    REQUIRE(marked.has_value());
    CHECK(other.undo_label() == "mark for Student 1");
    const std::string label = room.session.undo_label();
    CHECK(room.session.merge(marked->events).size() == 1);
    CHECK(room.session.merge(marked->events).empty());
    CHECK(room.c().marks.size() == 1);
    CHECK(room.session.undo_label() == label);
    room.ok(Undo{});
    CHECK(room.c().marks.size() == 1);
}

TEST_CASE("what another device took back is passed over by undo") {
    Classroom room(4);
    room.plan({"mean"});
    room.ok(SetFlag{room.cls, room.student(0), true});
    room.ok(PutMark{room.cls, room.block, room.student(1), SkillId("mean"), {}});
    Session other(ReplicaId("phone001"), 5);
    const auto events = room.session.log().events();
    other.load({events.begin(), events.end()});
    const auto taken = other.send(TakeBack{room.c().marks[0].event}, room.now + 5000);
    REQUIRE(taken.has_value());
    room.session.merge(taken->events);
    CHECK(room.c().marks.empty());
    CHECK(room.session.undo_label() == "flag of Student 1");
    room.ok(Undo{});
    CHECK(room.c().flags.empty());
    CHECK(room.session.redo_label() == "flag of Student 1");
}

TEST_CASE("the demo class opens beside what is there, once a day, and can be undone") {
    Classroom room(4);
    const std::string before = room.hash();
    const auto happened = room.ok(OpenDemo{{2026, 12, 1}});
    REQUIRE(room.session.state().classes.size() == 2);
    const Class* demo = room.session.state().find_class(ClassId(happened.made.front()));
    REQUIRE(demo != nullptr);
    CHECK(happened.events.size() == demo_events({2026, 12, 1}).size());
    CHECK(room.ok(OpenDemo{{2026, 12, 1}}).events.empty());
    CHECK(room.session.undo_label() == "new class " + demo->name);
    room.ok(Undo{});
    CHECK(room.session.state().classes.size() == 1);
    const auto again = room.ok(OpenDemo{{2026, 12, 1}});
    CHECK(room.session.state().classes.size() == 2);
    CHECK(again.made == happened.made);
    room.ok(ArchiveClass{ClassId(again.made.front()), true});
    room.ok(OpenDemo{{2026, 12, 1}});
    CHECK_FALSE(room.session.state().find_class(ClassId(again.made.front()))->archived);
    CHECK(room.hash() != before);
}

TEST_CASE("a long record is undone after a reload as it is before") {
    Classroom room(4);
    room.plan({"mean"});
    const auto mark = [&](std::size_t i) {
        return room.session.send(
            PutMark{room.cls, room.block, room.student(i % 4), SkillId("mean"), {}}, room.now);
    };
    for (std::size_t i = 0; i < 2600; ++i)
        REQUIRE(mark(i).has_value());
    for (int i = 0; i < 300; ++i)
        room.ok(Undo{});
    for (int i = 0; i < 20; ++i)
        room.ok(Redo{});
    const auto events = room.session.log().events();
    Session again(ReplicaId("tablet01"), 99);
    again.load({events.begin(), events.end()});
    for (int i = 0; i < 230; ++i) {
        CHECK(again.undo_label() == room.session.undo_label());
        CHECK(again.redo_label() == room.session.redo_label());
        const bool undone = room.session.send(Undo{}, room.now).has_value();
        CHECK(again.send(Undo{}, room.now).has_value() == undone);
        CHECK(again.state() == room.session.state());
    }
}
