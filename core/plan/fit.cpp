#include "plan/fit.h"

#include <algorithm>
#include <limits>

#include "base/text.h"

namespace tallyround::plan {

namespace {

constexpr int day_seconds = 24 * 3600;

/// The starts of the rounds one period holds, at most `limit`, each as early as it can be. For
/// rounds of one length that is also the largest number.
std::vector<int> starts_in(const Period& period, const FitRequest& request, int length, int limit) {
    std::vector<int> starts;
    const int last = period.end - request.closing_seconds;
    int at = period.start + request.opening_seconds;
    while (int(starts.size()) < limit) {
        for (const Span& gap : period.breaks) {
            if (at < gap.end && at + length > gap.start) at = gap.end;
        }
        if (at + length > last) break;
        starts.push_back(at);
        at += length + request.move_seconds;
    }
    return starts;
}

/// How many more rounds the date of `period` may take.
int day_limit(const FitRequest& request, int used_on_date) {
    if (request.rounds_a_day == 0) return std::numeric_limits<int>::max();
    return std::max(0, request.rounds_a_day - used_on_date);
}

/// Counts rounds by date while the periods are filled in order.
class DayCount {
  public:
    explicit DayCount(const FitRequest& request) : request_(request) {}
    int limit(const base::Date& date) {
        const auto used = std::count(dates_.begin(), dates_.end(), date);
        return day_limit(request_, int(used));
    }
    void add(const base::Date& date, std::size_t rounds) {
        if (request_.rounds_a_day > 0) dates_.insert(dates_.end(), rounds, date);
    }

  private:
    const FitRequest& request_;
    std::vector<base::Date> dates_;
};

/// Usable time of a period that the rounds starting at `starts` leave over.
int spare(const Period& period, const FitRequest& request, const std::vector<int>& starts) {
    int left = period.end - period.start - request.opening_seconds - request.closing_seconds;
    for (const Span& gap : period.breaks)
        left -= gap.end - gap.start;
    left -= int(starts.size()) * request.round_seconds;
    for (std::size_t i = 1; i < starts.size(); ++i) {
        const auto between = [&](const Span& gap) {
            return gap.start >= starts[i - 1] && gap.start < starts[i];
        };
        const bool moved_in_break =
            std::any_of(period.breaks.begin(), period.breaks.end(), between);
        if (!moved_in_break) left -= request.move_seconds;
    }
    return std::max(0, left);
}

base::Result<bool> check_period(const Period& period, const std::string& where) {
    if (period.start < 0 || period.end > day_seconds) {
        return base::fail(where, "A period lies within one day, 00:00 to 24:00.");
    }
    if (period.end <= period.start) {
        return base::fail(where + "/end", "The period ends at " + base::clock_text(period.end) +
                                              ", not after its start at " +
                                              base::clock_text(period.start) + ".");
    }
    int at = period.start;
    for (std::size_t i = 0; i < period.breaks.size(); ++i) {
        const Span& gap = period.breaks[i];
        if (gap.start < at || gap.end <= gap.start || gap.end > period.end) {
            return base::fail(where + "/breaks/" + std::to_string(i),
                              "Breaks lie inside their period, in order, and do not overlap.");
        }
        at = gap.end;
    }
    return true;
}

base::Result<bool> check(const FitRequest& request) {
    if (request.periods.empty()) return base::fail("/periods", "At least one period is needed.");
    if (request.rounds < 1) return base::fail("/rounds", "At least one round is needed.");
    if (request.round_seconds < 1) {
        return base::fail("/round_minutes", "A round lasts longer than 0 minutes.");
    }
    if (request.move_seconds < 0) return base::fail("/move_minutes", "Must be 0 or more.");
    if (request.opening_seconds < 0) return base::fail("/opening_minutes", "Must be 0 or more.");
    if (request.closing_seconds < 0) return base::fail("/closing_minutes", "Must be 0 or more.");
    if (request.rounds_a_day < 0) return base::fail("/rounds_a_day", "Must be 0 or more.");
    for (std::size_t i = 0; i < request.periods.size(); ++i) {
        auto good = check_period(request.periods[i], "/periods/" + std::to_string(i));
        if (!good) return good;
    }
    return true;
}

/// Longest whole-minute round with which all rounds fit: fewer fit as rounds get longer.
int longest_round_minutes(const FitRequest& request) {
    int low = 0;
    int high = day_seconds / 60;
    while (low < high) {
        const int middle = (low + high + 1) / 2;
        if (rounds_that_fit(request, middle * 60) >= request.rounds) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return low;
}

int periods_needed(const FitRequest& request, int that_fit) {
    const int given = int(request.periods.size());
    if (that_fit >= request.rounds) return given;
    const int more = request.rounds - that_fit;
    const int each = int(starts_in(request.periods.back(), request, request.round_seconds,
                                   std::min(more, day_limit(request, 0)))
                             .size());
    return each == 0 ? 0 : given + (more + each - 1) / each;
}

}  // namespace

int rounds_that_fit(const FitRequest& request, int round_seconds) {
    DayCount days(request);
    int total = 0;
    for (const Period& period : request.periods) {
        const auto starts = starts_in(period, request, round_seconds, days.limit(period.date));
        days.add(period.date, starts.size());
        total += int(starts.size());
    }
    return total;
}

base::Result<Fit> fit(const FitRequest& request) {
    if (auto good = check(request); !good) return tl::make_unexpected(good.error());
    Fit out;
    DayCount days(request);
    for (std::size_t p = 0; p < request.periods.size(); ++p) {
        const Period& period = request.periods[p];
        const int wanted = request.rounds - int(out.rounds.size());
        const auto starts = starts_in(period, request, request.round_seconds,
                                      std::min(wanted, days.limit(period.date)));
        days.add(period.date, starts.size());
        for (const int start : starts) {
            out.rounds.push_back(
                {int(out.rounds.size()) + 1, int(p), start, start + request.round_seconds});
        }
        out.spare_seconds.push_back(spare(period, request, starts));
    }
    out.rounds_that_fit = rounds_that_fit(request, request.round_seconds);
    out.fits = out.rounds_that_fit >= request.rounds;
    out.longest_round_minutes = longest_round_minutes(request);
    out.periods_needed = periods_needed(request, out.rounds_that_fit);
    return out;
}

std::string length_text(int seconds) {
    if (seconds % 60 == 0) return base::count_of(std::size_t(seconds / 60), "minute", "minutes");
    return std::to_string(seconds / 60) + " min " + std::to_string(seconds % 60) + " s";
}

std::string what_to_cut(const FitRequest& request, const Fit& fit) {
    if (fit.fits) return "";
    std::string text = base::count_of(std::size_t(request.rounds), "round", "rounds") + " of " +
                       length_text(request.round_seconds) + " do not fit into " +
                       base::count_of(request.periods.size(), "period", "periods") + ": ";
    text += fit.rounds_that_fit == 0 ? "none fits"
                                     : std::to_string(fit.rounds_that_fit) +
                                           (fit.rounds_that_fit == 1 ? " fits" : " fit");
    std::vector<std::string> ways;
    if (fit.longest_round_minutes > 0) {
        ways.push_back("make each round " + length_text(fit.longest_round_minutes * 60));
    }
    if (fit.rounds_that_fit > 0) {
        ways.push_back("plan " +
                       base::count_of(std::size_t(fit.rounds_that_fit), "round", "rounds"));
    }
    if (fit.periods_needed > 0) {
        const auto more = std::size_t(fit.periods_needed) - request.periods.size();
        ways.push_back("add " + base::count_of(more, "period", "periods") + " like the last");
    }
    if (ways.empty()) return text + ". Shorten the opening, the closing or the moves.";
    return text + ". You can " + base::list_of(ways, " or ") + ".";
}

}  // namespace tallyround::plan
