#include "session/planner.h"

#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

/// Twenty students in the seventh block of the year: they cannot all meet new partners again.
Classroom seventh_block() {
    Classroom room(20);
    room.plan();
    room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    for (int i = 0; i < 6; ++i) {
        room.ok(MakeBlock{room.cls, "Next", {}});
        room.block = room.b().id;
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    }
    return room;
}

/// The decision of a command in slices of `work`.
Decision in_slices(Classroom& room, const Command& command, std::int64_t work) {
    auto job = room.session.begin(command, room.now);
    REQUIRE(job.has_value());
    double last = 0;
    int slices = 0;
    while (!job->step(work)) {
        CHECK(job->progress() >= last);
        CHECK(job->progress() <= 1);
        last = job->progress();
        ++slices;
    }
    if (work < 10'000) CHECK(slices > 5);
    CHECK_FALSE(room.session.stale(*job));
    auto decision = room.session.conclude(*job, room.now);
    REQUIRE(decision.has_value());
    return *decision;
}

const Groups& groups_in(const Decision& decision) {
    return std::get<record::GroupsSet>(decision.events.front()).groups;
}

}  // namespace

TEST_CASE("a plan in slices of any size ends in what decide says") {
    Classroom room = seventh_block();
    const MakeGroups wish{room.cls, room.block, GroupPolicy::mixed, 4, 77};
    base::Random entropy(1);
    const auto whole = decide(room.session.log(), wish, room.now, entropy);
    REQUIRE(whole.has_value());
    for (const std::int64_t work : {997, 25'000, 1'000'000'000}) {
        const Decision sliced = in_slices(room, wish, work);
        CHECK(sliced.said == whole->said);
        CHECK(groups_in(sliced) == groups_in(*whole));
    }
    const std::string before = room.hash();
    auto job = room.session.begin(wish, room.now);
    REQUIRE(job.has_value());
    job->step(10'000);
    CHECK(room.hash() == before);  // given up half way: nothing happened
    room.session.commit(*whole, room.now);
    CHECK(room.b().groups == groups_in(*whole));
    room.ok(Undo{});
    CHECK(room.hash() == before);
}

TEST_CASE("kept estimates give the plan that read ones give") {
    Classroom room = seventh_block();
    room.ok(ChooseSkill{room.cls, room.block, SkillId("mean"), true});
    for (std::size_t i = 0; i < 20; ++i) {
        for (int n = 0; n < 3; ++n) {
            room.ok(PutMark{
                room.cls, room.block, room.student(i), SkillId("mean"), {}, 0, Level(i * 7 % 3)});
        }
    }
    Standings standings;
    standings.update(room.c(), room.now);
    const MakeGroups wish{room.cls, room.block, GroupPolicy::mixed, 4, 5};
    auto job = room.session.begin(wish, room.now, &standings);
    REQUIRE(job.has_value());
    while (!job->step(20'000)) {
    }
    const auto kept = room.session.conclude(*job, room.now);
    REQUIRE(kept.has_value());
    CHECK(groups_in(*kept) == groups_in(in_slices(room, wish, 20'000)));
}

TEST_CASE("a job is stale once anything has happened") {
    Classroom room = seventh_block();
    auto job = room.session.begin(MakeGroups{room.cls, room.block}, room.now);
    REQUIRE(job.has_value());
    CHECK_FALSE(room.session.stale(*job));
    room.ok(SetAbsent{room.cls, room.block, room.student(0), true});
    CHECK(room.session.stale(*job));
}

TEST_CASE("a command that takes no time is a job that is over at once") {
    Classroom room(4);
    auto job = room.session.begin(RenameClass{room.cls, "Room 9", 7}, room.now);
    REQUIRE(job.has_value());
    CHECK(job->step(1));
    const auto decision = room.session.conclude(*job, room.now);
    REQUIRE(decision.has_value());
    room.session.commit(*decision, room.now);
    CHECK(room.c().name == "Room 9");
    CHECK_FALSE(room.session.begin(MakeGroups{room.cls, BlockId("none")}, room.now).has_value());
}
