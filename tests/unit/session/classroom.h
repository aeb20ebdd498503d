#pragma once
#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "session/derived.h"
#include "session/session.h"

/// A class, built command by command, for the tests of this folder.
namespace tallyround::testing {

using namespace session;  // NOLINT: tests speak in commands

inline constexpr std::int64_t monday_ms = 1'796'029'200'000;  // 2026-11-30T09:00Z

class Classroom {
  public:
    explicit Classroom(int students = 24, std::uint64_t entropy = 7)
        : session(ReplicaId("tablet01"), entropy) {
        cls = ClassId(ok(MakeClass{"Room 3", 6}).made.front());
        AddStudents add{cls, {}};
        for (int i = 0; i < students; ++i)
            add.students.push_back({"Student " + std::to_string(i + 1), ""});
        if (students > 0) ok(add);
    }

    /// Sends and expects that it works; time goes on by a second.
    Happened ok(const Command& command) {
        auto happened = session.send(command, now);
        now += 1000;
        const std::string why = happened ? "" : happened.error().text();
        INFO(why);
        REQUIRE(happened.has_value());
        return *std::move(happened);
    }

    /// Sends and expects a refusal that leaves the record as it was; gives its text.
    std::string refused(const Command& command) {
        const std::string before = record::state_hash(session.state());
        const std::size_t events = session.log().events().size();
        const auto happened = session.send(command, now);
        REQUIRE_FALSE(happened.has_value());
        CHECK(record::state_hash(session.state()) == before);
        CHECK(session.log().events().size() == events);
        return happened.error().text();
    }

    const Class& c() const { return *session.state().find_class(cls); }
    const Block& b() const { return *c().current_block(); }
    StudentId student(std::size_t i) const { return c().students.at(i).id; }
    std::string hash() const { return record::state_hash(session.state()); }

    /// A block with one center a skill, in the bank's order of kinds.
    void plan(std::vector<std::string> skills = {"percent-of", "frac-add-unlike", "ratio-write",
                                                 "one-step-add", "area-triangle", "mean"}) {
        block = BlockId(ok(MakeBlock{cls, "Unit 3", {}}).made.front());
        for (const std::string& skill : skills)
            ok(ChooseSkill{cls, block, SkillId(skill), true});
        ok(AddCentersForSkills{cls, block});
    }

    /// Two days of 55 minutes, four groups' worth of rounds on each.
    void time(int rounds = 0, int round_minutes = 12) {
        Timing timing;
        timing.rounds = rounds;
        timing.round_minutes = round_minutes;
        const int bell = 9 * 60 + 10;
        ok(SetTime{cls,
                   block,
                   {{{2026, 11, 30}, bell, bell + 55}, {{2026, 12, 1}, bell, bell + 55}},
                   timing});
    }

    void chart() {
        ok(MakeGroups{cls, block, GroupPolicy::mixed, 4, 1});
        ok(MakeChart{cls, block, 1});
    }

    /// Planned, timed, grouped and charted.
    void ready() {
        plan();
        time();
        chart();
    }

    Session session;
    ClassId cls;
    BlockId block;
    std::int64_t now = monday_ms;
};

inline bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

}  // namespace tallyround::testing
