#include "record/loading.h"

#include <utility>

namespace tallyround::record {

Loading::Loading(ReplicaId replica, std::vector<Event> events)
    : log_(replica), events_(std::move(events)) {}

bool Loading::step(std::size_t most) {
    if (in_order_) return log_.step(refold_, most);
    in_order_ = true;
    log_.erased_ = Erasures(events_);
    if (normalise(events_) > 0) ++log_.rewrites_;
    log_.place_all(std::exchange(events_, {}));
    refold_ = Log::Refold(log_.events_.size());
    return false;
}

double Loading::progress() const {
    const std::size_t size = log_.events_.size();
    if (!in_order_ || size == 0) return 0;
    const double share = double(refold_.at) / double(size);
    return refold_.goes_back ? 0.3 * (1 - share) : 0.3 + 0.7 * share;
}

}  // namespace tallyround::record
