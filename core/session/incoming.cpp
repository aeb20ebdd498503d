#include "session/incoming.h"

#include <algorithm>
#include <charconv>
#include <iterator>

namespace tallyround::session {

EventNames::EventNames(std::span<const record::Event> events) {
    for (const record::Event& e : events)
        add(e.ref());
}

void EventNames::add(const record::EventRef& ref) {
    const std::uint64_t n = ref.sequence;
    Runs& runs = runs_[ref.replica];
    const auto after = runs.upper_bound(n);
    const auto joined = after != runs.end() && after->first == n + 1 ? after : runs.end();
    const std::uint64_t last = joined == runs.end() ? n : joined->second;
    if (after != runs.begin()) {
        const auto before = std::prev(after);
        if (n <= before->second) return;
        if (n == before->second + 1) {
            before->second = last;
            if (joined != runs.end()) runs.erase(joined);
            return;
        }
    }
    if (joined != runs.end()) runs.erase(joined);
    runs.emplace(n, last);
}

bool EventNames::contains(const record::EventRef& ref) const {
    const auto it = runs_.find(ref.replica);
    if (it == runs_.end()) return false;
    const auto after = it->second.upper_bound(ref.sequence);
    return after != it->second.begin() && ref.sequence <= std::prev(after)->second;
}

std::string EventNames::text() const {
    std::string out;
    for (const auto& [replica, runs] : runs_) {
        out += (out.empty() ? "" : ";") + replica.str();
        char before = ':';
        for (const auto& [first, last] : runs) {
            out += before + std::to_string(first) + "-" + std::to_string(last);
            before = ',';
        }
    }
    return out;
}

namespace {

/// Up to the next `end`, which goes as well.
std::string_view take_until(std::string_view& text, char end) {
    const std::size_t at = std::min(text.find(end), text.size());
    const std::string_view out = text.substr(0, at);
    text.remove_prefix(std::min(at + 1, text.size()));
    return out;
}

std::uint64_t number_of(std::string_view text) {
    std::uint64_t n = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
    return error == std::errc() && end == text.data() + text.size() ? n : 0;
}

}  // namespace

EventNames EventNames::read(std::string_view text) {
    EventNames out;
    while (!text.empty()) {
        std::string_view runs = take_until(text, ';');
        const std::string_view replica = take_until(runs, ':');
        while (record::ReplicaId::fits(replica) && !runs.empty()) {
            std::string_view run = take_until(runs, ',');
            const std::uint64_t first = number_of(take_until(run, '-'));
            const std::uint64_t last = number_of(run);
            if (first == 0 || last < first) continue;
            out.runs_[record::ReplicaId(replica)].insert_or_assign(first, last);
        }
    }
    return out;
}

Beginning::Beginning(const record::Log& log, std::size_t size)
    : size_(size),
      last_(size > 0 ? log.events()[size - 1].stamp : record::Stamp{}),
      rewrites_(log.rewrites()) {}

bool Beginning::holds(const record::Log& log) const {
    const auto events = log.events();
    // Whatever came in before the last of them has moved it.
    return log.rewrites() == rewrites_ && events.size() >= size_ &&
           (size_ == 0 || events[size_ - 1].stamp == last_);
}

Sieve::Sieve(const record::Log& log) : log_(&log), began_(log, log.events().size()) {}

bool Sieve::fresh(const record::Event& event) {
    const auto events = log_->events();
    const bool right_here = next_ < events.size() && events[next_].stamp == event.stamp;
    if (!right_here) {
        const auto at = std::lower_bound(
            events.begin(), events.end(), event.stamp,
            [](const record::Event& e, const record::Stamp& s) { return e.stamp < s; });
        next_ = static_cast<std::size_t>(at - events.begin());
    }
    if (next_ >= events.size() || !record::same(events[next_], event)) return true;
    if (seen_.size() < events.size()) seen_.resize(events.size());
    seen_[next_++] = true;
    return false;
}

}  // namespace tallyround::session
