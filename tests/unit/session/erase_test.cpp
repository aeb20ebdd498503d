#include "session/erase.h"

#include "classroom.h"
#include "record/codec.h"

using namespace tallyround::testing;

namespace {

bool holds(const Classroom& room, const std::string& words) {
    for (const auto& e : room.session.log().events()) {
        if (tallyround::record::to_line(e).find(words) != std::string::npos) return true;
    }
    return false;
}

/// Groups, a chart, marks and notes.
Classroom used() {
    Classroom room;
    room.ok(RenameStudent{room.cls, room.student(3), "Bo Tarn"});
    room.plan();
    room.time();
    room.chart();
    room.ok(PutMark{
        room.cls, room.block, room.student(3), SkillId("mean"), {}, 0, Level::stuck, Help::none});
    room.ok(WriteNote{room.cls, room.block, room.student(3), {}, "Counts on fingers"});
    room.ok(WriteNote{room.cls, room.block, room.student(4), {}, "Works well with Bo Tarn"});
    room.ok(WriteNote{room.cls, room.block, room.student(5), {}, "Bobbin lace, Bo Tarnish"});
    return room;
}

}  // namespace

TEST_CASE("what goes is told before it goes, and where the name stands in other words") {
    const Classroom room = used();
    const auto one = erase_preview(room.c(), room.student(3));
    CHECK(one.marks == 1);
    CHECK(one.notes == 1);
    CHECK(one.named_in == std::vector<std::string>{"a note on Student 5"});
    const auto all = erase_preview(room.c(), {});
    CHECK(all.students == 24);
    CHECK(all.blocks == 1);
    CHECK(all.notes == 3);
}

TEST_CASE("a student goes for good: groups and chart stay usable, Undo does not bring them back") {
    Classroom room = used();
    const StudentId id = room.student(3);
    const Chart chart = room.b().chart;
    const auto happened = room.ok(Erase{room.cls, id});
    CHECK(happened.said == "Bo Tarn is deleted for good.");
    CHECK(room.c().student(id) == nullptr);
    CHECK(group_of(room.b(), id) == -1);
    CHECK(room.b().chart == chart);
    CHECK_FALSE(holds(room, "Counts on fingers"));
    CHECK(room.session.undo_label().find("deleting") == std::string::npos);
    const std::size_t students = room.c().students.size();
    for (int i = 0; i < 40 && !room.session.undo_label().empty(); ++i)
        room.ok(Undo{});
    CHECK(room.session.undo_label().empty());
    CHECK(students == 23);
    CHECK_FALSE(holds(room, id.str() + "\",\"name"));
}

TEST_CASE("a class goes for good; not while its lesson runs") {
    Classroom room = used();
    room.ok(StartLesson{room.cls, room.block});
    CHECK(room.refused(Erase{room.cls, {}}).find("A lesson is running") != std::string::npos);
    room.ok(EndLesson{room.cls, room.block});
    room.ok(Erase{room.cls, {}});
    CHECK(room.session.state().classes.empty());
    CHECK(room.session.log().events().size() == 1);
    CHECK(room.refused(Erase{room.cls, {}}).find("not here any more") != std::string::npos);
}

TEST_CASE("an older file merged by a session brings nobody back and nothing to write") {
    Classroom room = used();
    const std::vector<tallyround::record::Event> file(room.session.log().events().begin(),
                                                      room.session.log().events().end());
    room.ok(Erase{room.cls, room.student(3)});
    const std::string hash = room.hash();
    CHECK(room.session.merge(file, true).empty());
    CHECK(room.hash() == hash);
    Session other(ReplicaId("phone002"), 3);
    other.load(file);
    const auto fresh =
        other.merge({room.session.log().events().begin(), room.session.log().events().end()}, true);
    CHECK(fresh.size() == 1);
    CHECK(tallyround::record::state_hash(other.state()) == hash);
    CHECK(other.conflicts().empty());
}
