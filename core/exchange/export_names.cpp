#include "exchange/export_names.h"

#include <algorithm>
#include <vector>

#include "model/kinds.h"
#include "record/hash.h"

namespace tallyround::exchange {

using namespace model;  // NOLINT

ExportNames::ExportNames(const Class& cls, std::size_t place, const ExportOptions& options)
    : cls_(cls), options_(options) {
    class_name_ = options.pseudonyms ? "Class " + std::to_string(place + 1) : cls.name;
    std::vector<std::pair<std::string, StudentId>> sorted;
    for (const Student& s : cls.students) {
        const std::string key = cls.id.str() + "/" + s.id.str();
        sorted.emplace_back(options.pseudonyms ? record::bytes_hash(key) : std::string(), s.id);
    }
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    for (std::size_t i = 0; i < sorted.size(); ++i)
        order_[sorted[i].second] = i;
}

std::string ExportNames::student(const Student& student) const {
    if (!options_.pseudonyms) return student.name;
    const std::string digits = std::to_string(order(student.id) + 1);
    return "Student " + std::string(digits.size() < 2 ? "0" : "") + digits;
}

std::string ExportNames::student_id(const Student& student) const {
    return options_.pseudonyms ? std::string() : student.source_id;
}

std::string ExportNames::block(const BlockId& id) const {
    const Block* block = cls_.block(id);
    if (!block) return {};
    const auto place = static_cast<std::size_t>(block - cls_.blocks.data()) + 1;
    if (options_.pseudonyms || block->title.empty()) return "Block " + std::to_string(place);
    return block->title;
}

std::string ExportNames::center(const BlockId& block_id, const CenterId& id) const {
    const Block* block = cls_.block(block_id);
    const Center* found = block ? find_center(*block, id) : nullptr;
    return found ? center(*found) : std::string();
}

std::string ExportNames::center(const Center& center) const {
    if (!options_.pseudonyms && !center.title.empty()) return center.title;
    const CenterKind* kind = find_center_kind(center.kind);
    return kind ? std::string(kind->title) : std::string("Center");
}

std::string ExportNames::skill_title(const SkillId& id) const {
    if (!options_.pseudonyms) {
        if (const OwnSkill* own = cls_.own_skill(id)) return own->title;
    }
    return options_.skill_title ? options_.skill_title(id.view()) : std::string();
}

std::size_t ExportNames::order(const StudentId& id) const {
    const auto it = order_.find(id);
    return it == order_.end() ? order_.size() : it->second;
}

}  // namespace tallyround::exchange
