#include <algorithm>
#include <cstdlib>

#include "session/derived.h"
#include "session/pace.h"

namespace tallyround::session {

namespace {

constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t day_ms = 24 * 60 * minute_ms;
constexpr std::int64_t step_ms = 5000;

/// The period in which the lesson was started, or the nearest one of its day; none if there is none
/// that it could be. `day_began_ms`: UTC.
struct Today {
    const model::Period* period = nullptr;
    std::int64_t day_began_ms = 0;

    std::int64_t at(int minute) const { return day_began_ms + minute * minute_ms; }
};

Today today_of(const model::Block& block, int utc_offset_minutes) {
    const std::int64_t shift = std::int64_t{utc_offset_minutes} * minute_ms;
    const std::int64_t started = block.lesson.started_ms + shift;
    Today out;
    std::int64_t nearest = day_ms;
    for (const model::Period& p : block.periods) {
        const std::int64_t day = base::days_from_civil(p.date) * day_ms;
        if (started < day || started >= day + day_ms) continue;
        const std::int64_t away = std::abs(day + p.start_minute * minute_ms - started);
        // A lesson that began after the bell is held at another time than was planned.
        if (away >= nearest || started >= day + p.end_minute * minute_ms) continue;
        nearest = away;
        out = {&p, day - shift};
    }
    return out;
}

/// When something of this length can start, not before `from` and not across a break.
std::int64_t clear_of_breaks(const Today& today, std::int64_t from, std::int64_t length_ms) {
    if (today.period == nullptr) return from;
    for (const model::Break& b : today.period->breaks) {
        const bool across =
            from < today.at(b.end_minute) && from + length_ms > today.at(b.start_minute);
        if (across) from = today.at(b.end_minute);
    }
    return from;
}

/// The rounds after the one that runs, and when the lesson ends with them.
void lay_ahead(const model::Block& block, const Today& today, std::int64_t now_ms,
               std::int64_t round_ms, Pace& out) {
    const model::Lesson& lesson = block.lesson;
    const std::int64_t move = block.timing.move_minutes * minute_ms;
    std::int64_t at = now_ms + std::max<std::int64_t>(0, left_ms(lesson, now_ms));
    out.ahead.clear();
    out.ends_ms = at;
    if (lesson.phase == model::Phase::closing) return;
    int next = lesson.round + 1;
    if (lesson.phase == model::Phase::opening) next = lesson.first_round;
    if (lesson.phase == model::Phase::moving) next = lesson.round;
    const bool first_is_there = lesson.phase != model::Phase::working;
    for (int n = next; n <= last_round_today(block); ++n) {
        const std::int64_t walk = n == next && first_is_there ? 0 : move;
        const std::int64_t start = clear_of_breaks(today, at + walk, round_ms);
        out.ahead.push_back({n, start, start + round_ms});
        at = start + round_ms;
    }
    const std::int64_t closing = block.timing.closing_minutes * minute_ms;
    out.ends_ms = clear_of_breaks(today, at, closing) + closing;
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
    if (!block.lesson.running()) return out;
    const Today today = today_of(block, utc_offset_minutes);
    lay_ahead(block, today, now_ms, round_ms, out);
    if (today.period == nullptr) return out;
    out.known = true;
    out.bell_ms = today.at(today.period->end_minute);
    if (out.ahead.empty()) return out;
    // The longest that ends on the bell: longer rounds never end earlier.
    std::int64_t low = 0;
    std::int64_t high = std::max<std::int64_t>(0, out.bell_ms - now_ms) / step_ms;
    Pace probe;
    while (low < high) {
        const std::int64_t middle = (low + high + 1) / 2;
        lay_ahead(block, today, now_ms, middle * step_ms, probe);
        if (probe.ends_ms <= out.bell_ms) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    out.shared_round_ms = low * step_ms;
    return out;
}

}  // namespace tallyround::session
