#include <algorithm>

#include "base/civil.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t period_limit = 60;
constexpr std::size_t break_limit = 6;

std::string span_text(int start_minute, int end_minute) {
    return base::clock_text(start_minute * 60) + " to " + base::clock_text(end_minute * 60);
}

std::string period_text(const Period& p) {
    return base::short_day(p.date) + " " + span_text(p.start_minute, p.end_minute);
}

base::Result<bool> checked_period(const std::string& where, const Period& p) {
    if (!base::parse_date(base::to_text(p.date))) {
        return base::fail(where, "There is no such day. Choose one from the calendar.");
    }
    const auto in_day = [](int minute) { return minute >= 0 && minute <= 24 * 60; };
    if (!in_day(p.start_minute) || !in_day(p.end_minute)) {
        return base::fail(where, "Bell times lie between 00:00 and 24:00.");
    }
    if (p.end_minute <= p.start_minute) {
        return base::fail(
            where, "It ends at " + base::clock_text(p.end_minute * 60) + ", before it starts at " +
                       base::clock_text(p.start_minute * 60) + ". Set the end after the start.");
    }
    return true;
}

/// Breaks in order, inside the period, none across another.
base::Result<std::vector<Break>> checked_breaks(const std::string& where, const Period& p) {
    std::vector<Break> breaks = p.breaks;
    std::stable_sort(breaks.begin(), breaks.end(), [](const Break& a, const Break& b) {
        return a.start_minute < b.start_minute;
    });
    if (breaks.size() > break_limit) {
        return base::fail(where, "A period has at most " + std::to_string(break_limit) +
                                     " breaks. Take one out.");
    }
    for (std::size_t i = 0; i < breaks.size(); ++i) {
        const Break& b = breaks[i];
        if (b.end_minute <= b.start_minute) {
            return base::fail(where, "The break that starts at " +
                                         base::clock_text(b.start_minute * 60) +
                                         " has to end after that. Set a later end.");
        }
        if (b.start_minute < p.start_minute || b.end_minute > p.end_minute) {
            return base::fail(where, "The break from " + span_text(b.start_minute, b.end_minute) +
                                         " does not lie inside the lesson from " +
                                         span_text(p.start_minute, p.end_minute) +
                                         ". Change one of them.");
        }
        if (i > 0 && b.start_minute < breaks[i - 1].end_minute) {
            return base::fail(where, "Two breaks overlap at " +
                                         base::clock_text(b.start_minute * 60) +
                                         ". Change one of them.");
        }
    }
    return breaks;
}

base::Result<std::vector<Period>> checked_periods(std::vector<Period> periods) {
    if (periods.size() > period_limit) {
        return base::fail("Periods",
                          "A block takes at most " + std::to_string(period_limit) + " periods.");
    }
    for (std::size_t i = 0; i < periods.size(); ++i) {
        const std::string where = "Period " + std::to_string(i + 1);
        const auto good = checked_period(where, periods[i]);
        if (!good) return pass(good);
        auto breaks = checked_breaks(where, periods[i]);
        if (!breaks) return pass(breaks);
        periods[i].breaks = *std::move(breaks);
    }
    std::stable_sort(periods.begin(), periods.end(), [](const Period& a, const Period& b) {
        return std::pair(a.date, a.start_minute) < std::pair(b.date, b.start_minute);
    });
    for (std::size_t i = 1; i < periods.size(); ++i) {
        const Period& before = periods[i - 1];
        if (before.date == periods[i].date && periods[i].start_minute < before.end_minute) {
            return base::fail("Periods", period_text(before) + " and " + period_text(periods[i]) +
                                             " overlap. Change one of them.");
        }
    }
    return periods;
}

base::Result<bool> checked_timing(const Block& block, const Timing& t) {
    const auto bounded = [](std::string_view where, int value, int low, int high,
                            std::string_view unit) -> base::Result<bool> {
        const auto number = checked_number(where, value, low, high, unit);
        if (!number) return pass(number);
        return true;
    };
    // Nobody has chosen a number of rounds as long as it is 0: then it follows the centers.
    const int fewest = block.timing.rounds == 0 ? 0 : 1;
    for (const auto& good : {bounded("Rounds", t.rounds, fewest, 40, "rounds"),
                             bounded("Round minutes", t.round_minutes, 1, 240, "minutes"),
                             bounded("Move minutes", t.move_minutes, 0, 60, "minutes"),
                             bounded("Opening minutes", t.opening_minutes, 0, 120, "minutes"),
                             bounded("Closing minutes", t.closing_minutes, 0, 120, "minutes"),
                             bounded("Rounds a day", t.rounds_a_day, 0, 40, "rounds")}) {
        if (!good) return good;
    }
    const int begun = begun_rounds(block);
    if (t.rounds > 0 && t.rounds < begun) {
        return base::fail("Rounds", "Round " + std::to_string(begun) +
                                        " has begun already. Choose at least " +
                                        std::to_string(begun) + " rounds.");
    }
    return true;
}

}  // namespace

Answer on(const Context& ctx, const SetTime& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto timing = checked_timing(*spot->block, wish.timing);
    if (!timing) return pass(timing);
    const auto periods = checked_periods(wish.periods);
    if (!periods) return pass(periods);
    Block wanted = *spot->block;
    wanted.periods = *periods;
    wanted.timing = wish.timing;
    if (wanted == *spot->block) return Decision{};
    Decision decision;
    decision.events.push_back(record::TimeSet{wish.cls, wish.block, *periods, wish.timing});
    if (!periods->empty() && wished_rounds(wanted) > 0) decision.said = fit_block(wanted).sentence;
    if (wished_rounds(wanted) != wished_rounds(*spot->block)) {
        keep_chart_true(decision, wish.cls, wanted);
    }
    return decision;
}

Answer on(const Context& ctx, const SetDevices& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto number = checked_number("Devices", wish.devices, 0, 500, "devices");
    if (!number) return pass(number);
    if (spot->block->devices == wish.devices) return Decision{};
    Decision decision;
    decision.events.push_back(record::DevicesSet{wish.cls, wish.block, wish.devices});
    decision.said = wish.devices == 1 ? "1 device." : std::to_string(wish.devices) + " devices.";
    Block wanted = *spot->block;
    wanted.devices = wish.devices;
    keep_chart_true(decision, wish.cls, wanted);
    return decision;
}

}  // namespace tallyround::session
