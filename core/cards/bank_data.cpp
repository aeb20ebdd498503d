#include "cards/bank_parts.h"

namespace tallyround::cards {

namespace {

using enum Strand;

constexpr SkillRow rows[] = {
    {"mean", 6, "Mean of a data set", statistics, "6.SP.B.5c", ""},
    {"median", 6, "Median of a data set", statistics, "6.SP.B.5c", ""},
    {"interquartile", 6, "Range and interquartile range", statistics, "6.SP.B.5c", "median"},
    {"mean-deviation", 6, "Mean absolute deviation", statistics, "6.SP.B.5c",
     "mean absolute-value"},
    {"sample-predict", 7, "Estimate a total from a sample", statistics, "7.SP.A.2",
     "proportion-solve"},
    {"compare-means", 7, "Difference of two means in spreads", statistics, "7.SP.B.3",
     "mean-deviation"},
    {"two-way-table", 8, "Shares from a two-way table", statistics, "8.SP.A.4", "percent-what"},
    {"trend-line", 8, "Predict from the equation of a trend line", statistics, "8.SP.A.3",
     "slope-intercept"},
    {"probability-simple", 7, "Chance of one event", probability, "7.SP.C.7a", "ratio-write"},
    {"probability-not", 7, "Chance that an event does not happen", probability, "7.SP.C.5",
     "probability-simple"},
    {"expected-count", 7, "About how often in many tries", probability, "7.SP.C.6",
     "probability-simple frac-of-number"},
    {"count-outcomes", 7, "Count the outcomes of several choices", probability, "7.SP.C.8b", ""},
    {"probability-two", 7, "Chance of two events in a row", probability, "7.SP.C.8a",
     "probability-simple frac-multiply"},
    {"table-rule", 6, "Rule between two quantities in a table", functions, "6.EE.C.9",
     "evaluate-expression two-patterns"},
    {"function-value", 8, "Output of a function rule", functions, "8.F.A.1",
     "evaluate-expression integer-order-of-ops"},
    {"function-input", 8, "Input that gives a known output", functions, "8.F.A.1",
     "function-value two-step-equation"},
    {"slope-points", 8, "Slope from two points", functions, "8.F.B.4",
     "integer-divide proportion-constant"},
    {"slope-intercept", 8, "Slope and intercept of a line's equation", functions, "8.F.A.3",
     "slope-points"},
    {"line-equation", 8, "Equation of a line through two points", functions, "8.F.B.4",
     "slope-intercept"},
    {"compare-rates", 8, "Compare rates in a rule and a table", functions, "8.F.A.2",
     "slope-points"},
};

}  // namespace

std::span<const SkillRow> data_skills() {
    return rows;
}

}  // namespace tallyround::cards
