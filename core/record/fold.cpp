#include "record/fold.h"

#include <algorithm>

#include "base/text.h"
#include "record/fold_wishes.h"
#include "record/members.h"

namespace tallyround::record {

namespace {

/// Tidied line by line; empty lines stay.
std::string tidy_lines(std::string_view text) {
    std::string out;
    bool first = true;
    for (const std::string_view line : base::lines_of(text)) {
        if (!first) out += '\n';
        first = false;
        out += base::tidy_line(line);
    }
    return out;
}

std::int64_t within_clock(std::int64_t ms) {
    return std::clamp<std::int64_t>(ms, 0, max_ms);
}

/// Adds without passing the ends of what a file may hold.
std::int64_t moved(std::int64_t ms, std::int64_t by) {
    return within_clock(within_clock(ms) + std::clamp<std::int64_t>(by, -max_ms, max_ms));
}

template <class Items, class Id>
auto* find(Items& items, const Id& id) {
    const auto it =
        std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.id == id; });
    return it == items.end() ? nullptr : &*it;
}

/// The item of that id, made at the end if there is none yet; nothing for the empty id.
template <class Items, class Id>
auto* find_or_add(Items& items, const Id& id) {
    if (id.empty()) return static_cast<decltype(items.data())>(nullptr);
    if (auto* there = find(items, id)) return there;
    items.emplace_back().id = id;
    return &items.back();
}

void clear_flag(Class& cls, const StudentId& student) {
    std::erase_if(cls.flags, [&](const Flag& f) { return f.student == student; });
}

/// One rule a kind: `on(class, event)`, or `on(block, event)` for what happens in a block.
class Rules {
  public:
    Rules(State& state, const Stamp& stamp, std::uint64_t place)
        : state_(state), stamp_(stamp), place_(place) {}

    template <class B>
    void operator()(const B& e) {
        if constexpr (requires(Class & c) { on(c, e); }) {
            if (Class* cls = find(state_.classes, e.cls)) on(*cls, e);
        } else {
            Class* cls = find(state_.classes, e.cls);
            Block* block = cls ? find(cls->blocks, e.block) : nullptr;
            if (block) on(*cls, *block, e);
        }
    }
    void operator()(const ClassMade& e) {
        if (Class* cls = find_or_add(state_.classes, e.cls)) {
            cls->name = base::tidy_line(e.name);
            cls->grade = e.grade;
        }
    }
    void operator()(const Erased&) {}
    void operator()(const Retracted&) {}
    void operator()(const Foreign&) {}

  private:
    void on(Class& cls, const ClassRenamed& e) {
        cls.name = base::tidy_line(e.name);
        cls.grade = e.grade;
    }
    void on(Class& cls, const ClassArchived& e) { cls.archived = e.archived; }
    void on(Class& cls, const StudentAdded& e) {
        if (Student* s = find_or_add(cls.students, e.student)) {
            s->name = base::tidy_line(e.name);
            s->source_id = base::tidy_line(e.source_id);
            s->left = false;
        }
    }
    void on(Class& cls, const StudentRenamed& e) {
        if (Student* s = find(cls.students, e.student)) s->name = base::tidy_line(e.name);
    }
    void on(Class& cls, const StudentLeft& e);
    void on(Class& cls, const PairRuled& e);
    void on(Class& cls, const CompanySet& e) { fold_wish(cls, e); }
    void on(Class& cls, const OwnSkillSet& e) {
        if (OwnSkill* s = find_or_add(cls.own_skills, e.skill)) {
            s->title = base::tidy_line(e.title);
            s->grade = e.grade;
            s->code = base::tidy_line(e.code);
            s->before = e.before;
        }
    }
    void on(Class& cls, const ReadingSet& e) { cls.usual_reading = e.usual; }
    void on(Class& cls, const OwnCardsSet& e) {
        if (OwnSkill* s = find(cls.own_skills, e.skill)) s->cards = e.cards;
    }
    void on(Class& cls, const CardPictureKept& e) {
        if (CardPicture* p = find_or_add(cls.pictures, e.picture))
            *p = {e.picture, e.width, e.height, e.data};
    }
    void on(Class& cls, const StockSet& e);
    void on(Class& cls, const BlockMade& e) {
        if (Block* b = find_or_add(cls.blocks, e.block)) b->title = base::tidy_line(e.title);
    }
    void on(Class& cls, const Marked& e);
    void on(Class& cls, const FlagSet& e);
    void on(Class& cls, const Noted& e);
    void on(Class& cls, const ProceduresSet& e) { cls.procedures = tidy_lines(e.text); }
    void on(Class& cls, const MovePractised& e) {
        cls.moves.push_back({stamp_.ms, within_clock(e.took_ms), true});
    }

    void on(Class&, Block& block, const SkillsChosen& e);
    void on(Class&, Block& block, const CenterSet& e);
    void on(Class&, Block& block, const CenterClosed& e) {
        if (Center* c = find(block.centers, e.center)) c->closed = e.closed;
    }
    void on(Class&, Block& block, const TimeSet& e) {
        block.periods = e.periods;
        block.timing = e.timing;
    }
    void on(Class&, Block& block, const DevicesSet& e) { block.devices = std::max(0, e.devices); }
    void on(Class&, Block& block, const ReadySet& e) {
        std::erase(block.ready, e.item);
        if (e.ready) block.ready.push_back(e.item);
    }
    void on(Class& cls, Block& block, const GroupsSet& e);
    void on(Class&, Block& block, const ChartSet& e);
    void on(Class& cls, Block& block, const GroupRulesSet& e) { fold_wish(cls, block, e); }
    void on(Class&, Block& block, const ChartRulesSet& e) { fold_wish(block, e); }
    void on(Class& cls, Block& block, const AbsenceSet& e);
    void on(Class&, Block& block, const LessonStarted& e);
    void on(Class& cls, Block& block, const PhaseBegan& e);
    void on(Class&, Block& block, const LessonPaused& e);
    void on(Class&, Block& block, const LessonResumed& e);
    void on(Class&, Block& block, const RoundsRetimed& e) {
        if (block.lesson.running()) block.lesson.round_ms = within_clock(e.round_ms);
    }
    void on(Class&, Block& block, const TimeAdded& e);
    void on(Class&, Block& block, const LessonEnded&);

    /// What the running phase took so far, without the pauses.
    std::int64_t spent(const Lesson& lesson) const {
        const std::int64_t now = stamp_.ms - lesson.phase_began_ms;
        return within_clock(lesson.phase_spent_ms +
                            (lesson.paused() ? 0 : std::max<std::int64_t>(0, now)));
    }
    void begin_phase(Lesson& lesson) const {
        lesson.phase_began_ms = stamp_.ms;
        lesson.phase_spent_ms = 0;
    }

    State& state_;
    const Stamp& stamp_;
    std::uint64_t place_;
};

void Rules::on(Class& cls, const StudentLeft& e) {
    Student* student = find(cls.students, e.student);
    if (!student) return;
    student->left = e.left;
    if (!e.left) return;
    clear_flag(cls, e.student);
    if (cls.blocks.empty()) return;
    std::erase(cls.blocks.back().absent, e.student);
    for (auto& group : cls.blocks.back().groups)
        std::erase(group, e.student);
}

void Rules::on(Class& cls, const PairRuled& e) {
    if (e.a == e.b || !find(cls.students, e.a) || !find(cls.students, e.b)) return;
    const Pair pair{std::min(e.a, e.b), std::max(e.a, e.b), e.rule};
    const auto before = [](const Pair& x, const Pair& y) {
        return x.a != y.a ? x.a < y.a : x.b < y.b;
    };
    const auto it = std::lower_bound(cls.pairs.begin(), cls.pairs.end(), pair, before);
    const bool there = it != cls.pairs.end() && it->a == pair.a && it->b == pair.b;
    if (pair.rule == PairRule::none) {
        if (there) cls.pairs.erase(it);
    } else if (there) {
        it->rule = pair.rule;
    } else {
        cls.pairs.insert(it, pair);
    }
}

void Rules::on(Class& cls, const Marked& e) {
    if (!find(cls.students, e.student)) return;
    if (!cls.flags.empty()) clear_flag(cls, e.student);
    cls.marks.push_back({e.student, e.skill, e.center, e.block, stamp_.ms, place_,
                         static_cast<std::int16_t>(std::clamp(e.round, 0, 10'000)), e.level,
                         e.help});
    if (!e.slip.empty()) cls.slips.push_back({e.student, e.skill, e.slip, place_});
}

void Rules::on(Class& cls, const StockSet& e) {
    const std::string item = base::tidy_line(e.item);
    const auto it =
        std::lower_bound(cls.stock.begin(), cls.stock.end(), item,
                         [](const Stock& s, const std::string& x) { return s.item < x; });
    const bool there = it != cls.stock.end() && it->item == item;
    if (e.count < 0) {
        if (there) cls.stock.erase(it);
    } else if (there) {
        it->count = e.count;
    } else {
        cls.stock.insert(it, {item, e.count});
    }
}

void Rules::on(Class& cls, const Noted& e) {
    if (!find(cls.students, e.student)) return;
    std::string text = tidy_lines(e.text);
    if (text.empty()) return;
    cls.notes.push_back({e.student, e.skill, e.block, stamp_.ms, place_, std::move(text)});
}

void Rules::on(Class& cls, const FlagSet& e) {
    const Student* student = find(cls.students, e.student);
    if (!student) return;
    if (!e.raised) {
        clear_flag(cls, e.student);
        return;
    }
    const bool there = std::any_of(cls.flags.begin(), cls.flags.end(),
                                   [&](const Flag& f) { return f.student == e.student; });
    if (!there && !student->left) cls.flags.push_back({e.student, stamp_.ms});
}

void Rules::on(Class&, Block& block, const SkillsChosen& e) {
    block.skills.clear();
    for (const SkillId& skill : e.skills) {
        const auto& there = block.skills;
        const bool again = std::find(there.begin(), there.end(), skill) != there.end();
        if (!skill.empty() && !again) block.skills.push_back(skill);
    }
}

void Rules::on(Class&, Block& block, const CenterSet& e) {
    if (Center* c = find_or_add(block.centers, e.center)) {
        c->kind = base::tidy_line(e.kind);
        c->skill = e.skill;
        c->title = base::tidy_line(e.title);
        c->instructions = tidy_lines(e.instructions);
        c->materials = tidy_lines(e.materials);
        c->holds = std::max(1, e.holds);
        c->tiers = e.tiers;
        std::sort(c->tiers.begin(), c->tiers.end());
        c->tiers.erase(std::unique(c->tiers.begin(), c->tiers.end()), c->tiers.end());
    }
}

void Rules::on(Class& cls, Block& block, const GroupsSet& e) {
    std::vector<StudentId> free;
    for (const Student& s : cls.students) {
        if (!s.left) free.push_back(s.id);
    }
    std::sort(free.begin(), free.end());
    std::vector<bool> seated(free.size());
    block.groups.assign(e.groups.size(), {});
    for (std::size_t g = 0; g < e.groups.size(); ++g) {
        for (const StudentId& id : e.groups[g]) {
            const auto it = std::lower_bound(free.begin(), free.end(), id);
            const auto at = static_cast<std::size_t>(it - free.begin());
            if (it == free.end() || *it != id || seated[at]) continue;
            seated[at] = true;
            block.groups[g].push_back(id);
        }
    }
}

void Rules::on(Class&, Block& block, const ChartSet& e) {
    block.chart = e.chart;
    for (auto& row : block.chart) {
        for (CenterId& id : row) {
            if (!find(block.centers, id)) id = CenterId{};
        }
    }
}

void Rules::on(Class& cls, Block& block, const AbsenceSet& e) {
    if (!find(cls.students, e.student)) return;
    std::erase(block.absent, e.student);
    if (e.absent) block.absent.push_back(e.student);
}

void Rules::on(Class&, Block& block, const LessonStarted& e) {
    Lesson& lesson = block.lesson;
    lesson = Lesson{};
    lesson.phase = e.ends_ms > 0 ? Phase::opening : Phase::working;
    lesson.round = e.first_round;
    lesson.first_round = e.first_round;
    lesson.last_round = e.last_round;
    lesson.started_ms = stamp_.ms;
    lesson.phase_ends_ms = within_clock(e.ends_ms);
    begin_phase(lesson);
}

void Rules::on(Class&, Block& block, const LessonPaused& e) {
    Lesson& lesson = block.lesson;
    if (!lesson.running()) return;
    lesson.phase_spent_ms = spent(lesson);
    lesson.paused_left_ms = within_clock(e.left_ms);
}

void Rules::on(Class&, Block& block, const LessonResumed& e) {
    Lesson& lesson = block.lesson;
    if (!lesson.running()) return;
    lesson.paused_left_ms = -1;
    lesson.phase_began_ms = stamp_.ms;
    lesson.phase_ends_ms = within_clock(e.ends_ms);
}

void Rules::on(Class& cls, Block& block, const PhaseBegan& e) {
    Lesson& lesson = block.lesson;
    if (lesson.phase == Phase::moving && e.phase == Phase::working) {
        cls.moves.push_back({stamp_.ms, spent(lesson), false});
    }
    const bool over = e.phase == Phase::moving || e.phase == Phase::closing ||
                      e.phase == Phase::ended ||
                      (e.phase == Phase::working && e.round > lesson.round);
    if (lesson.phase == Phase::working && over) {
        block.rounds_done = std::max(block.rounds_done, lesson.round);
    }
    lesson.phase = e.phase;
    lesson.round = e.round;
    lesson.phase_ends_ms = within_clock(e.ends_ms);
    lesson.paused_left_ms = -1;
    begin_phase(lesson);
}

void Rules::on(Class&, Block& block, const TimeAdded& e) {
    Lesson& lesson = block.lesson;
    if (!lesson.running()) return;
    if (lesson.paused()) {
        lesson.paused_left_ms = moved(lesson.paused_left_ms, e.add_ms);
    } else {
        lesson.phase_ends_ms = moved(lesson.phase_ends_ms, e.add_ms);
    }
}

void Rules::on(Class&, Block& block, const LessonEnded&) {
    Lesson& lesson = block.lesson;
    if (lesson.phase == Phase::working) {
        block.rounds_done = std::max(block.rounds_done, lesson.round);
    }
    lesson.phase = Phase::ended;
    lesson.paused_left_ms = -1;
}

}  // namespace

void apply(State& state, const Event& event, std::uint64_t place) {
    std::visit(Rules(state, event.stamp, place), event.body);
}

}  // namespace tallyround::record
