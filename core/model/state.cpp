#include "model/state.h"

#include <algorithm>

namespace tallyround::model {

namespace {

template <class Items, class Id>
auto find_by_id(const Items& items, const Id& id) -> decltype(items.data()) {
    const auto it =
        std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.id == id; });
    return it == items.end() ? nullptr : &*it;
}

}  // namespace

const Student* Class::student(const StudentId& id_) const {
    return find_by_id(students, id_);
}

const Block* Class::block(const BlockId& id_) const {
    return find_by_id(blocks, id_);
}

const OwnSkill* Class::own_skill(const SkillId& id_) const {
    return find_by_id(own_skills, id_);
}

const CardPicture* Class::picture(const PictureId& id_) const {
    return find_by_id(pictures, id_);
}

PairRule Class::rule_between(const StudentId& a, const StudentId& b) const {
    for (const Pair& p : pairs) {
        if ((p.a == a && p.b == b) || (p.a == b && p.b == a)) return p.rule;
    }
    return PairRule::none;
}

const Class* State::find_class(const ClassId& id) const {
    return find_by_id(classes, id);
}

const Center* find_center(const Block& block, const CenterId& id) {
    return find_by_id(block.centers, id);
}

int group_of(const Block& block, const StudentId& student) {
    for (std::size_t g = 0; g < block.groups.size(); ++g) {
        const auto& group = block.groups[g];
        if (std::find(group.begin(), group.end(), student) != group.end()) return int(g);
    }
    return -1;
}

CenterId center_at(const Block& block, int group, int round) {
    if (group < 0 || round < 1 || std::size_t(group) >= block.chart.size()) return {};
    const auto& row = block.chart[std::size_t(group)];
    return std::size_t(round) > row.size() ? CenterId{} : row[std::size_t(round - 1)];
}

bool is_absent(const Block& block, const StudentId& student) {
    return std::find(block.absent.begin(), block.absent.end(), student) != block.absent.end();
}

}  // namespace tallyround::model
