#include "session/groups_now.h"

#include <algorithm>

#include "classroom.h"

using namespace tallyround;
using namespace tallyround::testing;

namespace {

using Kind = SeatEffect::Kind;

/// Eight students in the second block of the year, two of each old group in each new one.
struct Second {
    Second() : room(8) {
        room.plan();
        room.time(3);
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
        first = room.b().groups;
        room.ok(MakeBlock{room.cls, "Second", room.block});
        room.block = room.b().id;
        room.ok(MakeGroups{room.cls, room.block, GroupPolicy::any});
    }
    GroupsNow now() const {
        Standings standings;
        standings.update(room.c(), room.now);
        return {room.c(), room.b(), standings, GroupPolicy::mixed};
    }
    SeatEffect swap(const StudentId& a, const StudentId& b) const {
        return now().swap(room.c(), room.b(), a, b);
    }
    bool met(const StudentId& a, const StudentId& b) const {
        return std::any_of(first.begin(), first.end(), [&](const auto& g) {
            return std::count(g.begin(), g.end(), a) + std::count(g.begin(), g.end(), b) == 2;
        });
    }
    /// Somebody of the other new group, of the same old group as `a` or of the other one.
    StudentId other(const StudentId& a, bool same) const {
        const auto& groups = room.b().groups;
        const auto& there = groups[group_of(room.b(), a) == 0 ? 1 : 0];
        return *std::find_if(there.begin(), there.end(),
                             [&](const StudentId& id) { return met(a, id) == same; });
    }

    Classroom room;
    Groups first;
};

}  // namespace

TEST_CASE("a swap within the old groups repeats as many pairs, one across repeats two more") {
    const Second s;
    const StudentId a = s.room.b().groups[0][0];
    const SeatEffect same = s.swap(a, s.other(a, true));
    CHECK(same.kind == Kind::same);
    CHECK(same.repeats == 0);
    CHECK(same.brief == "fine");
    CHECK(same.text == "Nothing else changes.");
    const SeatEffect more = s.swap(a, s.other(a, false));
    CHECK(more.kind == Kind::more_repeats);
    CHECK(more.repeats == 2);
    CHECK(more.brief == "2 repeats more");
    CHECK(more.text == "2 more repeats.");
}

TEST_CASE("what the effect says is what the swap does") {
    Second s;
    const StudentId a = s.room.b().groups[0][0];
    const StudentId b = s.other(a, false);
    const int before = s.now().grouping().repeat_pairs;
    const SeatEffect effect = s.swap(a, b);
    s.room.ok(SwapStudents{s.room.cls, s.room.block, a, b});
    CHECK(s.now().grouping().repeat_pairs == before + effect.repeats);
    CHECK(s.swap(a, b).kind == Kind::fewer_repeats);
    CHECK(s.swap(a, b).repeats == -2);
    CHECK(has(s.now().repeats(), "6 pairs met in an earlier block."));
}

TEST_CASE("rules: parting two is told from breaking another rule, and a rule kept again is named") {
    Second s;
    const auto& group = s.room.b().groups[0];
    const StudentId a = group[0];
    const StudentId b = s.other(a, true);
    s.room.ok(SetPair{s.room.cls, a, group[1], PairRule::together});
    CHECK(s.swap(a, b).kind == Kind::parts);
    CHECK(has(s.swap(a, b).text, "Against a rule: "));
    GroupRules rules;
    rules.locked = {1};
    s.room.ok(SetGroupRules{s.room.cls, s.room.block, rules});
    const SeatEffect locked = s.swap(a, b);
    CHECK(locked.kind == Kind::breaks);
    CHECK(has(locked.text, "Group 2 stays as it is"));
    rules.locked = {};
    rules.seats = {{a, 1}};
    s.room.ok(SetGroupRules{s.room.cls, s.room.block, rules});
    REQUIRE(s.now().broken().size() == 1);
    CHECK(has(s.now().rest(), "Not so now: "));
    CHECK(s.swap(a, b).mended.size() == 1);
    CHECK(has(s.swap(a, b).text, "Kept again: "));
    const SeatEffect moved = s.now().move(s.room.c(), s.room.b(), a, 1);
    CHECK(moved.mended.size() == 1);
    CHECK(moved.kind == Kind::parts);
}

TEST_CASE("why a group is so: who met when, and that no exchange repeats fewer") {
    const Second s;
    const auto lines = s.now().why(s.room.c(), s.room.b(), 0);
    const auto count = [&](const std::string& part) {
        return std::count_if(lines.begin(), lines.end(),
                             [&](const std::string& line) { return has(line, part); });
    };
    CHECK(count(" met on Mon 30 Nov.") == 2);
    CHECK(count("Every single exchange with another group leaves 4 repeats or more in the class; "
                "now there are 4.") == 1);
}

TEST_CASE("who has the helper when: groups in turn, each in one stretch") {
    Second s;
    const auto& groups = s.room.b().groups;
    GroupRules rules;
    rules.helpers = {{"Aide", {groups[0][0], groups[1][1], groups[1][2]}, {1, 2, 3}}};
    s.room.ok(SetGroupRules{s.room.cls, s.room.block, rules});
    const auto name = [&](const StudentId& id) { return s.room.c().student(id)->name; };
    const auto lines = helper_lines(s.room.c(), s.room.b());
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "Aide, rounds 1 and 2: Group 1 with " + name(groups[0][0]) + ".");
    CHECK(lines[1] ==
          "Aide, round 3: Group 2 with " + name(groups[1][1]) + " and " + name(groups[1][2]) + ".");
}
