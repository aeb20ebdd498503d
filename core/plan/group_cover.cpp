#include "plan/group_cover.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace tallyround::plan::detail {

namespace {

constexpr std::size_t most_columns = 100'000;
constexpr std::int64_t most_list_nodes = 400'000;
constexpr int most_pivots = 6'000;

std::uint64_t bit_of(int item) {
    return std::uint64_t{1} << unsigned(item);
}

std::int64_t grain_of(const GroupWishes& w) {
    std::int64_t g = 0;
    for (const std::int64_t cost : w.repeats)
        g = std::gcd(g, cost);
    return std::max<std::int64_t>(1, g);
}

}  // namespace

GroupCover::GroupCover(const GroupModel& model, const GroupWishes& wishes, SizeWindow window,
                       std::int64_t reached)
    : model_(model),
      wishes_(wishes),
      window_(window),
      reached_(reached - wishes.inside_repeats),
      grain_(grain_of(wishes)),
      allowance_(reached_ - grain_) {}

std::int64_t GroupCover::bound() const {
    return std::min(bound_, reached_) + wishes_.inside_repeats;
}

bool GroupCover::step(std::int64_t work) {
    const std::int64_t end = work_done_ + work;
    while (phase_ != Phase::done && work_done_ < end) {
        if (phase_ == Phase::list) {
            list();
        } else if (phase_ == Phase::relax) {
            const std::int64_t each =
                20 + model_.items() / 2 + std::int64_t(columns_.size()) / 1000;
            const int pivots = int(std::clamp<std::int64_t>((end - work_done_) / each, 1, 100));
            const bool over = lp_->step(pivots);
            pivots_left_ -= pivots;
            work_done_ += pivots * each;
            if (over || pivots_left_ <= 0) take_prices();
        } else {
            search(std::max<std::int64_t>(1, (end - work_done_) / 4));
        }
    }
    return phase_ == Phase::done;
}

/// Lists every group that costs no more than is allowed; with too many of them, less is allowed.
void GroupCover::list() {
    if (allowance_ < 0) {
        bound_ = reached_;
        phase_ = Phase::done;
        return;
    }
    nodes_left_ = most_list_nodes;
    columns_.clear();
    bool all = true;
    for (int item = 0; item < model_.items() && all; ++item) {
        grown_ = {{std::int16_t(item)}, 0};
        all = extend(std::size_t(item) + 1, model_.size(item), 0);
    }
    work_done_ += (most_list_nodes - nodes_left_) / 20 + 1;
    if (!all) {
        if (allowance_ == 0) phase_ = Phase::done;
        allowance_ /= 2;
        return;
    }
    for (const CoverColumn& column : columns_) {
        std::uint64_t mask = 0;
        for (const std::int16_t item : column.items)
            mask |= bit_of(item);
        masks_.push_back(mask);
    }
    lp_.emplace(columns_, model_.items(), model_.groups, allowance_ + grain_);
    pivots_left_ = most_pivots;
    phase_ = Phase::relax;
}

bool GroupCover::keeps_company(const std::vector<std::int16_t>& items) const {
    const auto has = [&](int item) {
        return std::find(items.begin(), items.end(), item) != items.end();
    };
    return std::all_of(model_.companies.begin(), model_.companies.end(), [&](const auto& c) {
        return !has(c.item) || std::any_of(c.partners.begin(), c.partners.end(), has);
    });
}

/// Adds the group that is being grown, and all that it grows into; false when there are too many.
bool GroupCover::extend(std::size_t from, int size, std::int64_t cost) {
    if (--nodes_left_ < 0) return false;
    if (size >= window_.low && size > 0 && keeps_company(grown_.items)) {
        if (columns_.size() >= most_columns) return false;
        columns_.push_back({grown_.items, cost});
    }
    if (size >= window_.high) return true;
    for (auto item = from; item < std::size_t(model_.items()); ++item) {
        if (size + model_.size(int(item)) > window_.high) continue;
        std::int64_t more = cost;
        bool clash = false;
        for (const std::int16_t mate : grown_.items) {
            clash = clash || model_.clashes(int(item), mate);
            more += wishes_.repeats[item * std::size_t(model_.items()) + std::size_t(mate)];
        }
        if (clash || more > allowance_) continue;
        grown_.items.push_back(std::int16_t(item));
        const bool all = extend(item + 1, size + model_.size(int(item)), more);
        grown_.items.pop_back();
        if (!all) return false;
    }
    return true;
}

void GroupCover::take_prices() {
    const auto prices = lp_->prices();
    lp_.reset();
    priced_ = prices.back() * model_.groups;
    for (int i = 0; i < model_.items(); ++i)
        priced_ += prices[std::size_t(i)];
    slack_.clear();
    for (const CoverColumn& column : columns_) {
        std::int64_t slack = column.cost * CoverLp::scale - prices.back();
        for (const std::int16_t item : column.items)
            slack -= prices[std::size_t(item)];
        slack_.push_back(slack);
    }
    const std::int64_t whole = CoverLp::bound(prices, model_.groups);
    phase_ = Phase::search;
    aim((whole + grain_ - 1) / grain_ * grain_);
}

/// Every cover below `target` is excluded; looks for one that costs just as much.
void GroupCover::aim(std::int64_t target) {
    target_ = target;
    bound_ = std::min(target, allowance_ + grain_);
    if (target > allowance_) {
        phase_ = Phase::done;
        return;
    }
    const std::int64_t spare = target * CoverLp::scale - priced_;
    std::vector<int> order;
    for (std::size_t c = 0; c < columns_.size(); ++c)
        if (slack_[c] <= spare) order.push_back(int(c));
    std::sort(order.begin(), order.end(), [&](int a, int b) {
        return slack_[std::size_t(a)] != slack_[std::size_t(b)]
                   ? slack_[std::size_t(a)] < slack_[std::size_t(b)]
                   : a < b;
    });
    by_item_.assign(std::size_t(model_.items()), {});
    for (const int column : order)
        for (const std::int16_t item : columns_[std::size_t(column)].items)
            by_item_[std::size_t(item)].push_back(column);
    work_done_ += 1 + std::int64_t(columns_.size()) / 100;
    stack_.clear();
    push(0, spare, -1);
}

/// Opens a choice point for the item with the fewest columns left.
void GroupCover::push(std::uint64_t covered, std::int64_t slack, int column) {
    Frame frame{covered, slack, -1, 0, column};
    int fewest = std::numeric_limits<int>::max();
    for (int item = 0; item < model_.items() && fewest > 0; ++item) {
        if ((covered & bit_of(item)) != 0) continue;
        int count = 0;
        for (const int c : by_item_[std::size_t(item)]) {
            if (slack_[std::size_t(c)] > slack || count >= fewest) break;
            count += (masks_[std::size_t(c)] & covered) == 0;
        }
        work_done_ += 1;
        if (count >= fewest) continue;
        fewest = count;
        frame.item = item;
    }
    stack_.push_back(frame);
}

bool GroupCover::helpers_reach(const std::vector<int>& chosen) const {
    return std::all_of(model_.helped.begin(), model_.helped.end(), [&](const auto& helped) {
        std::uint64_t mask = 0;
        for (const int item : helped.items)
            mask |= bit_of(item);
        return std::count_if(chosen.begin(), chosen.end(), [&](int c) {
                   return (masks_[std::size_t(c)] & mask) != 0;
               }) <= helped.groups;
    });
}

/// Keeps the cover on the stack.
void GroupCover::found() {
    for (const Frame& frame : stack_) {
        if (frame.column < 0) continue;
        const auto& items = columns_[std::size_t(frame.column)].items;
        groups_.emplace_back(items.begin(), items.end());
    }
    bound_ = target_;
    phase_ = Phase::done;
}

void GroupCover::search(std::int64_t nodes) {
    std::vector<int> chosen;
    for (; nodes > 0 && !stack_.empty(); --nodes) {
        ++work_done_;
        Frame& top = stack_.back();
        chosen.clear();
        for (const Frame& frame : stack_)
            if (frame.column >= 0) chosen.push_back(frame.column);
        if (top.item < 0) {
            // The slack leaves nothing below the target, so this cover costs exactly that much.
            if (int(chosen.size()) == model_.groups) {
                found();
                return;
            }
            stack_.pop_back();
            continue;
        }
        const auto& list = by_item_[std::size_t(top.item)];
        const auto usable = [&](int c) { return (masks_[std::size_t(c)] & top.covered) == 0; };
        while (top.next < list.size() && !usable(list[top.next]))
            ++top.next;
        if (top.next == list.size() || slack_[std::size_t(list[top.next])] > top.slack ||
            int(chosen.size()) >= model_.groups) {
            stack_.pop_back();
            continue;
        }
        const int column = list[top.next++];
        chosen.push_back(column);
        if (!helpers_reach(chosen)) continue;
        push(top.covered | masks_[std::size_t(column)], top.slack - slack_[std::size_t(column)],
             column);
    }
    if (stack_.empty()) aim(target_ + grain_);
}

}  // namespace tallyround::plan::detail
