#include "record/merging.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace tallyround::record {

Merging::Merging(const Log& log, std::vector<Event> incoming, std::size_t at_least)
    : log_(&log),
      incoming_(std::move(incoming)),
      at_least_(at_least),
      size_(log.events_.size()),
      moves_(log.moves_),
      merged_(log.replica_) {}

bool Merging::step(std::size_t most) {
    // Places have changed: what was worked out is worth nothing.
    at_once_ = at_once_ || log_->moves_ != moves_;
    if (at_once_) part_ = Part::over;
    switch (part_) {
        case Part::look:
            look();
            break;
        case Part::sift:
            sift(looks_for(most));
            break;
        case Part::order:
            order(looks_for(most));
            break;
        case Part::fold:
            if (merged_.step(refold_, sequence(), refold_.goes_back ? looks_for(most) : most)) {
                part_ = Part::over;
            }
            break;
        case Part::over:
            break;
    }
    if (at_once_) part_ = Part::over;
    return part_ == Part::over;
}

/// Who is deleted for good is found out from all that there is: that is left to `Log::merge`.
void Merging::look() {
    at_once_ = !log_->erased_.empty() || !Erasures(incoming_).empty();
    if (!std::is_sorted(incoming_.begin(), incoming_.end(), by_stamp)) {
        std::stable_sort(incoming_.begin(), incoming_.end(), by_stamp);
    }
    if (incoming_.empty()) return void(at_once_ = true);
    const auto mine = log_->events();
    const auto first = std::lower_bound(mine.begin(), mine.end(), incoming_.front(), by_stamp);
    mine_ = std::size_t(first - mine.begin());
    if (size_ - mine_ + incoming_.size() < at_least_) at_once_ = true;
    part_ = Part::sift;
}

/// Without what is here already just as it stands.
void Merging::sift(std::size_t most) {
    const auto& mine = log_->events_;
    for (; next_ < incoming_.size() && most > 0; ++next_) {
        const Event& e = incoming_[next_];
        for (; mine_ < size_ && most > 0 && mine[mine_].stamp < e.stamp; --most)
            ++mine_;
        if (most == 0) return;
        --most;
        if (mine_ < size_ && same(mine[mine_], e)) continue;
        if (kept_ != next_) incoming_[kept_] = std::move(incoming_[next_]);
        ++kept_;
    }
    if (next_ < incoming_.size()) return;
    incoming_.resize(kept_);
    if (incoming_.empty()) at_once_ = true;
    next_ = mine_ = 0;
    order_.reserve(size_ + incoming_.size());
    part_ = Part::order;
}

/// Which event comes where. Names that are not unique are left to `Log::merge`.
void Merging::order(std::size_t most) {
    const auto& mine = log_->events_;
    for (; mine_ < size_ || next_ < incoming_.size(); --most) {
        if (most == 0) return;
        const bool new_one = mine_ == size_ || (next_ < incoming_.size() &&
                                                incoming_[next_].stamp < mine[mine_].stamp);
        const std::size_t place = new_one ? size_ + next_++ : mine_++;
        const Stamp& stamp = new_one ? incoming_[place - size_].stamp : mine[place].stamp;
        std::uint64_t& last = last_[stamp.replica];
        if (stamp.sequence <= last) return void(at_once_ = true);
        last = stamp.sequence;
        order_.push_back(std::uint32_t(place));
    }
    refold_ = Log::Refold(order_.size());
    part_ = Part::fold;
}

Log::Sequence Merging::sequence() const {
    return {log_->events().first(size_), incoming_, order_};
}

double Merging::progress() const {
    const double all = double(size_ + incoming_.size()) + 1;
    switch (part_) {
        case Part::look:
            return 0;
        case Part::sift:
            return 0.1 * double(next_ + mine_) / all;
        case Part::order:
            return 0.1 + 0.1 * double(order_.size()) / all;
        case Part::fold:
            return 0.2 + 0.8 * refold_.progress(order_.size());
        case Part::over:
            break;
    }
    return 1;
}

/// True when the log has grown behind all that came in, if at all.
bool Merging::fits() const {
    const auto& events = log_->events_;
    return log_->moves_ == moves_ && events.size() >= size_ && log_->erased_.empty() &&
           (events.size() == size_ || incoming_.back().stamp < events[size_].stamp);
}

std::size_t Merging::finish(Log& log) {
    if (part_ != Part::over || at_once_ || !fits()) return log.merge(std::move(incoming_));
    const std::size_t count = incoming_.size();
    put_in(log);
    return count;
}

/// From the back, so that no event needs more than its own place.
void Merging::put_in(Log& log) {
    auto& events = log.events_;
    std::vector<Event> later{std::move_iterator(events.begin() + std::ptrdiff_t(size_)),
                             std::move_iterator(events.end())};
    events.resize(size_);
    if (size_ == 0) {
        events = std::move(incoming_);
    } else {
        events.resize(order_.size());
        for (std::size_t to = order_.size(); to > 0; --to) {
            const std::size_t from = order_[to - 1];
            if (from == to - 1 && from < size_) break;  // those before it stay where they are
            events[to - 1] = std::move(from < size_ ? events[from] : incoming_[from - size_]);
        }
    }
    const std::size_t whole = order_.size();
    ++log.moves_;
    log.in_force_ = std::move(merged_.in_force_);
    log.state_ = std::move(merged_.state_);
    log.checkpoints_ = std::move(merged_.checkpoints_);
    log.next_sequence_ = std::max(log.next_sequence_, last_[log.replica_] + 1);
    std::move(later.begin(), later.end(), std::back_inserter(events));
    log.make_room();
    log.take_in(whole);
}

}  // namespace tallyround::record
