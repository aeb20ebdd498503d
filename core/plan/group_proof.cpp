#include "plan/group_proof.h"

#include <algorithm>
#include <numeric>

namespace tallyround::plan::detail {

namespace {

struct Mate {
    std::int64_t cost;
    int size;
};

/// The cheapest way to give `item` enough mates among `left`, parts of an item counted in
/// proportion (rounded down).
std::int64_t cheapest_mates(const GroupModel& m, const GroupWishes& w, int item, int low,
                            const std::vector<int>& left, std::vector<Mate>& mates) {
    mates.clear();
    const std::size_t row = std::size_t(item) * std::size_t(m.items());
    for (const int other : left)
        if (other != item && !m.clashes(item, other))
            mates.push_back({w.repeats[row + std::size_t(other)], m.size(other)});
    std::sort(mates.begin(), mates.end(), [](const Mate& a, const Mate& b) {
        const std::int64_t first = a.cost * b.size;
        const std::int64_t second = b.cost * a.size;
        return first != second ? first < second : a.size < b.size;
    });
    int missing = low - m.size(item);
    std::int64_t cost = 0;
    for (const Mate& mate : mates) {
        if (missing <= 0) break;
        cost += mate.size <= missing ? mate.cost : mate.cost * missing / mate.size;
        missing -= mate.size;
    }
    return cost;
}

/// Greatest common divisor of all pair costs: a bound can be rounded up to a multiple of it.
std::int64_t grain(const GroupWishes& w) {
    std::int64_t g = 0;
    for (const std::int64_t cost : w.repeats)
        g = std::gcd(g, cost);
    return std::max<std::int64_t>(1, g);
}

}  // namespace

std::int64_t repeat_bound(const GroupModel& m, const GroupWishes& w, int low,
                          const std::vector<int>& given) {
    std::vector<int> left = given;
    if (left.empty()) {
        left.resize(std::size_t(m.items()));
        std::iota(left.begin(), left.end(), 0);
    }
    std::int64_t twice = 0;
    std::vector<Mate> mates;
    for (const int item : left)
        twice += cheapest_mates(m, w, item, low, left, mates);
    return (twice + 1) / 2;
}

GroupProof::GroupProof(const GroupModel& model, const GroupWishes& wishes, SizeWindow window,
                       GroupScore best)
    : model_(model), wishes_(wishes), window_(window), best_(best), grain_(grain(wishes)) {}

bool GroupProof::run(std::int64_t nodes) {
    nodes_left_ = nodes;
    std::vector<int> left(std::size_t(model_.items()));
    std::iota(left.begin(), left.end(), 0);
    return branch(wishes_.inside_repeats, std::move(left));
}

/// Largest repeat cost that could still be better than the best.
std::int64_t GroupProof::allowance() const {
    return wishes_.only_repeats() ? best_.repeat_cost - 1 : best_.repeat_cost;
}

int GroupProof::dearest(const std::vector<int>& left) const {
    std::vector<Mate> mates;
    int best = left.front();
    std::int64_t best_cost = -1;
    for (const int item : left) {
        const std::int64_t cost = cheapest_mates(model_, wishes_, item, window_.low, left, mates);
        // Without costs a seat or a large item comes first: fewest ways to complete it.
        const std::int64_t rank = cost * 1000 + model_.size(item) + (model_.seat[item] >= 0);
        if (rank > best_cost) {
            best_cost = rank;
            best = item;
        }
    }
    return best;
}

bool GroupProof::branch(std::int64_t cost, std::vector<int> left) {
    if (left.empty()) {
        if (int(chosen_.size()) <= model_.groups) leaf(cost);
        return true;
    }
    if (--nodes_left_ < 0) return false;
    const int groups_left = model_.groups - int(chosen_.size());
    int students = 0;
    for (const int item : left)
        students += model_.size(item);
    if (students < groups_left * window_.low || students > groups_left * window_.high) return true;
    const std::int64_t rest = repeat_bound(model_, wishes_, window_.low, left);
    if (cost + (rest + grain_ - 1) / grain_ * grain_ > allowance()) return true;
    const int first = dearest(left);
    left.erase(std::find(left.begin(), left.end(), first));
    chosen_.push_back({first});
    const bool covered = grow(cost, left, 0, model_.size(first), 0);
    chosen_.pop_back();
    return covered;
}

/// Extends the newest group by items of `left` from position `from` on, and closes it wherever
/// its size is allowed.
bool GroupProof::grow(std::int64_t cost, const std::vector<int>& left, std::size_t from, int size,
                      std::int64_t inside) {
    if (cost + inside > allowance()) return true;
    if (--nodes_left_ < 0) return false;
    if (size >= window_.low && !close(cost + inside, left)) return false;
    if (size >= window_.high) return true;
    for (std::size_t i = from; i < left.size(); ++i) {
        const int item = left[i];
        if (size + model_.size(item) > window_.high) continue;
        auto& group = chosen_.back();
        const std::size_t row = std::size_t(item) * std::size_t(model_.items());
        std::int64_t more = 0;
        bool clash = false;
        for (const int mate : group) {
            clash = clash || model_.clashes(item, mate);
            more += wishes_.repeats[row + std::size_t(mate)];
        }
        if (clash) continue;
        group.push_back(item);
        const bool covered = grow(cost, left, i + 1, size + model_.size(item), inside + more);
        chosen_.back().pop_back();
        if (!covered) return false;
    }
    return true;
}

/// Whether the newest group has the partners its members need and helpers do not have too many.
bool GroupProof::content() const {
    const auto& group = chosen_.back();
    const auto has = [](const std::vector<int>& list, int item) {
        return std::find(list.begin(), list.end(), item) != list.end();
    };
    for (const auto& c : model_.companies) {
        const auto here = [&](int partner) { return has(group, partner); };
        if (here(c.item) && std::none_of(c.partners.begin(), c.partners.end(), here)) return false;
    }
    return std::all_of(model_.helped.begin(), model_.helped.end(), [&](const auto& h) {
        const auto helped = [&](const std::vector<int>& list) {
            return std::any_of(h.items.begin(), h.items.end(),
                               [&](int item) { return has(list, item); });
        };
        return std::count_if(chosen_.begin(), chosen_.end(), helped) <= h.groups;
    });
}

bool GroupProof::close(std::int64_t cost, const std::vector<int>& left) {
    if (!content()) return true;
    std::vector<int> rest;
    const auto& group = chosen_.back();
    for (const int item : left)
        if (std::find(group.begin(), group.end(), item) == group.end()) rest.push_back(item);
    return branch(cost, std::move(rest));
}

void GroupProof::leaf(std::int64_t cost) {
    GroupScore score;
    score.repeat_cost = cost;
    score.shared_needs = wishes_.inside_shared;
    const auto groups = chosen_.size();
    std::vector<std::int64_t> sums(groups, 0);
    std::vector<std::int64_t> squares(groups, 0);
    std::vector<int> counts(groups, 0);
    for (std::size_t g = 0; g < groups; ++g) {
        for (const int a : chosen_[g]) {
            sums[g] += wishes_.level_sum[a];
            squares[g] += wishes_.level_squares[a];
            counts[g] += wishes_.level_count[a];
            for (const int b : chosen_[g])
                if (a < b)
                    score.shared_needs +=
                        wishes_
                            .shared[std::size_t(a) * std::size_t(model_.items()) + std::size_t(b)];
        }
    }
    score.level_cost = level_measure(wishes_.policy, sums, squares, counts, wishes_.total_squares);
    score.level_step = std::int64_t(score.level_cost * 50.0);
    if (!score.better(best_)) return;
    best_ = score;
    groups_ = chosen_;
}

}  // namespace tallyround::plan::detail
