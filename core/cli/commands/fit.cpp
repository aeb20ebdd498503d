#include <nlohmann/json.hpp>

#include "cli/cli.h"
#include "cli/commands/plan_commands.h"
#include "json/read.h"
#include "plan/fit.h"

namespace tallyround::cli {

namespace {

using json::Field;
using json::Json;

constexpr double day_minutes = 24 * 60;

int seconds_of(const Field& field) {
    return int(field.number(0, day_minutes) * 60.0 + 0.5);
}

int seconds_or(const Field& root, const char* key, int fallback) {
    const auto field = root.find(key);
    return field ? seconds_of(*field) : fallback;
}

int clock_of(const Field& field) {
    const auto seconds = base::parse_clock(field.text());
    if (!seconds) field.refuse("A time of day like 09:10 or 09:10:30 was expected.");
    return *seconds;
}

plan::Period period_of(const Field& field) {
    plan::Period period;
    const Field date = field.at("date");
    const auto day = base::parse_date(date.text());
    if (!day) date.refuse("A date like 2026-12-01 was expected.");
    period.date = *day;
    period.start = clock_of(field.at("start"));
    period.end = clock_of(field.at("end"));
    if (const auto breaks = field.find("breaks")) {
        for (const Field& item : breaks->items(100))
            period.breaks.push_back({clock_of(item.at("start")), clock_of(item.at("end"))});
    }
    return period;
}

plan::FitRequest request_of(const Field& root) {
    plan::FitRequest request;
    for (const Field& item : root.at("periods").items(1000))
        request.periods.push_back(period_of(item));
    request.rounds = int(root.at("rounds").integer(1, 1000));
    request.round_seconds = seconds_of(root.at("round_minutes"));
    request.move_seconds = seconds_or(root, "move_minutes", 0);
    request.opening_seconds = seconds_or(root, "opening_minutes", 0);
    request.closing_seconds = seconds_or(root, "closing_minutes", 0);
    request.rounds_a_day = int(root.integer_or("rounds_a_day", 1, 1000, 0));
    return request;
}

/// Whole minutes as an integer, anything else as a fraction.
Json minutes(int seconds) {
    if (seconds % 60 == 0) return seconds / 60;
    return double(seconds) / 60.0;
}

Json rounds_json(const plan::FitRequest& request, const plan::Fit& fit) {
    Json rounds = Json::array();
    for (const auto& round : fit.rounds) {
        const auto& period = request.periods[std::size_t(round.period)];
        rounds.push_back({{"number", round.number},
                          {"date", base::to_text(period.date)},
                          {"start", base::clock_text(round.start)},
                          {"end", base::clock_text(round.end)}});
    }
    return rounds;
}

/// Periods that share time on one day: allowed, but nobody can teach both.
Json overlaps(const plan::FitRequest& request) {
    Json warnings = Json::array();
    const auto& periods = request.periods;
    for (std::size_t i = 1; i < periods.size(); ++i) {
        const auto& a = periods[i - 1];
        const auto& b = periods[i];
        if (a.date == b.date && a.start < b.end && b.start < a.end) {
            warnings.push_back("/periods/" + std::to_string(i) + ": overlaps the period before.");
        }
    }
    return warnings;
}

}  // namespace

Outcome run_fit(const Invocation& call) {
    Outcome failure;
    const auto input = stdin_json(call, fit_synopsis, failure);
    if (!input) return failure;
    const auto request = json::read(*input, request_of);
    if (!request) return bad_input(input_name(call), request.error());
    const auto fit = plan::fit(*request);
    if (!fit) return bad_input(input_name(call), fit.error());
    if (!fit->fits) {
        const std::string sentence = plan::what_to_cut(*request, *fit);
        Json why{{"fits", false},
                 {"rounds_that_fit", fit->rounds_that_fit},
                 {"longest_round_minutes", fit->longest_round_minutes},
                 {"periods_needed", fit->periods_needed},
                 {"cut", sentence}};
        if (fit->periods_needed == 0) why["periods_needed"] = nullptr;
        return cannot(why, sentence);
    }
    Json spare = Json::array();
    for (const int seconds : fit->spare_seconds)
        spare.push_back(minutes(seconds));
    return done({{"fits", true},
                 {"rounds", rounds_json(*request, *fit)},
                 {"longest_round_minutes", fit->longest_round_minutes},
                 {"spare_minutes", spare},
                 {"warnings", overlaps(*request)}});
}

}  // namespace tallyround::cli
