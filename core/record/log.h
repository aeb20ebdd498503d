#pragma once
#include <cstdint>
#include <map>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "model/state.h"
#include "record/erase.h"
#include "record/event.h"
#include "record/hash.h"
#include "record/in_force.h"

namespace tallyround::record {

/// True when two events have the same stamp and say the same.
bool same(const Event& a, const Event& b);

/// The order of every record.
inline bool by_stamp(const Event& a, const Event& b) {
    return a.stamp < b.stamp;
}

/// Takes out what was deleted for good (`purge`), sorts by stamp and keeps one event of each name,
/// so that any two records with the same events become the same sequence. Should two different
/// events carry one name (a copied replica), the one with the smaller stamp stays, then the one
/// whose line is smaller: the same on every device. Returns how many events were deleted or
/// changed.
std::size_t normalise(std::vector<Event>& events);
/// The same where `erased` is known to be what the events say.
std::size_t normalise(std::vector<Event>& events, const Erasures& erased);

/// A replica's whole record and the state it folds to, kept in step. Appending one event costs as
/// much as that event; taking one back, or taking in older ones from elsewhere, costs a fold of
/// what came after the last checkpoint before it (a few hundred events for a recent one, four times
/// as many for each step back), and nothing per mark already there.
class Log {
  public:
    explicit Log(ReplicaId replica) : replica_(replica) {}

    /// Replaces everything: sorts by stamp, drops events of the same name, folds.
    void load(std::vector<Event> events);
    /// Stamps the body (hybrid clock: never before any stamp seen), appends, folds. The reference
    /// is good until the next change.
    const Event& append(Body body, std::int64_t now_ms);
    /// Events that are not there yet come in, in any order; the state is folded anew when one of
    /// them is older than the newest. Returns how many were new.
    std::size_t merge(std::vector<Event> events);
    std::size_t merge(std::span<const Event> events) {
        return merge(std::vector<Event>(events.begin(), events.end()));
    }

    /// Raised whenever events that were in the record went or changed because somebody was deleted
    /// for good: what keeps copies of them (storage) has to be written anew.
    std::uint64_t rewrites() const { return rewrites_; }
    /// Raised whenever the place of an event that was in the record may have changed.
    std::uint64_t moves() const { return moves_; }
    const Erasures& erased() const { return erased_; }

    const model::State& state() const { return state_; }
    std::span<const Event> events() const { return events_; }
    const ReplicaId& replica() const { return replica_; }
    /// Whether there are events of this replica.
    bool has_own() const { return next_sequence_ > 1; }
    /// True when the event at this place counts (is not taken back).
    bool counts(std::size_t place) const { return in_force_[place]; }

  private:
    /// The state after the first `size` events, without marks (they only ever grow, so their
    /// numbers are enough), and what later retractions had taken out of those events by then.
    struct Checkpoint {
        std::size_t size = 0;
        model::State state;
        std::vector<std::size_t> marks;
        std::set<EventRef> pending;
    };

    /// A record in order that may lie in two parts, of which `order` tells what comes where: the
    /// place in `first` or, counted on from its end, in `second`.
    struct Sequence {
        std::span<const Event> first;
        std::span<const Event> second = {};
        std::span<const std::uint32_t> order = {};

        std::size_t size() const { return order.empty() ? first.size() : order.size(); }
        const Event& operator[](std::size_t place) const {
            if (!order.empty()) place = order[place];
            return place < first.size() ? first[place] : second[place - first.size()];
        }
    };

    /// Folding everything anew, in steps: back through the record for what counts, then forth.
    struct Refold {
        explicit Refold(std::size_t size);
        double progress(std::size_t size) const;  ///< 0 .. 1
        bool goes_back = true;
        std::size_t at;
        BackwardWalk walk;
        std::map<std::size_t, std::set<EventRef>> halts;  ///< where checkpoints go; pending there
    };
    friend class Loading;
    friend class Merging;

    void keep_fresh(std::vector<Event>& incoming) const;
    std::size_t merge_purged(std::span<const Event> incoming, bool somebody_new);
    void place_all(std::vector<Event> events);
    void take_all(std::vector<Event> events);
    std::size_t merge_older(std::vector<Event> more);
    void note_own(std::size_t from);
    Stamp next_stamp(std::int64_t now_ms);
    void take_in(std::size_t from);
    void fold_from_checkpoint();
    void rewind(const Checkpoint& checkpoint);
    void refold();
    bool step(Refold& refold, const Sequence& events, std::size_t most);
    void make_room();
    void add_checkpoint(std::size_t size, std::set<EventRef> pending);

    ReplicaId replica_;
    std::vector<Event> events_;  ///< by stamp
    std::vector<bool> in_force_;
    model::State state_;
    std::vector<Checkpoint> checkpoints_;  ///< oldest first
    std::uint64_t next_sequence_ = 1;
    Erasures erased_;
    std::uint64_t rewrites_ = 0;
    std::uint64_t moves_ = 0;
};

}  // namespace tallyround::record
