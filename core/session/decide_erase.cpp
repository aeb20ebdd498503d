#include "session/erase.h"

#include <algorithm>

#include "base/text.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

bool running(const Class& cls) {
    return std::any_of(cls.blocks.begin(), cls.blocks.end(),
                       [](const Block& b) { return b.lesson.running(); });
}

/// The name as a word of its own: "Bo" is not in "Bob".
bool names(const std::string& text, const std::string& name) {
    const auto letter = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; };
    for (std::size_t at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
        const bool starts = at == 0 || !letter(text[at - 1]);
        const std::size_t end = at + name.size();
        if (starts && (end == text.size() || !letter(text[end]))) return true;
    }
    return false;
}

}  // namespace

Answer on(const Context& ctx, const Erase& wish) {
    const Class* cls = ctx.state().find_class(wish.cls);
    if (cls == nullptr) return base::fail("Class", "This class is not here any more.");
    if (running(*cls)) {
        return base::fail(
            "Class", "A lesson is running in " + cls->name + ". End it first: deleting is final.");
    }
    std::string who = cls->name;
    if (!wish.student.empty()) {
        const auto student = student_in(*cls, wish.student);
        if (!student) return pass(student);
        who = (*student)->name;
    }
    return Decision{{record::Erased{wish.cls, wish.student}}, who + " is deleted for good.", {}};
}

ErasePreview erase_preview(const Class& cls, const StudentId& student) {
    ErasePreview out;
    const bool all = student.empty();
    const auto count = [&](const auto& items) {
        return static_cast<std::size_t>(
            std::count_if(items.begin(), items.end(),
                          [&](const auto& item) { return all || item.student == student; }));
    };
    out.students = all ? cls.students.size() : 1;
    out.marks = count(cls.marks);
    out.notes = count(cls.notes);
    out.blocks = all ? cls.blocks.size() : 0;
    const Student* one = all ? nullptr : cls.student(student);
    if (one == nullptr || one->name.empty()) return out;
    for (const Note& n : cls.notes) {
        if (n.student == student || !names(n.text, one->name)) continue;
        const Student* about = cls.student(n.student);
        const std::string place = "a note on " + (about == nullptr ? "somebody" : about->name);
        if (std::find(out.named_in.begin(), out.named_in.end(), place) == out.named_in.end())
            out.named_in.push_back(place);
    }
    if (names(cls.procedures, one->name)) out.named_in.emplace_back("the procedures");
    for (const Block& b : cls.blocks) {
        if (names(b.title, one->name)) out.named_in.push_back("the block " + b.title);
        for (const Center& c : b.centers) {
            if (names(c.title + "\n" + c.instructions + "\n" + c.materials, one->name))
                out.named_in.emplace_back("the words of a center");
        }
    }
    return out;
}

}  // namespace tallyround::session
