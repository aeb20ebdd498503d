#pragma once
#include <cstdint>
#include <map>
#include <vector>

#include "record/log.h"

namespace tallyround::record {

/// `Log::merge` in pieces, for more than can be folded between two frames. The log stays as it is,
/// and may go on, until `finish` puts in what was worked out beside it.
class Merging {
  public:
    /// Fewer than this from the first new event on are folded from a checkpoint, at once.
    static constexpr std::size_t soon_done = 10'000;

    /// `incoming` in any order. The log must outlive this. When not `at_least` so many events come
    /// from the first new one on, `finish` does all.
    Merging(const Log& log, std::vector<Event> incoming, std::size_t at_least = soon_done);

    /// Goes on for about `most` events; true when nothing more can be done beside the log. The
    /// first step looks at every event that comes in, whatever `most` says.
    bool step(std::size_t most);
    double progress() const;  ///< 0 .. 1
    /// To look at an event takes so much less than to fold it: how many to look at instead.
    static std::size_t looks_for(std::size_t folds) {
        return folds > SIZE_MAX / 8 ? folds : folds * 8;
    }
    /// What `Log::merge` does and returns. `log` is the one that was given; it may have grown, or
    /// changed in any other way: then all is done at once.
    std::size_t finish(Log& log);

  private:
    enum class Part { look, order, fold, over };

    void leave_it();
    void look();
    void order(std::size_t most);
    Log::Sequence sequence() const;
    bool fits() const;
    void put_in(Log& log);

    const Log* log_;
    std::vector<Event> incoming_;
    std::size_t at_least_;
    std::size_t size_;     ///< of the log when this began
    std::uint64_t moves_;  ///< of the log when this began
    Part part_ = Part::look;
    bool at_once_ = false;                     ///< left to `Log::merge`
    std::size_t next_ = 0;                     ///< of the incoming: the next to look at
    std::size_t mine_ = 0;                     ///< of the log's: the next to look at
    std::vector<std::uint32_t> order_;         ///< see Log::Sequence
    std::map<ReplicaId, std::uint64_t> last_;  ///< numbers so far
    Log merged_;                               ///< all but the events
    Log::Refold refold_{0};
};

}  // namespace tallyround::record
