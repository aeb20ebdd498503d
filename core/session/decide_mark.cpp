#include <algorithm>

#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t note_limit = 500;
constexpr std::size_t slip_limit = 64;

base::Result<const Student*> seen_student(const Class& cls, const StudentId& id) {
    const auto student = student_in(cls, id);
    if (student && (*student)->left) {
        return base::fail("Student", (*student)->name + " has left the class.");
    }
    return student;
}

std::string help_text(Help help) {
    switch (help) {
        case Help::none:
            break;
        case Help::hint:
            return " after a hint";
        case Help::together:
            return " together";
    }
    return "";
}

}  // namespace

Answer on(const Context& ctx, const PutMark& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto student = seen_student(*spot->cls, wish.student);
    if (!student) return pass(student);
    if (wish.skill.empty()) {
        return base::fail("Skill",
                          "Choose the skill that the mark for " + (*student)->name + " is about.");
    }
    // A center that was closed since still names where the look was; its skill may be one that
    // only a newer version knows.
    if (!wish.center.empty()) {
        const auto center = center_in(*spot->block, wish.center);
        if (!center) return pass(center);
    } else if (!knows_skill(*spot->cls, wish.skill)) {
        return base::fail("Skill", "There is no skill \"" + wish.skill.str() + "\".");
    }
    if (wish.slip.size() > slip_limit)
        return base::fail("Slip", "There is no wrong answer \"" + wish.slip.substr(0, 40) + "…\".");
    const auto round = checked_number("Round", wish.round, 0, 1000, "");
    if (!round) return pass(round);
    return Decision{
        {record::Marked{wish.cls, wish.block, wish.student, wish.skill, wish.center, *round,
                        wish.level, wish.help, wish.slip}},
        (*student)->name + ": " + std::string(to_text(wish.level)) + help_text(wish.help) + ".",
        {}};
}

Answer on(const Context& ctx, const MarkGroup& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto marked = [&](const StudentId& student) {
        const auto& marks = spot->cls->marks;
        return std::any_of(marks.rbegin(), marks.rend(), [&](const Mark& m) {
            return m.block == wish.block && m.student == student && m.center == wish.center &&
                   m.round == wish.round;
        });
    };
    Decision decision;
    std::vector<StudentId> seen;
    for (const StudentId& student : wish.students) {
        if (is_absent(*spot->block, student) || marked(student)) continue;
        auto one = on(ctx, PutMark{wish.cls, wish.block, student, wish.skill, wish.center,
                                   wish.round, wish.level, Help::none});
        if (!one) return one;
        decision.events.push_back(std::move(one->events.front()));
        seen.push_back(student);
    }
    if (seen.empty()) {
        return base::fail("Group", "Everyone here has a mark already. Tap a shape to change one.");
    }
    decision.said = names_of(*spot->cls, seen) + ": " + std::string(to_text(wish.level)) + ".";
    return decision;
}

Answer on(const Context& ctx, const WriteNote& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto student = student_in(*spot->cls, wish.student);
    if (!student) return pass(student);
    const auto text = checked_lines("Note", wish.text, note_limit);
    if (!text) return pass(text);
    if (text->empty()) return base::fail("Note", "It is empty. Write a few words.");
    return Decision{{record::Noted{wish.cls, wish.block, wish.student, wish.skill, *text}},
                    "Note on " + (*student)->name + " kept.",
                    {}};
}

Answer on(const Context& ctx, const SetFlag& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto student = seen_student(**cls, wish.student);
    if (!student) return pass(student);
    const auto& flags = (*cls)->flags;
    const bool raised = std::any_of(flags.begin(), flags.end(),
                                    [&](const Flag& f) { return f.student == wish.student; });
    if (raised == wish.raised) return Decision{};
    return Decision{{record::FlagSet{wish.cls, wish.student, wish.raised}},
                    (*student)->name + (wish.raised ? " waits for help." : " is helped."),
                    {}};
}

}  // namespace tallyround::session
