#include <algorithm>

#include "session/derived.h"

namespace tallyround::session {

namespace {

bool has_groups(const model::Block& block) {
    return std::any_of(block.groups.begin(), block.groups.end(),
                       [](const auto& group) { return !group.empty(); });
}

bool has_chart(const model::Block& block) {
    return !block.chart.empty() && !block.chart.front().empty();
}

}  // namespace

Step next_step(const model::Class& cls) {
    if (present_students(cls).empty()) return Step::students;
    const model::Block* block = cls.current_block();
    if (block == nullptr) return Step::skills;
    if (block->lesson.running()) return Step::walk;
    if (open_centers(*block).empty()) {
        return block->skills.empty() ? Step::skills : Step::centers;
    }
    if (!fit_block(*block).fits) return Step::fit;
    if (!has_groups(*block)) return Step::groups;
    if (!has_chart(*block)) return Step::chart;
    return next_rounds(*block).first > 0 ? Step::walk : Step::review;
}

std::string step_needs(const model::Class& cls, Step step) {
    const model::Block* block = cls.current_block();
    const bool students = !present_students(cls).empty();
    const bool centers = block != nullptr && !open_centers(*block).empty();
    const bool groups = block != nullptr && has_groups(*block);
    switch (step) {
        case Step::students:
        case Step::skills:
        case Step::fit:
            return "";
        case Step::centers:
            return block == nullptr || block->skills.empty() ? "Choose a skill first." : "";
        case Step::groups:
            return students ? "" : "Add the students first.";
        case Step::chart:
            if (!centers) return "Add a center first.";
            return groups ? "" : "Make the groups first.";
        case Step::walk:
            if (!groups) return "Make the groups first.";
            return has_chart(*block) ? "" : "Make the chart first.";
        case Step::review:
            return cls.marks.empty() ? "There are no marks yet. Put some while you walk." : "";
    }
    return "";
}

}  // namespace tallyround::session
