#include "session/bringing.h"

#include <utility>

#include "session/conflicts.h"

namespace tallyround::session {

Bringing::Bringing(const record::Log& log, Incoming incoming, bool whole, std::size_t most_told)
    : log_(&log),
      size_(log.events().size()),
      began_(log, size_),
      whole_(whole),
      most_told_(most_told),
      fresh_(std::move(incoming.events)),
      seen_(std::move(incoming.seen)) {
    seen_.resize(size_);
}

bool Bringing::step(std::size_t most) {
    // Places have changed: what both sides changed is not found out, the merge itself is.
    if (!began_.holds(*log_)) {
        whole_ = false;
        if (part_ == Part::here || part_ == Part::ours) part_ = Part::merge;
    }
    const std::size_t looks = record::Merging::looks_for(most);
    switch (part_) {
        case Part::here:
            look_here(looks);
            return false;
        case Part::fresh:
            sift(looks);
            return false;
        case Part::ours:
            find_ours(looks);
            return false;
        case Part::merge:
            break;
    }
    if (!merging_) {
        begin_merge();
        return false;
    }
    return merging_->step(most);
}

void Bringing::look_here(std::size_t most) {
    const auto events = log_->events();
    for (; next_ < size_ && most > 0; ++next_, --most) {
        here_.add(events[next_].ref());
        if (seen_[next_]) both_.add(events[next_].ref());
    }
    if (next_ < size_) return;
    next_ = 0;
    part_ = Part::fresh;
}

/// Without what has the name of an event that is here, and without what comes twice.
void Bringing::sift(std::size_t most) {
    for (; next_ < fresh_.size() && most > 0; ++next_, --most) {
        const record::EventRef ref = fresh_[next_].ref();
        if (sides_.theirs.contains(ref)) continue;
        const bool known = here_.contains(ref);
        (known ? both_ : sides_.theirs).add(ref);
        if (known) continue;
        own_ = own_ || ref.replica == log_->replica();
        may_conflict_ = may_conflict_ || sets_fields(fresh_[next_]);
        if (kept_ != next_) fresh_[kept_] = std::move(fresh_[next_]);
        ++kept_;
    }
    if (next_ < fresh_.size()) return;
    fresh_.resize(kept_);
    count_ = kept_;
    next_ = 0;
    part_ = whole_ && count_ > 0 ? Part::ours : Part::merge;
}

void Bringing::find_ours(std::size_t most) {
    const auto events = log_->events();
    for (; next_ < size_ && most > 0; ++next_, --most) {
        const record::EventRef ref = events[next_].ref();
        if (!both_.contains(ref)) sides_.ours.add(ref);
    }
    if (next_ == size_) part_ = Part::merge;
}

void Bringing::begin_merge() {
    if (count_ <= most_told_) told_ = fresh_;
    merging_.emplace(*log_, std::exchange(fresh_, {}));
}

double Bringing::progress() const {
    if (part_ == Part::merge) return 0.3 + (merging_ ? 0.7 * merging_->progress() : 0);
    const double share = double(next_) / double(1 + size_ + fresh_.size());
    return 0.1 * (double(part_) + share);
}

}  // namespace tallyround::session
