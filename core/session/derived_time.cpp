#include <algorithm>
#include <cstdlib>
#include <optional>

#include "base/text.h"
#include "exchange/bell.h"
#include "plan/fit.h"
#include "session/derived.h"

namespace tallyround::session {

namespace {

std::string fit_sentence(const Fitted& fitted) {
    std::vector<std::string> days;
    for (std::size_t i = 0; i < fitted.rounds.size();) {
        const RoundTime& first = fitted.rounds[i];
        std::size_t n = 0;
        while (i < fitted.rounds.size() && fitted.rounds[i].date == first.date) {
            ++i;
            ++n;
        }
        days.push_back(std::to_string(n) + " on " + base::short_day(first.date));
    }
    if (days.size() == 1) {
        return base::count_of(fitted.rounds.size(), "round fits on ", "rounds fit on ") +
               base::short_day(fitted.rounds.front().date) + ", " +
               base::clock_text(fitted.rounds.front().start_second) + " to " +
               base::clock_text(fitted.rounds.back().end_second) + ".";
    }
    return base::count_of(fitted.rounds.size(), "round fits: ", "rounds fit: ") +
           base::list_of(days) + ".";
}

/// How many rounds each period holds, breaks and the most a day observed.
std::vector<int> capacities(const std::vector<model::Period>& periods,
                            const model::Timing& timing) {
    model::Timing full = timing;
    full.rounds = 24 * 60 * int(periods.size());  // more than any periods hold
    std::vector<int> out(periods.size(), 0);
    const auto fit = plan::fit(exchange::bell_request(periods, full));
    if (!fit) return out;
    for (const plan::RoundTime& round : fit->rounds)
        ++out[std::size_t(round.period)];
    return out;
}

constexpr std::int64_t hour_ms = 3'600'000;

/// The first period from `from` on that lies on the day nearest to now, or `from`.
/// A bell read as if it were UTC is off by the place's own offset, which lies between 11 hours
/// behind and 14 ahead: nearest is counted from the middle of that.
std::size_t todays_period(const std::vector<model::Period>& periods, std::size_t from,
                          std::int64_t now_ms) {
    constexpr std::int64_t middle_ms = 3 * hour_ms / 2;
    std::size_t best = from;
    std::int64_t distance = 13 * hour_ms;
    for (std::size_t i = from; i < periods.size(); ++i) {
        const std::int64_t start = base::days_from_civil(periods[i].date) * 24 * hour_ms +
                                   std::int64_t{periods[i].start_minute} * 60'000;
        const std::int64_t away = std::abs(start - now_ms - middle_ms);
        if (away < distance) {
            distance = away;
            best = i;
        }
    }
    while (best > from && periods[best - 1].date == periods[best].date)
        --best;
    return best;
}

std::pair<int, int> rounds_next(const model::Block& block, std::optional<std::int64_t> now_ms) {
    const int total = block.chart.empty() ? wished_rounds(block) : int(block.chart.front().size());
    const int done = block.rounds_done;
    if (done >= total) return {0, 0};
    if (block.periods.empty()) return {done + 1, total};
    // Walk past the periods that the rounds done have used up.
    const std::vector<int> holds = capacities(block.periods, block.timing);
    std::size_t period = 0;
    int used = 0;
    while (period < holds.size() && used + holds[period] <= done) {
        used += holds[period];
        ++period;
    }
    int begun = done - used;
    if (begun > 0 && block.lesson.phase == model::Phase::ended) {
        ++period;  // that day ended early; what it did not reach moves on
        begun = 0;
    }
    if (now_ms && period < block.periods.size()) {
        const std::size_t today = todays_period(block.periods, period, *now_ms);
        if (today != period) begun = 0;
        period = today;
    }
    // Past the last day, or on one that is too short, the teacher starts all the same.
    period = std::min(period, block.periods.size() - 1);
    const int room = std::max(1, holds[period] - begun);
    return {done + 1, std::min(total, done + room)};
}

}  // namespace

int wished_rounds(const model::Block& block) {
    if (block.timing.rounds > 0) return block.timing.rounds;
    const bool begun = block.rounds_done > 0 || block.lesson.phase != model::Phase::ready;
    if (begun && !block.chart.empty()) return int(block.chart.front().size());
    return int(open_centers(block).size());
}

Fitted fit_wish(const std::vector<model::Period>& periods, const model::Timing& timing) {
    Fitted fitted;
    if (periods.empty()) {
        fitted.sentence = "Set the bell times of the lesson first.";
        return fitted;
    }
    if (timing.rounds <= 0) {
        fitted.sentence = "Choose how many rounds there are, or add centers first.";
        return fitted;
    }
    const plan::FitRequest request = exchange::bell_request(periods, timing);
    const auto fit = plan::fit(request);
    if (!fit) {
        fitted.sentence = fit.error().message;
        return fitted;
    }
    fitted.fits = fit->fits;
    fitted.rounds_that_fit = fit->rounds_that_fit;
    fitted.longest_round_minutes = fit->longest_round_minutes;
    fitted.periods_needed = fit->periods_needed;
    for (const int seconds : fit->spare_seconds)
        fitted.spare_minutes.push_back(seconds / 60);
    for (const plan::RoundTime& round : fit->rounds) {
        fitted.rounds.push_back({round.number, periods[std::size_t(round.period)].date,
                                 round.period, round.start, round.end});
    }
    fitted.sentence = fit->fits ? fit_sentence(fitted) : plan::what_to_cut(request, *fit);
    return fitted;
}

Fitted fit_block(const model::Block& block) {
    model::Timing timing = block.timing;
    timing.rounds = wished_rounds(block);
    return fit_wish(block.periods, timing);
}

std::int64_t left_ms(const model::Lesson& lesson, std::int64_t now_ms) {
    if (!lesson.running()) return 0;
    return lesson.paused() ? lesson.paused_left_ms : lesson.phase_ends_ms - now_ms;
}

std::pair<int, int> next_rounds(const model::Block& block) {
    return rounds_next(block, std::nullopt);
}

std::pair<int, int> next_rounds(const model::Block& block, std::int64_t now_ms) {
    return rounds_next(block, now_ms);
}

}  // namespace tallyround::session
