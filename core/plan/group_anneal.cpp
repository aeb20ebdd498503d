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
    out_.clear();
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

bool GroupAnneal::is_out(int item) const {
    return std::find(out_.begin(), out_.end(), item) != out_.end();
}

bool GroupAnneal::is_back(int item) const {
    return std::find(back_.begin(), back_.end(), item) != back_.end();
}

/// Any free item; every other time one who needs a partner takes one along.
void GroupAnneal::pick_out() {
    const int item = free_[std::size_t(random_.below(free_.size()))];
    out_.assign(1, item);
    from_ = group_of_[item];
    const auto& kin = model_.kin[item];
    if (kin.empty() || random_.below(2) == 0) return;
    const int mate = kin[std::size_t(random_.below(kin.size()))];
    if (group_of_[mate] == from_ && model_.seat[mate] < 0) out_.push_back(mate);
}

void GroupAnneal::pick_back() {
    const auto& there = in_[to_];
    if (there.empty()) return;
    const int item = there[std::size_t(random_.below(there.size()))];
    if (model_.seat[item] < 0 && !is_back(item)) back_.push_back(item);
}

bool GroupAnneal::sizes_fit() const {
    int more = 0;
    for (const int item : out_)
        more += model_.size(item);
    for (const int item : back_)
        more -= model_.size(item);
    const int here = fill_[from_] - more;
    const int there = fill_[to_] + more;
    return here >= window_.low && here <= window_.high && there >= window_.low &&
           there <= window_.high;
}

/// Chooses an exchange whose sizes fit.
bool GroupAnneal::pick() {
    pick_out();
    to_ = int(random_.below(std::uint64_t(model_.groups) - 1));
    to_ += to_ >= from_ ? 1 : 0;
    back_.clear();
    const bool one_way = sizes_fit();
    if (one_way && random_.below(4) == 0) return true;
    for (std::size_t i = 0; i <= out_.size(); ++i) {
        pick_back();
        if (sizes_fit()) return true;
    }
    return false;
}

bool GroupAnneal::keeps_rules() const {
    for (const int item : out_)
        for (const int x : in_[to_])
            if (model_.clashes(item, x) && !is_back(x)) return false;
    for (const int b : back_)
        for (const int x : in_[from_])
            if (!is_out(x) && model_.clashes(b, x)) return false;
    return stays_content();
}

bool GroupAnneal::stays_content() const {
    const auto plain = [&](int item) {
        return model_.kin[item].empty() && model_.helpers_of[item].empty();
    };
    const bool nobody = std::all_of(out_.begin(), out_.end(), plain) &&
                        std::all_of(back_.begin(), back_.end(), plain);
    return nobody || model_.content([&](int item) {
        return is_out(item) ? to_ : is_back(item) ? from_ : group_of_[item];
    });
}

/// Adds `sign` times the wishes between `item` and the others of group `home`, leaving out the
/// items of the exchange.
void GroupAnneal::add_pairs(int item, int home, int sign, Change& change) const {
    const std::size_t row = std::size_t(item) * std::size_t(model_.items());
    for (const int x : in_[home]) {
        if (is_out(x) || is_back(x)) continue;
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
    for (const int item : out_)
        level_shift(item, from_, to_);
    for (const int b : back_)
        level_shift(b, to_, from_);
    const double after =
        level_measure(wishes_.policy, sums_, squares_, counts_, wishes_.total_squares);
    for (const int item : out_)
        level_shift(item, to_, from_);
    for (const int b : back_)
        level_shift(b, from_, to_);
    return after;
}

GroupAnneal::Change GroupAnneal::change() {
    Change c;
    for (const int item : out_) {
        add_pairs(item, to_, +1, c);
        add_pairs(item, from_, -1, c);
    }
    for (const int b : back_) {
        add_pairs(b, from_, +1, c);
        add_pairs(b, to_, -1, c);
    }
    if (!wishes_.moved.empty()) {
        const auto moved = [&](int item, int group) {
            return wishes_
                .moved[std::size_t(item) * std::size_t(model_.groups) + std::size_t(group)];
        };
        for (const int item : out_)
            c.moved += moved(item, to_) - moved(item, from_);
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
    for (const int item : out_)
        move(item, from_, to_);
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
