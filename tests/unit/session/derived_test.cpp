#include <algorithm>

#include "base/text.h"
#include "classroom.h"
#include "session/demo.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

Class demo_class(const base::Date& day = {2026, 12, 1}) {
    record::Log log{ReplicaId("test")};
    log.load(demo_events(day));
    return log.state().classes.front();
}

}  // namespace

TEST_CASE("four plain secure marks are needed before anything firm is said") {
    Classroom room(2);
    room.plan({"mean"});
    Standings standings;
    const SkillId skill("mean");
    const auto word = [&] {
        standings.update(room.c(), room.now);
        return word_for(standings.of(room.student(0), skill));
    };
    CHECK(word() == Word::no_marks);
    for (int i = 0; i < 3; ++i) {
        room.ok(PutMark{room.cls, room.block, room.student(0), skill, {}});
        CHECK(word() == Word::early);
    }
    room.ok(PutMark{room.cls, room.block, room.student(0), skill, {}});
    CHECK(word() == Word::likely_has_it);
    const Standing standing = standings.of(room.student(0), skill);
    CHECK(standing.marks == 4);
    CHECK(standing.last_level == Level::secure);
    CHECK(standing.low < standing.p);
    CHECK(standing.p <= standing.high);
    CHECK(standings.of(room.student(1), skill).marks == 0);
}

TEST_CASE("standings counted mark by mark equal those counted at once, through undo and merge") {
    Classroom room(3);
    room.plan({"mean"});
    Standings running;
    const auto check_same = [&] {
        running.update(room.c(), room.now);
        Standings fresh;
        fresh.update(room.c(), room.now);
        for (std::size_t i = 0; i < 3; ++i) {
            const Standing a = running.of(room.student(i), SkillId("mean"));
            const Standing b = fresh.of(room.student(i), SkillId("mean"));
            CHECK(a.p == b.p);
            CHECK(a.marks == b.marks);
            CHECK(a.last_ms == b.last_ms);
        }
    };
    for (std::size_t i = 0; i < 9; ++i) {
        room.ok(PutMark{room.cls,
                        room.block,
                        room.student(i % 3),
                        SkillId("mean"),
                        {},
                        0,
                        i % 2 == 0 ? Level::secure : Level::stuck});
        check_same();
    }
    room.ok(TakeBack{room.c().marks[2].event});
    check_same();
    room.ok(PutMark{room.cls, room.block, room.student(0), SkillId("mean"), {}});
    check_same();
    room.ok(Undo{});
    room.ok(Undo{});
    check_same();
}

TEST_CASE("words speak of the skill and the marks, never of a kind of child") {
    CHECK(word_text(Word::likely_has_it) == "likely has it");
    CHECK(word_text(Word::on_the_way) == "on the way");
    CHECK(word_text(Word::needs_time) == "needs time with this");
    CHECK(word_text(Word::early) == "too early to say");
    CHECK(word_text(Word::no_marks) == "not seen yet");
}

TEST_CASE("whoever waits with a flag is named first, absent students are not") {
    Classroom room(24);
    room.ready();
    room.ok(StartLesson{room.cls, room.block});
    room.ok(NextPhase{room.cls, room.block});
    room.ok(SetFlag{room.cls, room.student(7), true});
    room.ok(SetAbsent{room.cls, room.block, room.student(3), true});
    room.now += 4 * 60'000;
    Standings standings;
    standings.update(room.c(), room.now);
    const auto next = whom_next(room.c(), room.b(), standings, room.now, 30);
    REQUIRE(next.size() == 23);
    CHECK(next.front().student == room.student(7));
    CHECK(has(next.front().why, "Flag up for 4 minutes"));
    for (const NextLook& look : next)
        CHECK(look.student != room.student(3));
    CHECK(whom_next(room.c(), room.b(), standings, room.now, 5).size() == 5);
}

TEST_CASE("what to review next counts every student once") {
    const Class cls = demo_class();
    Standings standings;
    standings.update(cls, 1'796'083'200'000);
    const auto next = review_next(cls, *cls.current_block(), standings);
    CHECK(next.size() >= cls.current_block()->skills.size());
    bool firm = false;
    for (const ReviewNext& r : next) {
        CHECK(r.likely + r.on_the_way + r.needs_time + r.early + r.unseen == 27);
        CHECK_FALSE(r.why.empty());
        firm = firm || (r.likely > 0 && r.needs_time > 0);
    }
    CHECK(firm);
}

TEST_CASE("a skill that marks say is missing comes before one they say is there") {
    Classroom room(6);
    room.plan({"mean", "median"});
    for (std::size_t i = 0; i < 6; ++i) {
        for (int n = 0; n < 5; ++n) {
            room.ok(PutMark{room.cls, room.block, room.student(i), SkillId("mean"), {}});
            room.ok(PutMark{
                room.cls, room.block, room.student(i), SkillId("median"), {}, 0, Level::stuck});
        }
    }
    Standings standings;
    standings.update(room.c(), room.now);
    const auto next = review_next(room.c(), room.b(), standings);
    REQUIRE(next.size() == 2);
    CHECK(next[0].skill == SkillId("median"));
    CHECK(next[0].why == "6 students need time with this.");
    CHECK(next[1].likely == 6);
}

TEST_CASE("a center is judged only when enough students have marks to compare") {
    Classroom room(8);
    room.plan({"mean", "median"});
    const Center first = room.b().centers[0];
    for (std::size_t i = 0; i < 8; ++i) {
        room.ok(
            PutMark{room.cls, room.block, room.student(i), first.skill, first.id, 1, Level::stuck});
    }
    Standings standings;
    standings.update(room.c(), room.now);
    auto verdicts = judge_centers(room.c(), room.b(), standings);
    REQUIRE(verdicts.size() == 2);
    CHECK(verdicts[0].verdict == "too early");
    CHECK(verdicts[0].students == 0);
    for (int n = 0; n < 3; ++n) {
        for (std::size_t i = 0; i < 8; ++i)
            room.ok(PutMark{room.cls, room.block, room.student(i), first.skill, first.id, 1});
    }
    standings.update(room.c(), room.now);
    verdicts = judge_centers(room.c(), room.b(), standings);
    CHECK(verdicts[0].center == first.id);
    CHECK(verdicts[0].students == 8);
    CHECK(verdicts[0].gain > 0.3);
    CHECK(verdicts[0].verdict == "keep");
    CHECK(has(verdicts[0].why, "From 8 students"));
    CHECK(verdicts[1].verdict == "too early");
}

TEST_CASE("the demo is the class that was promised") {
    const Class cls = demo_class();
    CHECK(cls.students.size() == 27);
    CHECK(cls.grade == 6);
    for (const Student& s : cls.students)
        CHECK(base::is_utf8(s.name));
    REQUIRE(cls.blocks.size() == 4);
    const Block& block = *cls.current_block();
    std::vector<std::size_t> sizes;
    for (const auto& group : block.groups)
        sizes.push_back(group.size());
    std::sort(sizes.begin(), sizes.end());
    CHECK(sizes == std::vector<std::size_t>{3, 4, 4, 4, 4, 4, 4});
    CHECK(open_centers(block).size() == 7);
    CHECK(block.chart.size() == 7);
    CHECK(block.devices == 4);
    CHECK(std::count_if(block.centers.begin(), block.centers.end(),
                        [](const Center& c) { return c.kind == "device"; }) == 1);
    REQUIRE(cls.pairs.size() == 1);
    CHECK(group_of(block, cls.pairs[0].a) != group_of(block, cls.pairs[0].b));
    CHECK(fit_block(block).fits);
    REQUIRE(block.periods.size() == 2);
    CHECK(block.periods[0].date == base::Date{2026, 12, 1});
    CHECK(block.periods[0].end_minute - block.periods[0].start_minute == 55);
    CHECK(block.lesson.phase == Phase::ready);
    for (std::size_t b = 0; b < 3; ++b)
        CHECK(cls.blocks[b].rounds_done == 7);
    // Enough to fit the reading to, and to judge centers by; and the file stays small.
    CHECK(cls.marks.size() >= 300);
    CHECK(cls.marks.size() <= 600);
    CHECK(next_step(cls) == Step::walk);
}

TEST_CASE("the demo is the same for the same day and dated by it") {
    const auto line_of = [](const std::vector<record::Event>& events) {
        std::string out;
        record::Log log{ReplicaId("test")};
        log.load(events);
        return record::state_hash(log.state());
    };
    CHECK(line_of(demo_events({2026, 12, 1})) == line_of(demo_events({2026, 12, 1})));
    const Class later = demo_class({2027, 3, 5});  // a Friday
    CHECK(later.current_block()->periods[0].date == base::Date{2027, 3, 5});
    CHECK(later.current_block()->periods[1].date == base::Date{2027, 3, 8});
    CHECK(later.id != demo_class().id);
}

TEST_CASE("words for a number of students are in the singular or the plural") {
    CHECK(word_count(Word::likely_has_it, 1) == "1 likely has it");
    CHECK(word_count(Word::likely_has_it, 19) == "19 likely have it");
    CHECK(word_count(Word::needs_time, 1) == "1 needs time with this");
    CHECK(word_count(Word::needs_time, 4) == "4 need time with this");
    CHECK(word_count(Word::on_the_way, 2) == "2 on the way");
}
