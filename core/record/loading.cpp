#include "record/loading.h"

#include <utility>

namespace tallyround::record {

Loading::Loading(ReplicaId replica, std::vector<Event> events)
    : log_(replica), events_(std::move(events)) {}

bool Loading::step(std::size_t most) {
    switch (part_) {
        case Part::erased:
            log_.erased_ = Erasures(events_);
            part_ = Part::order;
            return false;
        case Part::order:
            if (normalise(events_, log_.erased_) > 0) ++log_.rewrites_;
            part_ = Part::places;
            return false;
        case Part::places:
            log_.place_all(std::exchange(events_, {}));
            refold_ = Log::Refold(log_.events_.size());
            part_ = Part::fold;
            return false;
        case Part::fold:
            break;
    }
    return log_.step(refold_, {log_.events_}, most);
}

double Loading::progress() const {
    return part_ == Part::fold ? refold_.progress(log_.events_.size()) : 0;
}

}  // namespace tallyround::record
