#include "plan/group_place.h"

#include <algorithm>
#include <limits>

namespace tallyround::plan::detail {

std::vector<SizeWindow> size_windows(const GroupModel& m, bool loose) {
    constexpr std::size_t most = 64;
    const int floor_size = m.students / m.groups;
    const int ceil_size = (m.students + m.groups - 1) / m.groups;
    int largest_item = 0;
    for (int i = 0; i < m.items(); ++i)
        largest_item = std::max(largest_item, m.size(i));
    std::vector<SizeWindow> out;
    if (loose) out.push_back({std::min(floor_size, std::max(2, m.capacity / 2)), m.capacity});
    for (int spread = ceil_size - floor_size; spread <= m.capacity && out.size() < most; ++spread) {
        for (int low = floor_size; low >= 0 && low >= ceil_size - spread; --low) {
            const int high = low + spread;
            if (high > m.capacity || high < largest_item || out.size() >= most) continue;
            out.push_back({low, high});
        }
    }
    out.push_back({0, m.capacity});
    return out;
}

GroupPlacer::GroupPlacer(const GroupModel& model, const GroupWishes* wishes, SizeWindow window,
                         int max_moved)
    : group_of(std::size_t(model.items()), -1),
      model_(model),
      wishes_(wishes != nullptr && !wishes->moved.empty() ? wishes : nullptr),
      window_(window),
      max_moved_(max_moved),
      labelled_(std::size_t(model.groups), wishes_ != nullptr ? 1 : 0),
      fill_(std::size_t(model.groups), 0),
      blocked_(std::size_t(model.items()) * std::size_t(model.groups), 0),
      helped_in_(model.helped.size() * std::size_t(model.groups), 0),
      helped_(model.helped.size(), 0) {
    for (const int seat : model.seat)
        if (seat >= 0) labelled_[seat] = 1;
}

bool GroupPlacer::fits(int item, int group) const {
    if (model_.seat[item] >= 0 && model_.seat[item] != group) return false;
    for (const int h : model_.helpers_of[item]) {
        const bool there = helped_in_[std::size_t(h) * std::size_t(model_.groups) + group] > 0;
        if (!there && helped_[h] >= model_.helped[h].groups) return false;
    }
    return fill_[group] + model_.size(item) <= window_.high &&
           blocked_[std::size_t(item) * std::size_t(model_.groups) + std::size_t(group)] == 0;
}

void GroupPlacer::put(int item, int group, int sign) {
    group_of[item] = sign > 0 ? group : -1;
    fill_[group] += sign * model_.size(item);
    students_left_ -= sign * model_.size(item);
    const auto groups = std::size_t(model_.groups);
    if (wishes_ != nullptr)
        moved_ += sign * wishes_->moved[std::size_t(item) * groups + std::size_t(group)];
    for (const int h : model_.helpers_of[item]) {
        int& there = helped_in_[std::size_t(h) * groups + std::size_t(group)];
        helped_[h] += sign > 0 ? there == 0 : -(there == 1);
        there += sign;
    }
    for (int other = 0; other < model_.items(); ++other)
        if (model_.clashes(item, other))
            blocked_[std::size_t(other) * groups + std::size_t(group)] += sign;
}

/// Groups an item can go to; empty groups that are alike count once.
int GroupPlacer::count_groups(int item) const {
    int count = 0;
    bool empty_counted = false;
    for (int g = 0; g < model_.groups; ++g) {
        if (!fits(item, g)) continue;
        const bool plain_empty = fill_[g] == 0 && !labelled_[g];
        if (plain_empty && empty_counted) continue;
        empty_counted = empty_counted || plain_empty;
        ++count;
    }
    return count;
}

int GroupPlacer::most_constrained() const {
    int best = -1;
    int best_count = std::numeric_limits<int>::max();
    for (int i = 0; i < model_.items(); ++i) {
        if (group_of[i] >= 0) continue;
        const int count = count_groups(i);
        const bool larger = best >= 0 && model_.size(i) > model_.size(best);
        if (count < best_count || (count == best_count && larger)) {
            best = i;
            best_count = count;
        }
        if (best_count == 0) break;
    }
    return best;
}

bool GroupPlacer::enough_left() const {
    int missing = 0;
    for (const int fill : fill_)
        missing += std::max(0, window_.low - fill);
    return missing <= students_left_;
}

/// Whether everybody who needs one of several partners can still get one.
bool GroupPlacer::company_left() const {
    return std::all_of(model_.companies.begin(), model_.companies.end(),
                       [&](const GroupModel::Company& c) {
                           for (int g = 0; g < model_.groups; ++g) {
                               if (!can_join(c.item, g)) continue;
                               for (const int partner : c.partners)
                                   if (can_join(partner, g)) return true;
                           }
                           return false;
                       });
}

std::vector<int> GroupPlacer::ordered_groups(int item) {
    struct Choice {
        int moved;
        int fill;
        std::uint64_t tie;
        int group;
    };
    std::vector<Choice> choices;
    bool empty_taken = false;
    for (int g = 0; g < model_.groups; ++g) {
        if (!fits(item, g)) continue;
        const bool plain_empty = fill_[g] == 0 && !labelled_[g];
        if (plain_empty && empty_taken) continue;
        empty_taken = empty_taken || plain_empty;
        const auto at = std::size_t(item) * std::size_t(model_.groups) + std::size_t(g);
        const int moved = wishes_ != nullptr ? wishes_->moved[at] : 0;
        if (max_moved_ >= 0 && moved_ + moved > max_moved_) continue;
        choices.push_back({moved, fill_[g], random_.bits(), g});
    }
    std::sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) {
        if (a.moved != b.moved) return a.moved < b.moved;
        if (a.fill != b.fill) return a.fill < b.fill;
        return a.tie < b.tie;
    });
    std::vector<int> out;
    for (const Choice& c : choices)
        out.push_back(c.group);
    return out;
}

bool GroupPlacer::place_all() {
    if (++nodes_used > limit_ || !enough_left() || !company_left()) return false;
    const int item = most_constrained();
    if (item < 0) return true;
    for (const int group : ordered_groups(item)) {
        put(item, group, +1);
        if (place_all()) return true;
        put(item, group, -1);
        if (nodes_used > limit_) return false;
    }
    return false;
}

Answer GroupPlacer::run(std::int64_t nodes, std::uint64_t seed) {
    if (model_.contradictory) return Answer::impossible;
    random_ = base::Random(seed);
    nodes_used = 0;
    limit_ = nodes;
    moved_ = 0;
    std::fill(fill_.begin(), fill_.end(), 0);
    std::fill(blocked_.begin(), blocked_.end(), 0);
    std::fill(helped_in_.begin(), helped_in_.end(), 0);
    std::fill(helped_.begin(), helped_.end(), 0);
    std::fill(group_of.begin(), group_of.end(), -1);
    students_left_ = model_.students;
    for (int i = 0; i < model_.items(); ++i) {
        if (model_.seat[i] < 0) continue;
        if (!fits(i, model_.seat[i])) return Answer::impossible;
        put(i, model_.seat[i], +1);
    }
    if (max_moved_ >= 0 && moved_ > max_moved_) return Answer::impossible;
    if (place_all()) return Answer::found;
    return nodes_used > limit_ ? Answer::unknown : Answer::impossible;
}

}  // namespace tallyround::plan::detail
