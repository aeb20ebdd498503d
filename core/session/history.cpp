#include "session/history.h"

#include <algorithm>

namespace tallyround::session {

namespace {

bool counts(const record::Log& log, const record::EventRef& ref) {
    const std::ptrdiff_t place = place_of(log, ref);
    return place >= 0 && log.counts(std::size_t(place));
}

bool any_counts(const record::Log& log, const History::Entry& entry) {
    return std::any_of(entry.events.begin(), entry.events.end(),
                       [&](const record::EventRef& ref) { return counts(log, ref); });
}

}  // namespace

void History::push(Entry entry) {
    done_.push_back(std::move(entry));
    if (done_.size() > depth) done_.pop_front();
}

void History::add(const std::vector<record::Event>& decision) {
    if (decision.empty()) return;
    // Deleting for good is not taken back, nor is what it left of an event (see record/erase.h).
    if (std::all_of(decision.begin(), decision.end(), [](const record::Event& e) {
            const auto* taken = std::get_if<record::Retracted>(&e.body);
            return std::holds_alternative<record::Erased>(e.body) ||
                   (taken != nullptr && taken->events.empty());
        })) {
        return;
    }
    if (decision.size() == 1) {
        if (const auto* taken = std::get_if<record::Retracted>(&decision.front().body)) {
            if (!done_.empty() && taken->events == done_.back().events) {
                undone_.push_back({std::move(done_.back()), decision.front().ref()});
                done_.pop_back();
                return;
            }
            if (!undone_.empty() && taken->events == std::vector{undone_.back().by}) {
                push(std::move(undone_.back().entry));
                undone_.pop_back();
                return;
            }
        }
    }
    Entry entry;
    for (const record::Event& e : decision)
        entry.events.push_back(e.ref());
    push(std::move(entry));
    undone_.clear();
}

void History::add_foreign(std::vector<record::EventRef> events) {
    push({std::move(events)});
    undone_.clear();
}

void History::read(const record::Log& log) {
    // The newest decisions are enough, unless one of them takes back something older.
    std::size_t enough = 4 * depth;
    while (!read_newest(log, enough))
        enough *= 4;
}

/// Reads decisions from the newest `most` events of this device; false when those before them may
/// matter, too.
bool History::read_newest(const record::Log& log, std::size_t most) {
    done_.clear();
    undone_.clear();
    if (!log.has_own()) return true;
    const auto events = log.events();
    std::size_t from = events.size();
    for (std::size_t n = 0; from > 0 && n < most; --from)
        n += events[from - 1].stamp.replica == log.replica() ? 1 : 0;
    // A decision's events share a millisecond: the first one found may be cut in two.
    const std::int64_t cut_ms = from > 0 ? events[from].stamp.ms : -1;
    std::uint64_t first = 0;
    bool reaches_back = false;
    std::vector<record::Event> decision;
    for (const record::Event& e : events.subspan(from)) {
        if (e.stamp.replica != log.replica() || e.stamp.ms == cut_ms) continue;
        if (first == 0) first = e.stamp.sequence;
        if (const auto* taken = std::get_if<record::Retracted>(&e.body)) {
            for (const record::EventRef& ref : taken->events)
                reaches_back |= ref.replica == log.replica() && ref.sequence < first;
        }
        if (!decision.empty() && decision.back().stamp.ms != e.stamp.ms) {
            add(decision);
            decision.clear();
        }
        decision.push_back(e);
    }
    add(decision);
    return from == 0 || (!reaches_back && done_.size() == depth);
}

const History::Entry* History::undoable(const record::Log& log) const {
    const auto it = std::find_if(done_.rbegin(), done_.rend(),
                                 [&](const Entry& entry) { return any_counts(log, entry); });
    return it == done_.rend() ? nullptr : &*it;
}

void History::drop_dead(const record::Log& log) {
    while (!done_.empty() && !any_counts(log, done_.back()))
        done_.pop_back();
}

const record::EventRef* History::redoable() const {
    return undone_.empty() ? nullptr : &undone_.back().by;
}

std::ptrdiff_t place_of(const record::Log& log, const record::EventRef& ref) {
    // A replica's own events come in the order of their sequence numbers, mostly near the end.
    const auto events = log.events();
    for (std::size_t i = events.size(); i > 0; --i) {
        const record::Stamp& stamp = events[i - 1].stamp;
        if (stamp.replica != ref.replica) continue;
        if (stamp.sequence == ref.sequence) return std::ptrdiff_t(i - 1);
        if (stamp.sequence < ref.sequence) return -1;
    }
    return -1;
}

}  // namespace tallyround::session
