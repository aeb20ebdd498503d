#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "model/state.h"
#include "record/event.h"

namespace tallyround::record {

/// A replica's whole record and the state it folds to, kept in step. Appending one event costs as
/// much as that event; taking one back costs a fold of what came after the last checkpoint.
class Log {
  public:
    explicit Log(ReplicaId replica) : replica_(replica) {}

    /// Replaces everything: sorts by stamp, drops events of the same name, folds.
    void load(std::vector<Event> events);
    /// Stamps the body (hybrid clock: never before any stamp seen), appends, folds.
    const Event& append(Body body, std::int64_t now_ms);
    /// Events that are not there yet come in, in any order; the state is folded anew when one of
    /// them is older than the newest. Returns how many were new.
    std::size_t merge(std::span<const Event> events);

    const model::State& state() const { return state_; }
    std::span<const Event> events() const { return events_; }
    const ReplicaId& replica() const { return replica_; }
    /// True when the event at this place counts (is not taken back).
    bool counts(std::size_t place) const { return in_force_[place]; }

  private:
    void refold();
    void checkpoint();

    ReplicaId replica_;
    std::vector<Event> events_;
    std::vector<bool> in_force_;
    model::State state_;
    model::State base_;  ///< state after the first `base_size_` events
    std::size_t base_size_ = 0;
    std::uint64_t next_sequence_ = 1;
};

/// A canonical text of the state, the same on every platform; hashed by `state_hash`.
std::string canonical(const model::State& state);
/// XXH3 128-bit of `canonical`, 32 hex digits: equal states, equal hash.
std::string state_hash(const model::State& state);
/// XXH3 128-bit of any bytes, 32 hex digits.
std::string bytes_hash(std::string_view bytes);

}  // namespace tallyround::record
