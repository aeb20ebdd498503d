#include "plan/group_place.h"

#include <algorithm>
#include <limits>

#include "plan/minimal.h"

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
      blocked_(std::size_t(model.items()) * std::size_t(model.groups), 0) {
    for (const int seat : model.seat)
        if (seat >= 0) labelled_[seat] = 1;
}

bool GroupPlacer::fits(int item, int group) const {
    if (model_.seat[item] >= 0 && model_.seat[item] != group) return false;
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
    if (++nodes_used > limit_ || !enough_left()) return false;
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

namespace {

/// The members of a conflict search in one row: what is dropped first stands first.
struct Elements {
    explicit Elements(const GroupProblem& p) : problem(p) {}

    int count() const {
        return 2 + p_count(problem.students) + p_count(problem.seat.size()) +
               p_count(problem.locked.size()) + p_count(problem.together.size()) +
               p_count(problem.apart.size());
    }
    GroupSubset subset(const std::vector<char>& kept) const {
        GroupSubset s = GroupSubset::all(problem);
        s.size_max = kept[0] != 0;
        s.groups = kept[1] != 0;
        std::size_t at = 2;
        for (auto* flags : {&s.students, &s.seat, &s.locked, &s.together, &s.apart})
            for (char& flag : *flags)
                flag = kept[at++];
        return s;
    }
    const GroupProblem& problem;

  private:
    template <class T>
    static int p_count(T n) {
        return int(n);
    }
};

/// How many students of a list count.
int present(const std::vector<int>& list, const GroupSubset& s) {
    return int(std::count_if(list.begin(), list.end(), [&](int i) { return s.students[i] != 0; }));
}

GroupConflict conflict_of(const GroupProblem& p, const GroupSubset& s) {
    using Kind = GroupRule::Kind;
    GroupConflict out;
    for (int i = 0; i < p.students; ++i)
        if (s.students[i]) out.students.push_back(i);
    const auto add = [&](Kind kind, std::size_t index) { out.rules.push_back({kind, int(index)}); };
    for (std::size_t i = 0; i < p.together.size(); ++i)
        if (s.together[i] && present(p.together[i], s) > 1) add(Kind::together, i);
    for (std::size_t i = 0; i < p.apart.size(); ++i)
        if (s.apart[i] && present(p.apart[i], s) > 1) add(Kind::apart, i);
    for (std::size_t i = 0; i < p.seat.size(); ++i)
        if (s.seat[i] && s.students[i] && p.seat[i] >= 0) add(Kind::seat, i);
    for (std::size_t i = 0; i < p.locked.size(); ++i)
        if (s.locked[i]) out.rules.push_back({Kind::locked, p.locked[i]});
    if (s.size_max) add(Kind::size_max, 0);
    if (s.groups) add(Kind::groups, 0);
    return out;
}

}  // namespace

GroupConflict explain_conflict(const GroupProblem& problem, std::int64_t work) {
    constexpr std::int64_t nodes_a_test = 20'000;
    const Elements elements(problem);
    const auto test = [&](const std::vector<char>& kept) {
        if (work <= 0) return Answer::unknown;
        const GroupModel model(problem, elements.subset(kept));
        const std::int64_t table = std::int64_t(model.items()) * (model.items() + model.groups);
        work -= 1 + table / 100;
        if (model.contradictory) return Answer::impossible;
        if (model.students == 0) return Answer::found;
        GroupPlacer placer(model, nullptr, {0, model.capacity});
        const Answer answer = placer.run(nodes_a_test, 1);
        work -= placer.nodes_used * (1 + std::int64_t(model.items()) * model.groups / 200);
        return answer;
    };
    const auto infeasible = [&](const std::vector<char>& kept) {
        return test(kept) == Answer::impossible;
    };
    const auto kept = minimal_conflict(elements.count(), infeasible);
    GroupConflict out = conflict_of(problem, elements.subset(kept));
    for (std::size_t i = 0; i < kept.size() && out.minimal; ++i) {
        if (kept[i] == 0) continue;
        auto without = kept;
        without[i] = 0;
        out.minimal = test(without) == Answer::found;
    }
    return out;
}

}  // namespace tallyround::plan::detail
