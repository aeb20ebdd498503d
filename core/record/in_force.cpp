#include "record/in_force.h"

#include "record/fold.h"

namespace tallyround::record {

bool BackwardWalk::step(const Event& event) {
    if (!pending_.empty() && pending_.erase(event.ref()) > 0) return false;
    if (const auto* retracted = std::get_if<Retracted>(&event.body)) {
        pending_.insert(retracted->events.begin(), retracted->events.end());
        pending_.erase(event.ref());
    }
    return true;
}

std::vector<bool> in_force(std::span<const Event> ordered) {
    std::vector<bool> counts(ordered.size());
    BackwardWalk walk;
    for (std::size_t i = ordered.size(); i-- > 0;)
        counts[i] = walk.step(ordered[i]);
    return counts;
}

model::State fold(std::span<const Event> ordered) {
    const std::vector<bool> counts = in_force(ordered);
    model::State state;
    for (std::size_t i = 0; i < ordered.size(); ++i) {
        if (counts[i]) apply(state, ordered[i], i);
    }
    return state;
}

}  // namespace tallyround::record
