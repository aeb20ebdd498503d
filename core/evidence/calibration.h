#pragma once
#include <span>
#include <vector>

#include "evidence/intervals.h"

namespace tallyround::evidence {

/// A chance that was stated, and what came.
struct Forecast {
    double p = 0.5;
    bool happened = false;
};

/// How good a list of forecasts was.
struct Scores {
    std::size_t forecasts = 0;
    double log_loss = 0.0;  ///< mean -ln of the chance given to what came; chances held at 1e-15
    double brier = 0.0;     ///< mean squared difference (Brier 1950)
    /// Chance that one that happened had been given more than one that did not, ties one half
    /// (Mann & Whitney 1947); .5 when there is only one kind.
    double auc = 0.5;
    /// Mean |stated - came| over ten bins of equal width, weighted by their size.
    double calibration_error = 0.0;
};
Scores score(std::span<const Forecast> forecasts);

/// One bin of a calibration picture: chances from `from` to `to`.
struct CalibrationBin {
    double from = 0.0;
    double to = 0.0;
    std::size_t forecasts = 0;
    std::size_t happened = 0;
    double stated = 0.0;  ///< mean chance stated
    Interval came;        ///< Wilson interval of the rate that came
};

/// Bins of equal width, empty ones included. Requires bins >= 1.
std::vector<CalibrationBin> calibration(std::span<const Forecast> forecasts, int bins = 10);

}  // namespace tallyround::evidence
