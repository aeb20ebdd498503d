#include <algorithm>

#include "base/text.h"
#include "cards/bank.h"
#include "session/parts.h"

namespace tallyround::session {

base::Result<Decision> decide(const record::Log& log, const Command& command, std::int64_t now_ms,
                              base::Random& entropy) {
    const Context ctx{log, now_ms, entropy};
    return std::visit([&](const auto& wish) { return on(ctx, wish); }, command);
}

base::Result<const Class*> open_class(const Context& ctx, const ClassId& id) {
    const Class* cls = ctx.state().find_class(id);
    if (cls == nullptr) return base::fail("Class", "This class is not here any more.");
    if (cls->archived) {
        return base::fail("Class", cls->name + " is archived. Bring it back to change it.");
    }
    return cls;
}

base::Result<Spot> open_block(const Context& ctx, const ClassId& cls_id, const BlockId& block_id) {
    const auto cls = open_class(ctx, cls_id);
    if (!cls) return pass(cls);
    const Block* block = (*cls)->block(block_id);
    if (block == nullptr) return base::fail("Block", "This block is not here any more.");
    return Spot{*cls, block};
}

base::Result<const Student*> student_in(const Class& cls, const StudentId& id) {
    const Student* student = cls.student(id);
    if (student == nullptr) {
        return base::fail("Student", "This student is not in " + cls.name + ".");
    }
    return student;
}

base::Result<const Center*> center_in(const Block& block, const CenterId& id) {
    const Center* center = find_center(block, id);
    if (center == nullptr) return base::fail("Center", "This center is not in the block.");
    return center;
}

bool knows_skill(const Class& cls, const SkillId& skill) {
    return cards::find_skill(skill.view()) != nullptr || cls.own_skill(skill) != nullptr;
}

base::Result<std::string> checked_name(std::string_view where, std::string_view text) {
    std::string name = base::tidy_line(text);
    if (name.empty()) return base::fail(std::string(where), "It is empty. Write a name.");
    const std::size_t n = base::length(name);
    if (n > name_limit) {
        return base::fail(std::string(where), "\"" + base::first_code_points(name, 24) +
                                                  "…\" has " + std::to_string(n) +
                                                  " letters. Use at most " +
                                                  std::to_string(name_limit) + ".");
    }
    return name;
}

base::Result<std::string> checked_lines(std::string_view where, std::string_view text,
                                        std::size_t limit) {
    std::string out;
    std::string gap;
    for (const std::string_view raw : base::lines_of(text)) {
        const std::string line = base::tidy_line(raw);
        if (line.empty()) {
            gap += out.empty() ? "" : "\n";
            continue;
        }
        if (!out.empty()) out += gap + "\n";
        gap.clear();
        out += line;
    }
    const std::size_t n = base::length(out);
    if (n > limit) {
        return base::fail(std::string(where), "The text has " + std::to_string(n) +
                                                  " letters. Use at most " + std::to_string(limit) +
                                                  ".");
    }
    return out;
}

base::Result<int> checked_number(std::string_view where, int value, int low, int high,
                                 std::string_view unit) {
    if (value >= low && value <= high) return value;
    const std::string tail = unit.empty() ? "." : " " + std::string(unit) + ".";
    return base::fail(std::string(where), std::to_string(value) + " is not possible. Choose " +
                                              std::to_string(low) + " to " + std::to_string(high) +
                                              tail);
}

std::string name_of(const Class& cls, const StudentId& id) {
    const Student* student = cls.student(id);
    return student == nullptr ? id.str() : student->name;
}

std::string names_of(const Class& cls, const std::vector<StudentId>& students) {
    std::vector<std::string> names;
    const std::size_t shown = students.size() > 4 ? 3 : students.size();
    for (std::size_t i = 0; i < shown; ++i)
        names.push_back(name_of(cls, students[i]));
    if (shown < students.size()) {
        names.push_back(std::to_string(students.size() - shown) + " more");
    }
    return base::list_of(names);
}

}  // namespace tallyround::session
