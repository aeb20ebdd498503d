#include "session/conflicts.h"

#include "classroom.h"

using namespace tallyround::testing;
using tallyround::record::Event;

namespace {

std::vector<Event> events_of(const Session& session) {
    return {session.log().events().begin(), session.log().events().end()};
}

/// A tablet's class, and a phone that has the same and goes its own way from here.
struct Two {
    Classroom tablet;
    Session phone{ReplicaId("phone002"), 3};
    std::int64_t phone_now = 0;

    Two() {
        tablet.plan();
        tablet.time();
        tablet.chart();
        phone.load(events_of(tablet.session));
        phone_now = tablet.now;
    }
    void on_phone(const Command& command, std::int64_t later = 60'000) {
        phone_now += later;
        REQUIRE(phone.send(command, phone_now).has_value());
    }
    const std::vector<Conflict>& merged() {
        tablet.session.merge(events_of(phone), true);
        return tablet.session.conflicts();
    }
    const Student& first() const { return tablet.c().students[0]; }
};

}  // namespace

TEST_CASE("one field changed on two devices: the later holds, the other can be taken") {
    Two p;
    const StudentId id = p.first().id;
    p.tablet.ok(RenameStudent{p.tablet.cls, id, "Wren"});
    p.on_phone(RenameStudent{p.tablet.cls, id, "Rowan"});
    const auto& found = p.merged();
    REQUIRE(found.size() == 1);
    CHECK(found[0].what == "Name of Rowan");
    CHECK(found[0].won == "\"Rowan\"");
    CHECK(found[0].lost == "\"Wren\"");
    CHECK_FALSE(found[0].ours_won);
    p.tablet.now = p.phone_now + 1000;
    p.tablet.ok(TakeOther{found[0].take, "Wren it is."});
    CHECK(p.first().name == "Wren");
    p.tablet.ok(Undo{});
    CHECK(p.first().name == "Rowan");
}

TEST_CASE("the same change on both, different fields, marks and notes are no conflict") {
    Two p;
    const auto& cls = p.tablet.cls;
    const StudentId id = p.first().id;
    p.tablet.ok(RenameStudent{cls, id, "Wren"});
    p.on_phone(RenameStudent{cls, id, "Wren"});
    p.on_phone(RenameStudent{cls, p.tablet.student(1), "Rowan"});
    p.tablet.ok(PutMark{cls, p.tablet.block, id, SkillId("mean"), {}, 0, Level::stuck, Help::none});
    p.on_phone(PutMark{cls, p.tablet.block, id, SkillId("mean"), {}, 0, Level::secure, Help::none});
    p.tablet.ok(WriteNote{cls, p.tablet.block, id, {}, "here"});
    p.on_phone(WriteNote{cls, p.tablet.block, id, {}, "there"});
    CHECK(p.merged().empty());
    CHECK(p.tablet.c().marks.size() == 2);
    CHECK(p.tablet.c().notes.size() == 2);
}

TEST_CASE("a center: only the field that both changed, and what an older whole overwrote") {
    Two p;
    Center center = p.tablet.b().centers[0];
    Center on_phone = center;
    center.title = "Window table";
    center.materials = "Whiteboards";
    on_phone.title = "Carpet";
    p.tablet.ok(EditCenter{p.tablet.cls, p.tablet.block, center});
    p.on_phone(EditCenter{p.tablet.cls, p.tablet.block, on_phone});
    const auto found = p.merged();
    REQUIRE(found.size() == 2);
    CHECK(found[0].what.starts_with("Materials of"));
    CHECK(found[0].lost == "\"Whiteboards\"");
    CHECK(found[1].what.starts_with("Title of"));
    CHECK(found[1].won == "\"Carpet\"");
    p.tablet.now = p.phone_now + 1000;
    p.tablet.ok(TakeOther{found[0].take, ""});
    CHECK(p.tablet.b().centers[0].title == "Carpet");
    CHECK(p.tablet.b().centers[0].materials == "Whiteboards");
}

TEST_CASE("groups: the student whose move was overwritten is named, and can be moved again") {
    Two p;
    const auto& cls = p.tablet.cls;
    const auto& block = p.tablet.block;
    const Groups before = p.tablet.b().groups;
    p.tablet.ok(SwapStudents{cls, block, before[0][0], before[1][0]});
    p.on_phone(SwapStudents{cls, block, before[2][0], before[3][0]});
    const auto found = p.merged();
    REQUIRE(found.size() == 2);
    for (const Conflict& c : found) {
        CHECK(c.what.starts_with("Group of "));
        p.tablet.now = p.phone_now += 1000;
        p.tablet.ok(TakeOther{c.take, ""});
    }
    CHECK(group_of(p.tablet.b(), before[0][0]) == 1);
    CHECK(group_of(p.tablet.b(), before[1][0]) == 0);
    CHECK(group_of(p.tablet.b(), before[2][0]) == 3);
}

TEST_CASE("a cell of the chart; a chart made anew is one conflict") {
    Two p;
    const auto& cls = p.tablet.cls;
    const auto& block = p.tablet.block;
    p.tablet.ok(SwapCells{cls, block, 1, 0, 1});
    p.on_phone(SwapCells{cls, block, 2, 2, 3});
    auto found = p.merged();
    CHECK(found.size() == 2);
    CHECK(found.at(0).what.find("round 1") != std::string::npos);
    Two q;
    q.tablet.ok(MakeChart{cls, q.tablet.block, 5});
    q.on_phone(MakeGroups{cls, q.tablet.block, GroupPolicy::mixed, 4, 99});
    q.tablet.ok(MakeGroups{cls, q.tablet.block, GroupPolicy::mixed, 4, 55});
    found = q.merged();
    const auto groups = std::count_if(found.begin(), found.end(), [](const Conflict& c) {
        return c.what.starts_with("All groups");
    });
    CHECK(groups == 1);
    CHECK(found.size() <= 1 + most_cells);
}

TEST_CASE("both sides find the same conflicts, and the same one holds") {
    Two p;
    const StudentId id = p.first().id;
    p.tablet.ok(RenameStudent{p.tablet.cls, id, "Wren"});
    p.on_phone(RenameStudent{p.tablet.cls, id, "Rowan"});
    const auto tablet_before = events_of(p.tablet.session);
    p.merged();
    p.phone.merge(tablet_before, true);
    REQUIRE(p.phone.conflicts().size() == 1);
    CHECK(p.phone.conflicts()[0].ours_won);
    CHECK(p.phone.conflicts()[0].won == p.tablet.session.conflicts()[0].won);
    // Merged again: nothing new, so the list stays as it was.
    p.tablet.session.merge(events_of(p.phone), true);
    CHECK(p.tablet.session.conflicts().size() == 1);
}

TEST_CASE("after a reload conflicts are found again, but for those that somebody has settled") {
    Two p;
    const StudentId id = p.first().id;
    const StudentId second = p.tablet.c().students[1].id;
    p.tablet.ok(RenameStudent{p.tablet.cls, id, "Wren"});
    p.tablet.ok(RenameStudent{p.tablet.cls, second, "Lark"});
    p.on_phone(RenameStudent{p.tablet.cls, id, "Rowan"});
    p.on_phone(RenameStudent{p.tablet.cls, second, "Finch"});
    REQUIRE(p.merged().size() == 2);
    const std::string ours = p.tablet.session.sides().ours.text();
    const std::string theirs = p.tablet.session.sides().theirs.text();
    const auto after_a_reload = [&] {
        Session again(p.tablet.session.log().replica(), 5);
        again.load(events_of(p.tablet.session));
        again.recall({EventNames::read(ours), EventNames::read(theirs)});
        return again.conflicts();
    };
    REQUIRE(after_a_reload().size() == 2);
    CHECK(after_a_reload()[0].what == p.tablet.session.conflicts()[0].what);
    CHECK(after_a_reload()[0].lost == "\"Wren\"");
    p.tablet.now = p.phone_now + 1000;
    p.tablet.ok(TakeOther{p.tablet.session.conflicts()[0].take, "Wren it is."});
    REQUIRE(after_a_reload().size() == 1);
    CHECK(after_a_reload()[0].won == "\"Finch\"");
    p.tablet.ok(Undo{});
    CHECK(after_a_reload().size() == 2);
    p.tablet.ok(RenameStudent{p.tablet.cls, second, "Martin"});
    CHECK(after_a_reload().size() == 1);
}
