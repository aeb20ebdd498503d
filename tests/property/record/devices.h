#pragma once
#include <string>
#include <vector>

#include "../../support/random_events.h"
#include "record/log.h"

namespace tallyround::testing {

/// A few devices with clocks hours apart that write, undo and hear of each other now and then.
class Devices {
  public:
    Devices(base::Random& random, int devices, int steps, bool erases = false)
        : random_(random), draw_{random, 5, erases} {
        for (int d = 0; d < devices; ++d) {
            logs_.emplace_back(ReplicaId("r" + std::to_string(d)));
            skew_.push_back(random.between(-6 * hour, 6 * hour));
        }
        for (Body& body : some_class())
            logs_[0].append(std::move(body), 1'000'000);
        for (int i = 0; i < steps; ++i)
            step();
    }

    const std::vector<Log>& logs() const { return logs_; }

    /// Everything anybody wrote.
    std::vector<Event> all() const {
        std::vector<Event> out;
        for (const Log& log : logs_)
            out.insert(out.end(), log.events().begin(), log.events().end());
        return out;
    }

  private:
    static constexpr std::int64_t hour = 3'600'000;

    Log& any() { return logs_[static_cast<std::size_t>(random_.below(logs_.size()))]; }

    void step() {
        now_ += random_.between(0, 60'000);
        const auto which = static_cast<std::size_t>(random_.below(logs_.size()));
        Log& log = logs_[which];
        const auto what = random_.below(10);
        if (what == 0) {
            log.merge(any().events());
        } else if (what <= 2 && !log.events().empty()) {
            Retracted undo;
            for (std::uint64_t n = random_.below(3) + 1; n > 0; --n)
                undo.events.push_back(
                    log.events()[static_cast<std::size_t>(random_.below(log.events().size()))]
                        .ref());
            log.append(std::move(undo), now_ + skew_[which]);
        } else {
            log.append(draw_.body(), now_ + skew_[which]);
        }
    }

    base::Random& random_;
    Draw draw_;
    std::vector<Log> logs_;
    std::vector<std::int64_t> skew_;
    std::int64_t now_ = 100 * hour;
};

inline std::vector<Event> copy(std::span<const Event> events) {
    return {events.begin(), events.end()};
}

/// Pieces of every device's record, shuffled and some of them twice.
inline std::vector<std::vector<Event>> pieces_of(const Devices& devices, base::Random& random) {
    std::vector<std::vector<Event>> pieces;
    for (const Log& log : devices.logs()) {
        auto events = copy(log.events());
        while (!events.empty()) {
            const auto n = static_cast<std::ptrdiff_t>(random.below(events.size()) + 1);
            pieces.emplace_back(events.end() - n, events.end());
            if (random.below(5) == 0) pieces.push_back(pieces.back());
            events.resize(events.size() - static_cast<std::size_t>(n));
        }
    }
    random.shuffle(pieces);
    return pieces;
}

}  // namespace tallyround::testing
