#include <algorithm>
#include <cstdlib>

#include "session/derived.h"
#include "session/pace.h"

namespace tallyround::session {

namespace {

constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t day_ms = 24 * 60 * minute_ms;
constexpr std::int64_t step_ms = 5000;

/// End of the period in which the lesson was started, or of the nearest one of its day; -1 if there
/// is none that it could be.
std::int64_t bell_of(const model::Block& block, int utc_offset_minutes) {
    const std::int64_t shift = std::int64_t{utc_offset_minutes} * minute_ms;
    const std::int64_t started = block.lesson.started_ms + shift;
    std::int64_t bell = -1;
    std::int64_t nearest = day_ms;
    for (const model::Period& p : block.periods) {
        const std::int64_t day = base::days_from_civil(p.date) * day_ms;
        if (started < day || started >= day + day_ms) continue;
        const std::int64_t away = std::abs(day + p.start_minute * minute_ms - started);
        // A lesson that began after the bell is held at another time than was planned.
        if (away >= nearest || started >= day + p.end_minute * minute_ms) continue;
        nearest = away;
        bell = day + p.end_minute * minute_ms - shift;
    }
    return bell;
}

}  // namespace

int last_round_today(const model::Block& block) {
    const int columns = block.chart.empty() ? 0 : int(block.chart.front().size());
    return std::min(block.lesson.last_round, std::max(columns, block.lesson.round));
}

std::int64_t round_length_ms(const model::Block& block) {
    const bool shared = block.lesson.running() && block.lesson.round_ms > 0;
    return shared ? block.lesson.round_ms : block.timing.round_minutes * minute_ms;
}

Pace pace(const model::Block& block, std::int64_t now_ms, int utc_offset_minutes) {
    return pace_with(block, now_ms, utc_offset_minutes, round_length_ms(block));
}

Pace pace_with(const model::Block& block, std::int64_t now_ms, int utc_offset_minutes,
               std::int64_t round_ms) {
    Pace out;
    const model::Lesson& lesson = block.lesson;
    if (!lesson.running()) return out;
    const std::int64_t move = block.timing.move_minutes * minute_ms;
    const std::int64_t closing = block.timing.closing_minutes * minute_ms;
    std::int64_t at = now_ms + std::max<std::int64_t>(0, left_ms(lesson, now_ms));
    int next = lesson.round + 1;
    if (lesson.phase == model::Phase::opening) next = lesson.first_round;
    if (lesson.phase == model::Phase::moving) next = lesson.round;
    std::int64_t fixed = at;  // everything but the rounds ahead
    const bool first_is_there = lesson.phase != model::Phase::working;
    if (lesson.phase != model::Phase::closing) {
        for (int n = next; n <= last_round_today(block); ++n) {
            const std::int64_t walk = n == next && first_is_there ? 0 : move;
            out.ahead.push_back({n, at + walk, at + walk + round_ms});
            at += walk + round_ms;
            fixed += walk;
        }
        at += closing;
        fixed += closing;
    }
    out.ends_ms = at;
    const std::int64_t bell = bell_of(block, utc_offset_minutes);
    if (bell < 0) return out;
    out.known = true;
    out.bell_ms = bell;
    if (!out.ahead.empty()) {
        const std::int64_t each = (bell - fixed) / std::int64_t(out.ahead.size());
        out.shared_round_ms = std::max<std::int64_t>(0, each / step_ms * step_ms);
    }
    return out;
}

}  // namespace tallyround::session
