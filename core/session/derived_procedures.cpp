#include <algorithm>
#include <cstdlib>
#include <span>
#include <vector>

#include "base/text.h"
#include "plan/fit.h"
#include "session/procedures.h"

namespace tallyround::session {

namespace {

constexpr std::size_t window = 5;
/// A change that a teacher would notice.
constexpr std::int64_t noticed_ms = 5000;

std::int64_t median(std::span<const model::Move> moves) {
    std::vector<std::int64_t> times;
    for (const model::Move& m : moves)
        times.push_back(m.took_ms);
    std::sort(times.begin(), times.end());
    const std::size_t n = times.size();
    return n % 2 == 1 ? times[n / 2] : (times[n / 2 - 1] + times[n / 2]) / 2;
}

}  // namespace

std::string length_text(std::int64_t ms) {
    const std::int64_t seconds = (std::max<std::int64_t>(0, ms) + 500) / 1000;
    if (seconds < 60) return base::count_of(std::size_t(seconds), "second", "seconds");
    return plan::length_text(int(seconds));
}

MoveTrend move_trend(const model::Class& cls) {
    const std::span<const model::Move> all = cls.moves;
    MoveTrend trend;
    trend.moves = int(all.size());
    if (all.empty()) {
        trend.sentence = "No move has been timed yet.";
        return trend;
    }
    const auto recent = all.last(std::min(window, all.size()));
    trend.recent_ms = median(recent);
    const std::string usual = "A move takes about " + length_text(trend.recent_ms);
    const auto earlier = all.first(all.size() - recent.size());
    if (earlier.empty()) {
        trend.sentence = usual + ".";
        return trend;
    }
    trend.before_ms = median(earlier.last(std::min(window, earlier.size())));
    const std::int64_t gained = trend.before_ms - trend.recent_ms;
    if (std::abs(gained) < noticed_ms) {
        trend.sentence = usual + ", as before.";
    } else {
        trend.sentence = usual + ", " + length_text(std::abs(gained)) +
                         (gained > 0 ? " less than before." : " more than before.");
    }
    return trend;
}

}  // namespace tallyround::session
