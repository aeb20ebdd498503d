#include <algorithm>

#include "base/text.h"
#include "session/derived.h"
#include "session/ids.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t class_limit = 120;

base::Result<int> checked_grade(int grade) {
    return checked_number("Grade", grade, 1, 12, "");
}

bool taken_student(const State& state, const StudentId& id) {
    return std::any_of(state.classes.begin(), state.classes.end(),
                       [&](const Class& c) { return c.student(id) != nullptr; });
}

/// "Ana has no group yet." when the block being planned has groups.
std::string without_group(const Class& cls, const std::vector<std::string>& names) {
    const Block* block = cls.current_block();
    if (block == nullptr || block->groups.empty() || names.empty()) return "";
    if (names.size() == 1) return " " + names.front() + " has no group yet.";
    if (names.size() <= 4) return " " + base::list_of(names) + " have no group yet.";
    return " " + std::to_string(names.size()) + " students have no group yet.";
}

}  // namespace

Answer on(const Context& ctx, const MakeClass& wish) {
    const auto name = checked_name("Class name", wish.name);
    if (!name) return pass(name);
    const auto grade = checked_grade(wish.grade);
    if (!grade) return pass(grade);
    const auto id = make_id<ClassId>(
        'c', ctx.entropy, [&](const ClassId& c) { return ctx.state().find_class(c) != nullptr; });
    return Decision{{record::ClassMade{id, *name, *grade}}, *name + " is ready.", {id.str()}};
}

Answer on(const Context& ctx, const RenameClass& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto name = checked_name("Class name", wish.name);
    if (!name) return pass(name);
    const auto grade = checked_grade(wish.grade);
    if (!grade) return pass(grade);
    if ((*cls)->name == *name && (*cls)->grade == *grade) return Decision{};
    return Decision{{record::ClassRenamed{wish.cls, *name, *grade}},
                    "The class is now " + *name + ", grade " + std::to_string(*grade) + ".",
                    {}};
}

Answer on(const Context& ctx, const ArchiveClass& wish) {
    const Class* cls = ctx.state().find_class(wish.cls);
    if (cls == nullptr) return base::fail("Class", "This class is not here any more.");
    if (cls->archived == wish.archived) return Decision{};
    const Block* block = cls->current_block();
    if (wish.archived && block != nullptr && block->lesson.running()) {
        return base::fail("Class", "A lesson is running in " + cls->name + ". End it first.");
    }
    return Decision{{record::ClassArchived{wish.cls, wish.archived}},
                    cls->name + (wish.archived ? " is archived." : " is back."),
                    {}};
}

Answer on(const Context& ctx, const AddStudents& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    if (wish.students.empty())
        return base::fail("Students", "There is no name. Write at least one.");
    const std::size_t there = present_students(**cls).size();
    if (there + wish.students.size() > class_limit) {
        return base::fail(
            "Students", base::count_of(wish.students.size(), "name is", "names are") +
                            " too many: a class holds at most " + std::to_string(class_limit) +
                            (there > 0 ? " and has " + std::to_string(there) + " already." : ".") +
                            " Paste one class at a time.");
    }
    Decision decision;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < wish.students.size(); ++i) {
        const NewStudent& student = wish.students[i];
        const auto name = checked_name("Name " + std::to_string(i + 1), student.name);
        if (!name) return pass(name);
        const std::string source = base::tidy_line(student.source_id);
        if (base::length(source) > name_limit) {
            return base::fail("Name " + std::to_string(i + 1),
                              "The school's id of " + *name + " is longer than " +
                                  std::to_string(name_limit) + " letters.");
        }
        const auto id = make_id<StudentId>('s', ctx.entropy, [&](const StudentId& s) {
            return taken_student(ctx.state(), s) ||
                   std::find(decision.made.begin(), decision.made.end(), s.view()) !=
                       decision.made.end();
        });
        decision.events.push_back(record::StudentAdded{wish.cls, id, *name, source});
        decision.made.push_back(id.str());
        names.push_back(*name);
    }
    decision.said = names.size() == 1 ? names.front() + " added."
                                      : std::to_string(names.size()) + " students added.";
    decision.said += without_group(**cls, names);
    return decision;
}

Answer on(const Context& ctx, const RenameStudent& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto student = student_in(**cls, wish.student);
    if (!student) return pass(student);
    const auto name = checked_name("Student name", wish.name);
    if (!name) return pass(name);
    if ((*student)->name == *name) return Decision{};
    return Decision{{record::StudentRenamed{wish.cls, wish.student, *name}},
                    (*student)->name + " is now " + *name + ".",
                    {}};
}

Answer on(const Context& ctx, const SetStudentLeft& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto student = student_in(**cls, wish.student);
    if (!student) return pass(student);
    if ((*student)->left == wish.left) return Decision{};
    const std::string& name = (*student)->name;
    Decision decision;
    decision.events.push_back(record::StudentLeft{wish.cls, wish.student, wish.left});
    if (!wish.left) {
        if (present_students(**cls).size() >= class_limit) {
            return base::fail("Students", "The class has " + std::to_string(class_limit) +
                                              " students already, which is the most it holds.");
        }
        decision.said = name + " is back." + without_group(**cls, {name});
        return decision;
    }
    decision.said = name + " left the class. The marks stay.";
    return decision;
}

Answer on(const Context& ctx, const SetPair& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto first = student_in(**cls, wish.a);
    if (!first) return pass(first);
    const auto second = student_in(**cls, wish.b);
    if (!second) return pass(second);
    const std::string& one = (*first)->name;
    const std::string& other = (*second)->name;
    if (wish.a == wish.b) {
        return base::fail("Pair", one + " cannot be paired with " + one + ". Choose two students.");
    }
    if ((*cls)->rule_between(wish.a, wish.b) == wish.rule) return Decision{};
    const StudentId a = std::min(wish.a, wish.b);
    const StudentId b = std::max(wish.a, wish.b);
    Decision decision{{record::PairRuled{wish.cls, a, b, wish.rule}}, "", {}};
    const std::string both = one + " and " + other;
    if (wish.rule == PairRule::none) {
        decision.said = both + " may sit as it comes.";
        return decision;
    }
    const bool apart = wish.rule == PairRule::apart;
    decision.said = both + (apart ? " will sit apart." : " will sit together.");
    const Block* block = (*cls)->current_block();
    if (block == nullptr) return decision;
    const int ga = group_of(*block, a);
    const int gb = group_of(*block, b);
    if (ga < 0 || gb < 0 || (ga == gb) != apart) return decision;
    decision.said += apart ? " They are in one group now: move one or make the groups again."
                           : " They are in two groups now: move one or make the groups again.";
    return decision;
}

Answer on(const Context& ctx, const KeepUsualReading& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    if ((*cls)->usual_reading == wish.usual) return Decision{};
    return Decision{{record::ReadingSet{wish.cls, wish.usual}},
                    wish.usual ? "Marks are read by the usual numbers now."
                               : "Marks are read by numbers fitted to this class as soon as there "
                                 "are enough.",
                    {}};
}

Answer on(const Context& ctx, const AddOwnSkill& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto title = checked_name("Skill", wish.title);
    if (!title) return pass(title);
    const auto grade = checked_grade(wish.grade);
    if (!grade) return pass(grade);
    const auto id =
        make_id<SkillId>('k', ctx.entropy, [&](const SkillId& s) { return knows_skill(**cls, s); });
    return Decision{{record::OwnSkillSet{wish.cls, id, *title, *grade}},
                    *title + " is among the skills now.",
                    {id.str()}};
}

}  // namespace tallyround::session
