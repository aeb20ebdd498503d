#include "plan/group_anneal.h"

#include <algorithm>
#include <cmath>

#include "plan/accept.h"

namespace tallyround::plan::detail {

namespace {

// What a wish weighs while annealing; which result is best is decided by GroupScore::better.
constexpr double moved_weight = 1e5;
constexpr double level_weight = 1000.0;
constexpr double shared_weight = 20.0;
constexpr int exchanges_a_degree = 128;

}  // namespace

GroupAnneal::GroupAnneal(const GroupModel& model, const GroupWishes& wishes, SizeWindow window,
                         std::vector<int> group_of, std::uint64_t seed)
    : model_(model), wishes_(wishes), window_(window), random_(seed) {
    for (int i = 0; i < model.items(); ++i)
        if (model.seat[i] < 0) free_.push_back(i);
    load(group_of);
    best_ = group_of_;
    best_score_ = now_;
}

void GroupAnneal::load(const std::vector<int>& group_of) {
    const auto groups = std::size_t(model_.groups);
    item_ = -1;
    back_.clear();
    group_of_ = group_of;
    in_.assign(groups, {});
    fill_.assign(groups, 0);
    sums_.assign(groups, 0);
    squares_.assign(groups, 0);
    counts_.assign(groups, 0);
    now_ = {};
    now_.repeat_cost = wishes_.inside_repeats;
    now_.shared_needs = wishes_.inside_shared;
    for (int i = 0; i < model_.items(); ++i) {
        const int g = group_of_[i];
        Change change;
        add_pairs(i, g, +1, change);
        now_.repeat_cost += change.repeats;
        now_.shared_needs += change.shared;
        if (!wishes_.moved.empty())
            now_.moved += wishes_.moved[std::size_t(i) * groups + std::size_t(g)];
        in_[g].push_back(i);
        fill_[g] += model_.size(i);
        sums_[g] += wishes_.level_sum[i];
        squares_[g] += wishes_.level_squares[i];
        counts_[g] += wishes_.level_count[i];
    }
    now_ = score();
}

GroupScore GroupAnneal::score() const {
    GroupScore s = now_;
    s.level_cost = level_measure(wishes_.policy, sums_, squares_, counts_, wishes_.total_squares);
    s.level_step = std::int64_t(s.level_cost * 50.0);
    return s;
}

void GroupAnneal::back_to_best() {
    load(std::vector<int>(best_));
}

void GroupAnneal::start_run(std::int64_t total, double hot) {
    const bool fine = !wishes_.only_repeats();
    const double cold = fine ? 0.05 : 60.0;
    run_total_ = std::max<std::int64_t>(total, 1);
    run_done_ = 0;
    temperature_ = hot;
    cooling_ = root_of(cold / hot, std::max<std::int64_t>(1, run_total_ / exchanges_a_degree));
}

bool GroupAnneal::step(std::int64_t exchanges) {
    if (free_.empty() || model_.groups < 2) return true;
    const std::int64_t end = std::min(run_total_, run_done_ + exchanges);
    for (; run_done_ < end; ++run_done_) {
        exchange(temperature_);
        if (run_done_ % exchanges_a_degree == exchanges_a_degree - 1) temperature_ *= cooling_;
    }
    return run_done_ >= run_total_;
}

bool GroupAnneal::is_back(int item) const {
    return std::find(back_.begin(), back_.end(), item) != back_.end();
}

void GroupAnneal::pick_back(int count) {
    const auto& there = in_[to_];
    for (int k = 0; k < count && !there.empty(); ++k) {
        const int item = there[std::size_t(random_.below(there.size()))];
        if (model_.seat[item] < 0 && !is_back(item)) back_.push_back(item);
    }
}

/// Chooses an exchange whose sizes fit.
bool GroupAnneal::pick() {
    item_ = free_[std::size_t(random_.below(free_.size()))];
    from_ = group_of_[item_];
    to_ = int(random_.below(std::uint64_t(model_.groups) - 1));
    to_ += to_ >= from_ ? 1 : 0;
    back_.clear();
    const int size = model_.size(item_);
    const auto fit = [&] {
        int back = 0;
        for (const int b : back_)
            back += model_.size(b);
        const int here = fill_[from_] - size + back;
        const int there = fill_[to_] + size - back;
        return here >= window_.low && here <= window_.high && there >= window_.low &&
               there <= window_.high;
    };
    const bool one_way = fit();
    if (one_way && random_.below(4) == 0) return true;
    pick_back(1);
    if (fit()) return true;
    pick_back(1);
    return fit();
}

bool GroupAnneal::keeps_rules() const {
    for (const int x : in_[to_])
        if (model_.clashes(item_, x) && !is_back(x)) return false;
    for (const int b : back_)
        for (const int x : in_[from_])
            if (x != item_ && model_.clashes(b, x)) return false;
    return true;
}

/// Adds `sign` times the wishes between `item` and the others of group `home`, leaving out the
/// items of the exchange.
void GroupAnneal::add_pairs(int item, int home, int sign, Change& change) const {
    const std::size_t row = std::size_t(item) * std::size_t(model_.items());
    for (const int x : in_[home]) {
        if (x == item_ || is_back(x)) continue;
        change.repeats += sign * wishes_.repeats[row + std::size_t(x)];
        change.shared += sign * wishes_.shared[row + std::size_t(x)];
    }
}

void GroupAnneal::level_shift(int item, int from, int to) {
    sums_[from] -= wishes_.level_sum[item];
    sums_[to] += wishes_.level_sum[item];
    squares_[from] -= wishes_.level_squares[item];
    squares_[to] += wishes_.level_squares[item];
    counts_[from] -= wishes_.level_count[item];
    counts_[to] += wishes_.level_count[item];
}

double GroupAnneal::level_after() {
    level_shift(item_, from_, to_);
    for (const int b : back_)
        level_shift(b, to_, from_);
    const double after =
        level_measure(wishes_.policy, sums_, squares_, counts_, wishes_.total_squares);
    level_shift(item_, to_, from_);
    for (const int b : back_)
        level_shift(b, from_, to_);
    return after;
}

GroupAnneal::Change GroupAnneal::change() {
    Change c;
    add_pairs(item_, to_, +1, c);
    add_pairs(item_, from_, -1, c);
    for (const int b : back_) {
        add_pairs(b, from_, +1, c);
        add_pairs(b, to_, -1, c);
    }
    if (!wishes_.moved.empty()) {
        const auto moved = [&](int item, int group) {
            return wishes_
                .moved[std::size_t(item) * std::size_t(model_.groups) + std::size_t(group)];
        };
        c.moved += moved(item_, to_) - moved(item_, from_);
        for (const int b : back_)
            c.moved += moved(b, from_) - moved(b, to_);
    }
    if (wishes_.policy != LevelPolicy::any) c.level = level_after() - now_.level_cost;
    return c;
}

void GroupAnneal::take() {
    const auto move = [&](int item, int from, int to) {
        in_[from].erase(std::find(in_[from].begin(), in_[from].end(), item));
        in_[to].push_back(item);
        fill_[from] -= model_.size(item);
        fill_[to] += model_.size(item);
        group_of_[item] = to;
        level_shift(item, from, to);
    };
    move(item_, from_, to_);
    for (const int b : back_)
        move(b, to_, from_);
}

void GroupAnneal::exchange(double temperature) {
    if (!pick() || !keeps_rules()) return;
    const Change c = change();
    const double delta = moved_weight * double(c.moved) + double(c.repeats) +
                         level_weight * c.level - shared_weight * double(c.shared);
    if (!accept(delta, temperature, random_)) return;
    take();
    now_.moved += c.moved;
    now_.repeat_cost += c.repeats;
    now_.shared_needs += c.shared;
    if (wishes_.policy != LevelPolicy::any) now_ = score();
    if (now_.better(best_score_)) {
        best_score_ = now_;
        best_ = group_of_;
    }
}

}  // namespace tallyround::plan::detail
