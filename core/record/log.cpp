#include "record/log.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <utility>

#include "record/codec.h"
#include "record/fold.h"
#include "record/in_force.h"
#include "record/members.h"

namespace tallyround::record {

namespace {

constexpr std::size_t checkpoint_every = 256;
constexpr std::size_t checkpoints_kept = 4;
/// Events of a long day, so that no tap has to wait while a large record moves to a larger place.
constexpr std::size_t room_to_grow = 4096;

bool by_stamp(const Event& a, const Event& b) {
    return a.stamp < b.stamp;
}

/// True when every replica's sequence numbers only grow: then no two events share a name.
bool surely_unique(std::span<const Event> ordered) {
    std::map<ReplicaId, std::uint64_t> last;
    for (const Event& e : ordered) {
        std::uint64_t& seen = last[e.stamp.replica];
        if (e.stamp.sequence <= seen) return false;
        seen = e.stamp.sequence;
    }
    return true;
}

template <class B>
bool same_body(const B& a, const B& b) {
    bool equal = true;
    each_member<B>([&](const auto& m) { equal = equal && a.*m.at == b.*m.at; });
    return equal;
}
bool same_body(const Foreign& a, const Foreign& b) {
    return a.kind == b.kind && a.json == b.json;
}

}  // namespace

bool same(const Event& a, const Event& b) {
    if (a.stamp != b.stamp || a.extra != b.extra || a.body.index() != b.body.index()) return false;
    return std::visit(
        [&]<class B>(const B& body) { return same_body(body, *std::get_if<B>(&b.body)); }, a.body);
}

std::size_t normalise(std::vector<Event>& events) {
    const std::size_t purged = purge(events, Erasures(events));
    if (!std::is_sorted(events.begin(), events.end(), by_stamp)) {
        std::stable_sort(events.begin(), events.end(), by_stamp);
    }
    if (surely_unique(events)) return purged;
    std::map<EventRef, std::size_t> kept;
    std::vector<bool> drop(events.size());
    for (std::size_t i = 0; i < events.size(); ++i) {
        const auto [it, fresh] = kept.try_emplace(events[i].ref(), i);
        if (fresh) continue;
        const Event& there = events[it->second];
        const bool better = there.stamp == events[i].stamp && to_line(events[i]) < to_line(there);
        drop[better ? it->second : i] = true;
        if (better) it->second = i;
    }
    std::size_t to = 0;
    for (std::size_t i = 0; i < events.size(); ++i) {
        if (drop[i]) continue;
        if (to != i) events[to] = std::move(events[i]);
        ++to;
    }
    events.resize(to);
    return purged;
}

void Log::load(std::vector<Event> events) {
    erased_ = Erasures(events);
    if (normalise(events) > 0) ++rewrites_;
    take_all(std::move(events));
}

/// Normalised events in place of all there were.
void Log::take_all(std::vector<Event> events) {
    events_ = std::move(events);
    if (events_.capacity() < events_.size() + room_to_grow) {
        events_.reserve(events_.size() + 2 * room_to_grow);
    }
    next_sequence_ = 1;
    note_own(0);
    refold();
}

/// The sequence goes on after the largest of our own among the events from `from` on.
void Log::note_own(std::size_t from) {
    for (std::size_t i = from; i < events_.size(); ++i) {
        const Stamp& stamp = events_[i].stamp;
        if (stamp.replica == replica_)
            next_sequence_ = std::max(next_sequence_, stamp.sequence + 1);
    }
}

Stamp Log::next_stamp(std::int64_t now_ms) {
    Stamp stamp{now_ms, 0, replica_, next_sequence_++};
    if (events_.empty() || now_ms > events_.back().stamp.ms) return stamp;
    const Stamp& last = events_.back().stamp;
    stamp.ms = last.ms;
    stamp.counter = last.counter + 1;
    if (stamp.counter == 0) ++stamp.ms;
    return stamp;
}

const Event& Log::append(Body body, std::int64_t now_ms) {
    const Stamp stamp = next_stamp(now_ms);
    events_.push_back({stamp, std::move(body), {}});
    if (std::holds_alternative<Erased>(events_.back().body)) {
        load(std::move(events_));
        return events_.back();
    }
    take_in(events_.size() - 1);
    return events_.back();
}

std::vector<Event> Log::fresh(std::span<const Event> incoming) const {
    std::vector<const Event*> order;
    order.reserve(incoming.size());
    for (const Event& e : incoming)
        order.push_back(&e);
    std::stable_sort(order.begin(), order.end(),
                     [](const Event* a, const Event* b) { return a->stamp < b->stamp; });
    std::vector<Event> out;
    auto mine = events_.begin();
    for (const Event* e : order) {
        while (mine != events_.end() && mine->stamp < e->stamp)
            ++mine;
        const bool there = mine != events_.end() && same(*mine, *e);
        if (!there) out.push_back(*e);
    }
    normalise(out);
    return out;
}

/// The union, without those who are deleted for good on either side.
std::size_t Log::merge_purged(std::span<const Event> incoming, bool somebody_new) {
    std::set<EventRef> before;
    for (const Event& e : events_)
        before.insert(e.ref());
    std::vector<Event> all = events_;
    all.insert(all.end(), incoming.begin(), incoming.end());
    normalise(all);
    if (std::equal(all.begin(), all.end(), events_.begin(), events_.end(), same)) return 0;
    rewrites_ += somebody_new ? 1 : 0;
    take_all(std::move(all));
    return static_cast<std::size_t>(std::count_if(
        events_.begin(), events_.end(), [&](const Event& e) { return !before.contains(e.ref()); }));
}

std::size_t Log::merge(std::span<const Event> incoming) {
    const bool somebody_new = erased_.add(Erasures(incoming));
    if (!erased_.empty()) {
        std::vector<Event> clean(incoming.begin(), incoming.end());
        const bool as_it_came = purge(clean, erased_) == 0 && clean.size() == incoming.size();
        if (somebody_new || !as_it_came) return merge_purged(incoming, somebody_new);
    }
    std::vector<Event> more = fresh(incoming);
    if (more.empty()) return 0;
    const std::size_t before = events_.size();
    if (before == 0 || events_.back().stamp < more.front().stamp) {
        for (Event& e : more)
            events_.push_back(std::move(e));
        if (surely_unique(events_)) {
            note_own(before);
            take_in(before);
            return events_.size() - before;
        }
        load(std::move(events_));
        return events_.size() - before;
    }
    std::vector<Event> all;
    all.reserve(before + more.size());
    std::merge(std::move_iterator(events_.begin()), std::move_iterator(events_.end()),
               std::move_iterator(more.begin()), std::move_iterator(more.end()),
               std::back_inserter(all), by_stamp);
    load(std::move(all));
    return events_.size() - before;
}

/// Folds the events from `from` on, which are newer than all others.
void Log::take_in(std::size_t from) {
    bool retracts = false;
    for (std::size_t i = from; i < events_.size(); ++i) {
        in_force_.push_back(true);
        if (std::holds_alternative<Retracted>(events_[i].body)) {
            retracts = true;
        } else if (!retracts) {
            apply(state_, events_[i], i);
        }
    }
    if (retracts) retract();
    const std::size_t last = checkpoints_.empty() ? 0 : checkpoints_.back().size;
    if (events_.size() >= last + checkpoint_every) add_checkpoint(events_.size(), {});
}

/// After retractions at the end: walks back to the newest checkpoint that none of them changed
/// and folds from there.
void Log::retract() {
    BackwardWalk walk;
    std::size_t at = events_.size();
    while (!checkpoints_.empty()) {
        const Checkpoint& checkpoint = checkpoints_.back();
        for (; at > checkpoint.size; --at)
            in_force_[at - 1] = walk.step(events_[at - 1]);
        if (walk.pending() == checkpoint.pending) {
            rewind(checkpoint);
            return;
        }
        checkpoints_.pop_back();
    }
    refold();
}

void Log::add_checkpoint(std::size_t size, std::set<EventRef> pending) {
    Checkpoint checkpoint{size, {}, {}, std::move(pending)};
    std::vector<std::vector<Mark>> marks;
    for (Class& cls : state_.classes) {
        checkpoint.marks.push_back(cls.marks.size());
        marks.push_back(std::exchange(cls.marks, {}));
    }
    checkpoint.state = state_;
    for (std::size_t c = 0; c < marks.size(); ++c)
        state_.classes[c].marks = std::move(marks[c]);
    if (checkpoints_.size() == checkpoints_kept) checkpoints_.erase(checkpoints_.begin());
    checkpoints_.push_back(std::move(checkpoint));
}

void Log::rewind(const Checkpoint& checkpoint) {
    model::State state = checkpoint.state;
    for (std::size_t c = 0; c < state.classes.size(); ++c) {
        state.classes[c].marks = std::move(state_.classes[c].marks);
        state.classes[c].marks.resize(checkpoint.marks[c]);
    }
    state_ = std::move(state);
    for (std::size_t i = checkpoint.size; i < events_.size(); ++i) {
        if (in_force_[i]) apply(state_, events_[i], i);
    }
}

void Log::refold() {
    checkpoints_.clear();
    const std::size_t size = events_.size();
    const std::size_t halt = size > checkpoint_every ? size - checkpoint_every : 0;
    in_force_.assign(size, true);
    BackwardWalk walk;
    std::set<EventRef> pending;
    for (std::size_t i = size; i-- > 0;) {
        in_force_[i] = walk.step(events_[i]);
        if (i == halt) pending = walk.pending();
    }
    state_ = {};
    for (std::size_t i = 0; i < size; ++i) {
        if (i == halt && i > 0) add_checkpoint(i, std::move(pending));
        if (in_force_[i]) apply(state_, events_[i], i);
    }
}

}  // namespace tallyround::record
