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
    if (log_->moves_ != moves_) leave_it();
    switch (part_) {
        case Part::look:
            look();
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
    return part_ == Part::over;
}

void Merging::leave_it() {
    at_once_ = true;
    part_ = Part::over;
}

/// Who is deleted for good is found out from all that there is: that is left to `Log::merge`.
void Merging::look() {
    if (!log_->erased_.empty() || !Erasures(incoming_).empty()) return leave_it();
    if (!std::is_sorted(incoming_.begin(), incoming_.end(), by_stamp)) {
        std::stable_sort(incoming_.begin(), incoming_.end(), by_stamp);
    }
    if (incoming_.empty()) return leave_it();
    const auto mine = log_->events();
    const auto first = std::lower_bound(mine.begin(), mine.end(), incoming_.front(), by_stamp);
    const auto before = std::size_t(first - mine.begin());
    if (size_ - before + incoming_.size() < at_least_) return leave_it();
    order_.reserve(size_ + incoming_.size());
    part_ = Part::order;
}

/// Which event comes where, without what is here already just as it stands. Names that are not
/// unique are left to `Log::merge`.
void Merging::order(std::size_t most) {
    const auto& mine = log_->events_;
    for (; mine_ < size_ || next_ < incoming_.size(); --most) {
        if (most == 0) return;
        const Event* here = mine_ < size_ ? &mine[mine_] : nullptr;
        const Event* there = next_ < incoming_.size() ? &incoming_[next_] : nullptr;
        if (here != nullptr && there != nullptr && same(*here, *there)) {
            ++next_;
            continue;
        }
        const bool new_one = here == nullptr || (there != nullptr && there->stamp < here->stamp);
        const Stamp& stamp = new_one ? there->stamp : here->stamp;
        std::uint64_t& last = last_[stamp.replica];
        if (stamp.sequence <= last) return leave_it();
        last = stamp.sequence;
        order_.push_back(std::uint32_t(new_one ? size_ + next_++ : mine_++));
    }
    if (order_.size() == size_) return leave_it();
    refold_ = Log::Refold(order_.size());
    part_ = Part::fold;
}

Log::Sequence Merging::sequence() const {
    return {log_->events().first(size_), incoming_, order_};
}

double Merging::progress() const {
    switch (part_) {
        case Part::look:
            return 0;
        case Part::order:
            return 0.2 * double(next_ + mine_) / double(size_ + incoming_.size());
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
    const std::size_t count = order_.size() - size_;
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
