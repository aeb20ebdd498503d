#include "ui/group_desk.h"

#include "model/state.h"

namespace tallyround::ui {

void GroupDesk::update(const session::Session& session, const model::Class& cls,
                       const model::Block& block, const session::Standings& standings, int policy,
                       const model::StudentId& picked, int why_group) {
    const Key key{session.log().events().size(), block.id, policy, picked, why_group};
    if (key == key_ && now_) return;
    Key same_groups = key_;
    same_groups.picked = picked;
    same_groups.why_group = why_group;
    if (!(same_groups == key) || !now_) {
        now_.reset();
        if (!block.groups.empty()) {
            now_.emplace(cls, block, standings, session::GroupPolicy(policy));
        }
    }
    key_ = key;
    swaps_.clear();
    moves_.clear();
    why_.clear();
    if (!now_) return;
    if (cls.student(picked) != nullptr) {
        // Inside one group there is nothing to swap.
        const int home = model::group_of(block, picked);
        for (std::size_t g = 0; g < block.groups.size(); ++g) {
            if (int(g) == home) continue;
            for (const model::StudentId& other : block.groups[g])
                swaps_.emplace(other, now_->swap(cls, block, picked, other));
        }
        for (std::size_t g = 0; g < block.groups.size(); ++g)
            moves_.push_back(now_->move(cls, block, picked, int(g)));
    }
    if (why_group >= 0 && std::size_t(why_group) < block.groups.size()) {
        why_ = now_->why(cls, block, why_group);
    }
}

const session::SeatEffect* GroupDesk::swap_with(const model::StudentId& other) const {
    const auto it = swaps_.find(other);
    return it == swaps_.end() ? nullptr : &it->second;
}

const session::SeatEffect* GroupDesk::move_to(int group) const {
    return std::size_t(group) < moves_.size() ? &moves_[std::size_t(group)] : nullptr;
}

}  // namespace tallyround::ui
