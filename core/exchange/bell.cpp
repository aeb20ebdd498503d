#include "exchange/bell.h"

namespace tallyround::exchange {

plan::FitRequest bell_request(const std::vector<model::Period>& periods,
                              const model::Timing& timing) {
    plan::FitRequest request;
    for (const model::Period& p : periods) {
        plan::Period period{p.date, p.start_minute * 60, p.end_minute * 60, {}};
        for (const model::Break& b : p.breaks)
            period.breaks.push_back({b.start_minute * 60, b.end_minute * 60});
        request.periods.push_back(std::move(period));
    }
    request.rounds = timing.rounds;
    request.round_seconds = timing.round_minutes * 60;
    request.move_seconds = timing.move_minutes * 60;
    request.opening_seconds = timing.opening_minutes * 60;
    request.closing_seconds = timing.closing_minutes * 60;
    request.rounds_a_day = timing.rounds_a_day;
    return request;
}

}  // namespace tallyround::exchange
