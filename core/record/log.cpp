#include "record/log.h"

#include <algorithm>
#include <iterator>
#include <limits>
#include <map>
#include <utility>

#include "record/codec.h"
#include "record/fold.h"
#include "record/members.h"

namespace tallyround::record {

namespace {

constexpr std::size_t checkpoint_every = 256;
constexpr std::size_t checkpoints_kept = 8;
/// Of the checkpoints that a whole fold leaves, each is so many times as far back as the next.
constexpr std::size_t further_back = 4;
constexpr std::size_t furthest_back = 65536;
/// Events of a long day, so that no tap has to wait while a large record moves to a larger place.
constexpr std::size_t room_to_grow = 4096;

/// True when every replica's sequence numbers only grow: then no two events share a name.
bool surely_unique(std::span<const Event> ordered) {
    std::map<ReplicaId, std::uint64_t> last;
    ReplicaId replica;  // most often the same again
    std::uint64_t* seen = &last[replica];
    for (const Event& e : ordered) {
        if (e.stamp.replica != replica) seen = &last[replica = e.stamp.replica];
        if (e.stamp.sequence <= *seen) return false;
        *seen = e.stamp.sequence;
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
    return normalise(events, Erasures(events));
}

std::size_t normalise(std::vector<Event>& events, const Erasures& erased) {
    const std::size_t purged = purge(events, erased);
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
    if (normalise(events, erased_) > 0) ++rewrites_;
    take_all(std::move(events));
}

/// Normalised events in place of all there were, not folded yet.
void Log::place_all(std::vector<Event> events) {
    ++moves_;
    events_ = std::move(events);
    make_room();
    next_sequence_ = 1;
    note_own(0);
}

void Log::make_room() {
    if (events_.capacity() < events_.size() + room_to_grow) {
        events_.reserve(events_.size() + 2 * room_to_grow);
    }
}

void Log::take_all(std::vector<Event> events) {
    place_all(std::move(events));
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

/// In order, without what is here already just as it stands.
void Log::keep_fresh(std::vector<Event>& incoming) const {
    if (!std::is_sorted(incoming.begin(), incoming.end(), by_stamp)) {
        std::stable_sort(incoming.begin(), incoming.end(), by_stamp);
    }
    auto mine = events_.begin();
    std::erase_if(incoming, [&](const Event& e) {
        while (mine != events_.end() && mine->stamp < e.stamp)
            ++mine;
        return mine != events_.end() && same(*mine, e);
    });
    normalise(incoming);
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

std::size_t Log::merge(std::vector<Event> incoming) {
    const bool somebody_new = erased_.add(Erasures(incoming));
    if (!erased_.empty()) {
        std::vector<Event> clean = incoming;
        const bool as_it_came = purge(clean, erased_) == 0 && clean.size() == incoming.size();
        if (somebody_new || !as_it_came) return merge_purged(incoming, somebody_new);
    }
    keep_fresh(incoming);
    if (incoming.empty()) return 0;
    if (events_.empty()) {
        take_all(std::move(incoming));
        return events_.size();
    }
    const std::size_t before = events_.size();
    if (events_.back().stamp < incoming.front().stamp) {
        for (Event& e : incoming)
            events_.push_back(std::move(e));
        if (surely_unique(events_)) {
            note_own(before);
            take_in(before);
            return events_.size() - before;
        }
        load(std::move(events_));
        return events_.size() - before;
    }
    return merge_older(std::move(incoming));
}

/// Puts events where they belong among newer ones, and folds from there.
std::size_t Log::merge_older(std::vector<Event> more) {
    const std::size_t before = events_.size();
    const auto first = std::upper_bound(events_.begin(), events_.end(), more.front(), by_stamp);
    const auto from = static_cast<std::size_t>(first - events_.begin());
    std::vector<Event> newer{std::move_iterator(first), std::move_iterator(events_.end())};
    events_.resize(from);
    std::merge(std::move_iterator(newer.begin()), std::move_iterator(newer.end()),
               std::move_iterator(more.begin()), std::move_iterator(more.end()),
               std::back_inserter(events_), by_stamp);
    if (!surely_unique(events_)) {
        load(std::move(events_));
        return events_.size() - before;
    }
    ++moves_;
    note_own(from);
    in_force_.resize(events_.size());
    while (!checkpoints_.empty() && checkpoints_.back().size > from)
        checkpoints_.pop_back();
    fold_from_checkpoint();
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
    if (retracts) fold_from_checkpoint();
    const std::size_t last = checkpoints_.empty() ? 0 : checkpoints_.back().size;
    if (events_.size() >= last + checkpoint_every) add_checkpoint(events_.size(), {});
}

/// After changes at the end: walks back to the newest checkpoint before them that no retraction
/// among them reaches behind, and folds from there.
void Log::fold_from_checkpoint() {
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
    checkpoints_.push_back(std::move(checkpoint));
    if (checkpoints_.size() <= checkpoints_kept) return;
    // The one goes that is missed least: those before and after it lie close, for their age.
    std::size_t least = 0;
    double least_gap = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i + 1 < checkpoints_.size(); ++i) {
        const std::size_t below = i == 0 ? 0 : checkpoints_[i - 1].size;
        const double gap = double(checkpoints_[i + 1].size - below) /
                           double(size + checkpoint_every - checkpoints_[i].size);
        if (gap < least_gap) {
            least_gap = gap;
            least = i;
        }
    }
    checkpoints_.erase(checkpoints_.begin() + static_cast<std::ptrdiff_t>(least));
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

Log::Refold::Refold(std::size_t size) : at(size) {
    for (std::size_t back = checkpoint_every; back < size && back <= furthest_back;
         back *= further_back) {
        halts[size - back];
    }
}

double Log::Refold::progress(std::size_t size) const {
    if (size == 0) return 1;
    const double share = double(at) / double(size);
    return goes_back ? 0.3 * (1 - share) : 0.3 + 0.7 * share;
}

void Log::refold() {
    Refold refold(events_.size());
    while (!step(refold, {events_}, events_.size())) {
    }
}

/// Goes on for about `most` of the events; true when all are folded.
bool Log::step(Refold& refold, const Sequence& events, std::size_t most) {
    const std::size_t size = events.size();
    std::size_t& at = refold.at;
    if (refold.goes_back) {
        if (at == size) in_force_.assign(size, true);
        for (; at > 0 && most > 0; --most) {
            --at;
            in_force_[at] = refold.walk.step(events[at]);
            const auto halt = refold.halts.find(at);
            if (halt != refold.halts.end()) halt->second = refold.walk.pending();
        }
        if (at > 0) return false;
        refold.goes_back = false;
        checkpoints_.clear();
        state_ = {};
    }
    for (; at < size && most > 0; ++at, --most) {
        const auto halt = refold.halts.find(at);
        if (halt != refold.halts.end()) add_checkpoint(at, std::move(halt->second));
        if (in_force_[at]) apply(state_, events[at], at);
    }
    return at == size;
}

}  // namespace tallyround::record
