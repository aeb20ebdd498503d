#pragma once
#include <string>
#include <vector>

#include "base/civil.h"
#include "base/result.h"

namespace tallyround::plan {

/// Part of a day in seconds after midnight, the end not included.
struct Span {
    int start = 0;
    int end = 0;
};

/// A lesson on one day. `breaks` are parts of it that cannot be used (an assembly, lunch); they
/// lie inside the period and no round runs across one.
struct Period {
    base::Date date;
    int start = 0;
    int end = 0;
    std::vector<Span> breaks;
};

/// How much has to go into which periods. All lengths in seconds.
struct FitRequest {
    std::vector<Period> periods;
    int rounds = 1;
    int round_seconds = 15 * 60;
    int move_seconds = 0;     ///< between two rounds of one period; a break between them covers it
    int opening_seconds = 0;  ///< at the start of each period that is used
    int closing_seconds = 0;  ///< at the end of each period that is used
    int rounds_a_day = 0;     ///< at most so many on one date; 0 = no limit
};

/// When one round runs. `number` counts from 1; `period` is an index into the request.
struct RoundTime {
    int number = 1;
    int period = 0;
    int start = 0;
    int end = 0;
};

/// How the rounds fall into the periods, filled in order, each with as many as it holds.
struct Fit {
    bool fits = false;
    int rounds_that_fit = 0;        ///< in all the periods together, at the wished length
    int longest_round_minutes = 0;  ///< longest whole-minute round with which all fit; 0 = none
    /// Periods in all that would do if more like the last one were added; 0 when the last one
    /// does not hold even one round, so that no number of them helps.
    int periods_needed = 0;
    std::vector<RoundTime> rounds;   ///< the wished rounds; only those that fit when not all do
    std::vector<int> spare_seconds;  ///< one a period: usable time left over (all if unused)
};

/// Lays the rounds into the periods. With equal periods the count is
/// floor((T - opening - closing + move) / (round + move)).
/// Errors name a JSON Pointer into the request ("/periods/0/end"): a period that ends before it
/// starts, breaks outside or overlapping, no period, no round, a length below zero.
base::Result<Fit> fit(const FitRequest& request);

/// Most rounds of `round_seconds` that the periods hold together. Requires a valid request.
int rounds_that_fit(const FitRequest& request, int round_seconds);

/// What to change, as a sentence, when `fit` says that not all rounds fit; empty when they do.
std::string what_to_cut(const FitRequest& request, const Fit& fit);

/// "12 minutes", "1 minute", "12 min 30 s".
std::string length_text(int seconds);

}  // namespace tallyround::plan
