#include "record/erase.h"

#include <doctest/doctest.h>

#include "../../support/random_events.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/log.h"

using namespace tallyround;
using namespace tallyround::record;

namespace {

const ClassId cls("x0");
const BlockId block("x1");
const StudentId gone("x1");
const StudentId stays("x2");

/// A class in which something of every sort happened to the student who will go.
Log lived_in(const char* replica = "r0") {
    Log log{ReplicaId(replica)};
    for (Body& body : testing::some_class())
        log.append(std::move(body), 1000);
    log.append(StudentRenamed{cls, gone, "Quillon Marsh"}, 1500);
    log.append(PairRuled{cls, gone, stays, PairRule::apart}, 1500);
    log.append(CompanySet{cls, stays, {gone, StudentId("x3")}}, 1500);
    log.append(GroupsSet{cls, block, {{gone, stays}, {StudentId("x3"), StudentId("x4")}}}, 1500);
    GroupRules rules;
    rules.seats = {{gone, 0}, {stays, 1}};
    rules.helpers = {{"Aide", {gone, stays}, {}}};
    log.append(GroupRulesSet{cls, block, rules}, 1500);
    log.append(Marked{cls, block, gone, SkillId("x1"), CenterId("x1"), 1, Level::stuck, Help::none},
               2000);
    log.append(
        Marked{cls, block, stays, SkillId("x1"), CenterId("x1"), 1, Level::secure, Help::hint},
        2000);
    log.append(Noted{cls, block, gone, SkillId("x1"), "Quillon adds denominators"}, 2000);
    log.append(FlagSet{cls, gone, true}, 2000);
    log.append(AbsenceSet{cls, block, gone, true}, 2000);
    return log;
}

std::string text_of(const Log& log) {
    std::string out;
    for (const Event& e : log.events())
        out += to_line(e) + "\n";
    return out;
}

std::vector<Event> copy(const Log& log) {
    return {log.events().begin(), log.events().end()};
}

/// How often the id stands in the record.
std::size_t mentions(const Log& log, const StudentId& id) {
    const std::string text = text_of(log);
    const std::string quoted = "\"" + id.str() + "\"";
    std::size_t n = 0;
    for (auto at = text.find(quoted); at != std::string::npos; at = text.find(quoted, at + 1))
        ++n;
    return n;
}

}  // namespace

TEST_CASE("a student deleted for good leaves ids in the tombstone alone; the class goes on") {
    Log log = lived_in();
    REQUIRE(text_of(log).find("Quillon") != std::string::npos);
    log.append(Erased{cls, gone}, 3000);
    CHECK(text_of(log).find("Quillon") == std::string::npos);
    // Skills and centers of this little class have the same ids: only students are counted.
    std::size_t events_about = 0;
    for (const Event& e : log.events())
        events_about += std::holds_alternative<Erased>(e.body) ? 1 : 0;
    CHECK(events_about == 1);
    const Class& c = log.state().classes.at(0);
    CHECK(c.student(gone) == nullptr);
    CHECK(c.students.size() == 4);
    CHECK(c.marks.size() == 1);
    CHECK(c.notes.empty());
    CHECK(c.flags.empty());
    CHECK(c.pairs.empty());
    CHECK(c.company.at(0).partners == std::vector{StudentId("x3")});
    CHECK(c.blocks.at(0).groups == Groups{{stays}, {StudentId("x3"), StudentId("x4")}});
    CHECK(c.blocks.at(0).group_rules.seats == std::vector{Seat{stays, 1}});
    CHECK(c.blocks.at(0).group_rules.helpers.at(0).students == std::vector{stays});
    CHECK(c.blocks.at(0).absent.empty());
    CHECK(log.rewrites() == 1);
    CHECK(log.state() == fold(log.events()));
}

TEST_CASE("a class deleted for good leaves nothing but the tombstone; other classes stay") {
    Log log = lived_in();
    log.append(ClassMade{ClassId("x9"), "Other", 7}, 2500);
    log.append(Erased{cls, {}}, 3000);
    REQUIRE(log.state().classes.size() == 1);
    CHECK(log.state().classes[0].name == "Other");
    CHECK(log.events().size() == 2);
    CHECK(text_of(log).find("Student") == std::string::npos);
}

TEST_CASE("an older plan file does not bring anybody back") {
    Log before = lived_in();
    const auto file = copy(before);
    Log log = lived_in();
    log.append(Erased{cls, gone}, 3000);
    const std::string hash = state_hash(log.state());
    CHECK(log.merge(file) == 0);
    CHECK(state_hash(log.state()) == hash);
    CHECK(text_of(log).find("Quillon") == std::string::npos);
    // The other way round: the old record hears of it.
    CHECK(before.merge(log.events()) == 1);
    CHECK(state_hash(before.state()) == hash);
    CHECK(before.rewrites() == 1);
    CHECK(text_of(before) == text_of(log));
}

TEST_CASE("what another device still writes about somebody who is gone is not taken in") {
    Log here = lived_in();
    Log there{ReplicaId("r1")};
    there.merge(here.events());
    here.append(Erased{cls, gone}, 3000);
    there.append(Noted{cls, block, gone, {}, "Quillon again"}, 9000);
    there.append(StudentAdded{cls, gone, "Quillon Marsh", ""}, 9000);
    there.append(
        Marked{cls, block, stays, SkillId("x1"), CenterId("x1"), 2, Level::shaky, Help::none},
        9001);
    here.merge(there.events());
    CHECK(here.state().classes[0].student(gone) == nullptr);
    CHECK(here.state().classes[0].marks.size() == 2);
    there.merge(here.events());
    CHECK(there.state() == here.state());
}

TEST_CASE("deleting for good cannot be taken back") {
    Log log = lived_in();
    const EventRef erased = log.append(Erased{cls, gone}, 3000).ref();
    log.append(Retracted{{erased}}, 4000);
    CHECK(log.state().classes[0].student(gone) == nullptr);
    Log again{ReplicaId("r1")};
    again.load(copy(lived_in()));
    again.merge(log.events());
    CHECK(again.state().classes[0].student(gone) == nullptr);
}

TEST_CASE("no sequence number is given out twice, even when the newest event goes") {
    Log here = lived_in();
    Log there{ReplicaId("r1")};
    there.merge(here.events());
    const std::uint64_t last =
        here.append(Noted{cls, block, gone, {}, "Quillon"}, 5000).stamp.sequence;
    there.append(Erased{cls, gone}, 6000);
    here.merge(there.events());
    Log reopened{ReplicaId("r0")};
    reopened.load(copy(here));
    CHECK(reopened.rewrites() == 0);
    CHECK(reopened.append(FlagSet{cls, stays, true}, 7000).stamp.sequence == last + 1);
    CHECK(text_of(reopened).find("Quillon") == std::string::npos);
}

TEST_CASE("a journal that still holds the old events is noticed when it is read") {
    auto events = copy(lived_in());
    Log erasing = lived_in();
    events.push_back(erasing.append(Erased{cls, gone}, 3000));
    Log log{ReplicaId("r0")};
    log.load(events);
    CHECK(log.rewrites() == 1);
    CHECK(text_of(log).find("Quillon") == std::string::npos);
}

TEST_CASE("kinds and members of later versions that name the student go, too") {
    Log log = lived_in();
    const std::string about =
        R"({"class":"x0","student":")" + gone.str() + R"(","mood":"Quillon"})";
    const std::string other = R"({"class":"x0","student":"x2","mood":"calm"})";
    log.append(Foreign{"mood_noted", about}, 2500);
    log.append(Foreign{"mood_noted", other}, 2500);
    auto events = copy(log);
    events.back().extra = "";
    log.load(events);
    const std::size_t before = mentions(log, gone);
    log.append(Erased{cls, gone}, 3000);
    CHECK(text_of(log).find("Quillon") == std::string::npos);
    CHECK(text_of(log).find("calm") != std::string::npos);
    CHECK(mentions(log, gone) < before);
}

TEST_CASE("members of later versions that name the student go from an event that stays") {
    Log log = lived_in();
    auto events = copy(log);
    events[1].extra = R"({"partner":"x1","since":"Quillon"})";  // of another student's event
    events[3].extra = R"({"mood":"calm"})";
    log.load(events);
    REQUIRE(std::holds_alternative<StudentAdded>(log.events()[1].body));
    log.append(Erased{cls, gone}, 3000);
    CHECK(text_of(log).find("Quillon") == std::string::npos);
    CHECK(text_of(log).find("calm") != std::string::npos);
    CHECK(log.state().classes.at(0).student(StudentId("x0")) != nullptr);
    CHECK(log.rewrites() == 1);
}

TEST_CASE("a retraction with members of a later version is no empty shell and stays") {
    Log log = lived_in();
    auto events = copy(log);
    const Stamp last = events.back().stamp;
    for (std::uint64_t n = 1; n <= 3; ++n) {
        events.push_back({{last.ms + 1, 0, last.replica, last.sequence + n}, Retracted{}, ""});
    }
    events[events.size() - 3].extra = R"({"reason":"slipped"})";
    log.load(events);
    log.append(Erased{cls, gone}, 3000);
    CHECK(text_of(log).find("slipped") != std::string::npos);
}

TEST_CASE("who is deleted is told by class and student; a class takes everybody in it") {
    const std::vector<Event> events{
        {{1, 0, ReplicaId("r"), 1}, Erased{cls, gone}, ""},
        {{2, 0, ReplicaId("r"), 2}, Erased{ClassId("c9"), {}}, ""},
    };
    const Erasures all(events);
    CHECK(all.has(cls, gone));
    CHECK_FALSE(all.has(cls, stays));
    CHECK_FALSE(all.has(ClassId("other"), gone));
    CHECK_FALSE(all.has(cls, StudentId()));  // nobody named
    CHECK(all.has(ClassId("c9"), stays));
    CHECK(all.has(ClassId("c9"), StudentId()));
}
