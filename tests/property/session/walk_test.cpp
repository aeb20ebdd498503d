#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "model/kinds.h"
#include "session/derived.h"
#include "session/session.h"

// Random walks through the commands: whatever a teacher does, the class stays sound, a refusal
// changes nothing, Undo gives the state before and Redo the state after.

using namespace tallyround;
using namespace tallyround::session;

namespace {

constexpr std::int64_t start_ms = 1'796'029'200'000;
const std::vector<std::string> skills{"mean",       "median",       "percent-of", "unit-rate",
                                      "like-terms", "frac-compare", "no-such"};

/// Draws commands that make sense often enough to get somewhere, and some that do not.
class Teacher {
  public:
    explicit Teacher(std::uint64_t seed) : draw(seed) {}

    Command command(const State& state) {
        const Class* cls = any(state.classes);
        if (cls == nullptr || chance(1)) return MakeClass{name(), number(0, 13)};
        const Block* block = cls->current_block();
        if (block == nullptr || chance(2)) {
            const Block* like = any(cls->blocks);
            return MakeBlock{cls->id, "Block", like != nullptr ? like->id : BlockId()};
        }
        switch (number(0, 3)) {
            case 0:
                return about_class(*cls);
            case 1:
                return about_plan(*cls, *block);
            case 2:
                return about_seats(*cls, *block);
            default:
                return about_lesson(*cls, *block);
        }
    }

    base::Random draw;

  private:
    int number(int low, int high) { return int(draw.between(low, high)); }
    bool chance(int percent) { return number(0, 99) < percent; }
    template <class T>
    const T* any(const std::vector<T>& items) {
        return items.empty() ? nullptr : &items[std::size_t(draw.below(items.size()))];
    }
    std::string name() { return chance(5) ? "  " : "Név " + std::to_string(number(1, 99)); }
    StudentId student(const Class& cls) {
        const Student* s = any(cls.students);
        return s == nullptr || chance(2) ? StudentId("nobody") : s->id;
    }
    CenterId center(const Block& block) {
        const Center* c = any(block.centers);
        return c == nullptr ? CenterId("nowhere") : c->id;
    }
    SkillId skill() { return SkillId(*any(skills)); }

    Command about_class(const Class& cls) {
        switch (number(0, 6)) {
            case 0:
                return RenameClass{cls.id, name(), number(1, 12)};
            case 1:
                return ArchiveClass{cls.id, cls.archived ? false : chance(10)};
            case 2:
                return RenameStudent{cls.id, student(cls), name()};
            case 3:
                return SetStudentLeft{cls.id, student(cls), chance(40)};
            case 4:
                return SetPair{cls.id, student(cls), student(cls), PairRule(number(0, 2))};
            default: {
                AddStudents add{cls.id, {}};
                for (int i = number(0, 5); i > 0; --i)
                    add.students.push_back({name(), ""});
                return add;
            }
        }
    }

    Command about_plan(const Class& cls, const Block& block) {
        switch (number(0, 7)) {
            case 0:
                return ChooseSkill{cls.id, block.id, skill(), chance(80)};
            case 1: {
                const auto kinds = model::center_kinds();
                const auto& kind = kinds[std::size_t(draw.below(kinds.size()))];
                return AddCenter{cls.id, block.id, std::string(kind.id), skill()};
            }
            case 2:
                return AddCentersForSkills{cls.id, block.id};
            case 3: {
                const Center* there = any(block.centers);
                Center edited = there == nullptr ? Center{} : *there;
                edited.title = name();
                edited.kind = chance(50) ? "device" : edited.kind;
                return EditCenter{cls.id, block.id, edited};
            }
            case 4:
                return CloseCenter{cls.id, block.id, center(block), chance(60)};
            case 5: {
                const int start = number(400, 700);
                return SetTime{cls.id,
                               block.id,
                               {{{2026, 11, 30},
                                 start,
                                 start + number(-5, 90),
                                 {{start + number(-5, 40), start + number(30, 60)}}},
                                {{2026, 12, number(1, 2)}, 500, 560}},
                               {number(0, 7), number(5, 15), number(0, 2), number(0, 5), 3}};
            }
            case 6:
                return SetDevices{cls.id, block.id, number(-1, 12)};
            default:
                return AddOwnSkill{cls.id, name(), 6};
        }
    }

    ChartRules chart_rules(const Block& block) {
        ChartRules rules = block.chart_rules;
        rules.order = ChartOrder(number(0, 2));
        if (!rules.rules.empty() && chance(40)) rules.rules.pop_back();
        ChartRule rule;
        rule.kind = ChartRuleKind(number(0, 5));
        rule.center = center(block);
        rule.then = center(block);
        rule.round = number(0, 6);
        rule.rounds = {number(1, 3), number(3, 6)};
        if (chance(60)) rule.groups = {number(0, int(block.groups.size()))};
        rules.rules.push_back(rule);
        return rules;
    }

    Command about_seats(const Class& cls, const Block& block) {
        const int groups = int(block.groups.size());
        switch (number(0, 11)) {
            case 0:
                return MakeGroups{cls.id,       block.id,    GroupPolicy(number(0, 2)),
                                  number(2, 4), draw.bits(), number(0, 1) * number(0, 7)};
            case 6:
                return MendGroups{cls.id, block.id};
            case 7:
                return SetCompany{cls.id, student(cls), {student(cls), student(cls)}};
            case 8:
                return SetGroupRules{
                    cls.id,
                    block.id,
                    {{{student(cls), number(0, groups)}},
                     std::vector<int>(std::size_t(number(0, 1)), number(0, groups)),
                     {{"Helper", {student(cls), student(cls)}, {number(1, 3)}}}}};
            case 9:
                return SetPair{cls.id, student(cls), student(cls), PairRule(number(0, 2))};
            case 1:
                return SwapStudents{cls.id, block.id, student(cls), student(cls)};
            case 2:
                return MoveStudent{cls.id, block.id, student(cls), number(-1, groups)};
            case 3:
                return MakeChart{cls.id, block.id, draw.bits()};
            case 10:
                return SetChartRules{cls.id, block.id, chart_rules(block)};
            case 11:
                return LoseRound{cls.id, block.id};
            case 4:
                return SwapCells{cls.id, block.id, number(0, 7), number(0, groups),
                                 number(0, groups)};
            default:
                return SetAbsent{cls.id, block.id, student(cls), chance(40)};
        }
    }

    Command about_lesson(const Class& cls, const Block& block) {
        switch (number(0, 9)) {
            case 0:
                return StartLesson{cls.id, block.id};
            case 1:
            case 2:
                return NextPhase{cls.id, block.id};
            case 3:
                return PauseLesson{cls.id, block.id};
            case 4:
                return ResumeLesson{cls.id, block.id};
            case 5:
                return AddTime{cls.id, block.id, number(-200, 200)};
            case 6:
                return chance(30) ? Command(EndLesson{cls.id, block.id})
                                  : Command(SetFlag{cls.id, student(cls), chance(70)});
            case 7:
                return TakeBack{draw.below(200)};
            default:
                return PutMark{
                    cls.id,        block.id,     student(cls),        skill(),
                    center(block), number(0, 5), Level(number(0, 2)), Help(number(0, 2))};
        }
    }
};

void check_groups(const Class& cls, const Block& block) {
    std::set<StudentId> seated;
    for (const auto& group : block.groups) {
        CHECK(group.size() <= 4);
        for (const StudentId& id : group) {
            CHECK(seated.insert(id).second);
            const Student* student = cls.student(id);
            REQUIRE(student != nullptr);
            CHECK_FALSE(student->left);
        }
    }
}

/// In the rounds that have not begun: open centers only, no two groups at one.
void check_chart(const Block& block) {
    if (block.chart.empty()) return;
    CHECK(block.chart.size() == block.groups.size());
    const bool in_round = block.lesson.phase == Phase::working;
    const int begun =
        in_round ? std::max(block.rounds_done, block.lesson.round) : block.rounds_done;
    for (std::size_t r = std::size_t(begun); r < block.chart.front().size(); ++r) {
        std::set<CenterId> used;
        for (const auto& row : block.chart) {
            REQUIRE(row.size() == block.chart.front().size());
            if (row[r].empty()) continue;
            const Center* center = find_center(block, row[r]);
            REQUIRE(center != nullptr);
            CHECK_FALSE(center->closed);
            CHECK(used.insert(row[r]).second);
        }
    }
}

void check_sound(const State& state) {
    std::set<ClassId> ids;
    for (const Class& cls : state.classes) {
        CHECK(ids.insert(cls.id).second);
        CHECK(present_students(cls).size() <= 120);
        for (const Pair& pair : cls.pairs)
            CHECK(pair.a < pair.b);
        if (const Block* block = cls.current_block()) {
            check_groups(cls, *block);
            check_chart(*block);
            const auto [first, last] = next_rounds(*block);
            CHECK(first <= last);
            CHECK(left_ms(block->lesson, start_ms) >= left_ms(block->lesson, start_ms + 1));
            CHECK(int(next_step(cls)) <= int(Step::review));
        }
    }
}

}  // namespace

TEST_CASE("random walks keep the class sound; undo and redo give the states before and after") {
    for (const std::uint64_t seed : {11U, 12U, 13U, 14U}) {
        CAPTURE(seed);
        Teacher teacher(seed);
        Session session(ReplicaId("walker01"), seed);
        std::int64_t now = start_ms;
        std::size_t done = 0;
        for (int step = 0; step < 300; ++step) {
            now += std::int64_t(teacher.draw.below(90'000));
            const std::string before = record::state_hash(session.state());
            const auto happened = session.send(teacher.command(session.state()), now);
            const std::string after = record::state_hash(session.state());
            if (!happened || happened->events.empty()) {
                CHECK(after == before);
                if (!happened) CHECK(happened.error().message.size() > 10);
                continue;
            }
            ++done;
            check_sound(session.state());
            REQUIRE(session.send(Undo{}, now).has_value());
            CHECK(record::state_hash(session.state()) == before);
            CHECK_FALSE(session.redo_label().empty());
            REQUIRE(session.send(Redo{}, now).has_value());
            CHECK(record::state_hash(session.state()) == after);
        }
        CHECK(done > 60);  // the walk got somewhere

        // The same events make the same session again, with the same way back.
        Session again(ReplicaId("walker01"), 1);
        const auto events = session.log().events();
        again.load({events.begin(), events.end()});
        CHECK(record::state_hash(again.state()) == record::state_hash(session.state()));
        CHECK(again.undo_label() == session.undo_label());
        CHECK(again.redo_label() == session.redo_label());
    }
}

TEST_CASE("undoing everything gives the empty state, redoing everything the last one") {
    for (const std::uint64_t seed : {21U, 22U}) {
        CAPTURE(seed);
        Teacher teacher(seed);
        Session session(ReplicaId("walker02"), seed);
        std::int64_t now = start_ms;
        for (int step = 0; step < 120; ++step) {
            now += 1000;
            static_cast<void>(session.send(teacher.command(session.state()), now));
        }
        const std::string last = record::state_hash(session.state());
        int undone = 0;
        while (session.send(Undo{}, now).has_value())
            ++undone;
        CHECK(undone > 20);
        CHECK(session.state() == State{});
        while (session.send(Redo{}, now).has_value())
            --undone;
        CHECK(undone == 0);
        CHECK(record::state_hash(session.state()) == last);
    }
}
