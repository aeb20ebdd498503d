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
    done_.clear();
    undone_.clear();
    std::vector<record::Event> decision;
    for (const record::Event& e : log.events()) {
        if (e.stamp.replica != log.replica()) continue;
        if (!decision.empty() && decision.back().stamp.ms != e.stamp.ms) {
            add(decision);
            decision.clear();
        }
        decision.push_back(e);
    }
    add(decision);
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
