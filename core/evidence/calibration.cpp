#include "evidence/calibration.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace tallyround::evidence {

namespace {

double area_under_curve(std::span<const Forecast> forecasts) {
    std::vector<Forecast> sorted(forecasts.begin(), forecasts.end());
    std::sort(sorted.begin(), sorted.end(),
              [](const Forecast& a, const Forecast& b) { return a.p < b.p; });
    double below = 0.0;  // of those that did not happen, with a smaller chance
    double wins = 0.0;
    double happened = 0.0;
    for (std::size_t i = 0; i < sorted.size();) {
        double yes = 0.0;
        double no = 0.0;
        std::size_t j = i;
        for (; j < sorted.size() && sorted[j].p == sorted[i].p; ++j)
            (sorted[j].happened ? yes : no) += 1.0;
        wins += yes * (below + 0.5 * no);
        happened += yes;
        below += no;
        i = j;
    }
    return happened > 0.0 && below > 0.0 ? wins / (happened * below) : 0.5;
}

}  // namespace

Scores score(std::span<const Forecast> forecasts) {
    Scores out;
    out.forecasts = forecasts.size();
    if (forecasts.empty()) return out;
    const auto n = static_cast<double>(forecasts.size());
    for (const Forecast& f : forecasts) {
        const double p = std::clamp(f.happened ? f.p : 1.0 - f.p, 1e-15, 1.0);
        out.log_loss -= std::log(p) / n;
        out.brier += (1.0 - p) * (1.0 - p) / n;
    }
    out.auc = area_under_curve(forecasts);
    for (const CalibrationBin& bin : calibration(forecasts, 10)) {
        if (bin.forecasts == 0) continue;
        const auto size = static_cast<double>(bin.forecasts);
        const double came = static_cast<double>(bin.happened) / size;
        out.calibration_error += std::abs(bin.stated - came) * size / n;
    }
    return out;
}

std::vector<CalibrationBin> calibration(std::span<const Forecast> forecasts, int bins) {
    assert(bins >= 1);
    std::vector<CalibrationBin> out(static_cast<std::size_t>(bins));
    for (int b = 0; b < bins; ++b) {
        out[static_cast<std::size_t>(b)].from = static_cast<double>(b) / bins;
        out[static_cast<std::size_t>(b)].to = static_cast<double>(b + 1) / bins;
    }
    for (const Forecast& f : forecasts) {
        const int b = std::clamp(static_cast<int>(f.p * bins), 0, bins - 1);
        CalibrationBin& bin = out[static_cast<std::size_t>(b)];
        ++bin.forecasts;
        bin.happened += f.happened ? 1 : 0;
        bin.stated += f.p;
    }
    for (CalibrationBin& bin : out) {
        const auto n = static_cast<double>(bin.forecasts);
        if (bin.forecasts > 0) bin.stated /= n;
        bin.came = wilson(static_cast<double>(bin.happened), n);
    }
    return out;
}

}  // namespace tallyround::evidence
