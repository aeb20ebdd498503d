#include "cards/bank_parts.h"

namespace tallyround::cards {

namespace {

using enum Strand;

constexpr SkillRow rows[] = {
    {"frac-compare", 5, "Find the greatest of several fractions", fractions, "5.NF.A.2", ""},
    {"frac-add-unlike", 5, "Add fractions with unlike denominators", fractions, "5.NF.A.1",
     "frac-compare"},
    {"frac-subtract-unlike", 5, "Subtract fractions with unlike denominators", fractions,
     "5.NF.A.1", "frac-add-unlike"},
    {"mixed-add", 5, "Add mixed numbers", fractions, "5.NF.A.1", "frac-add-unlike"},
    {"mixed-subtract", 5, "Subtract mixed numbers with regrouping", fractions, "5.NF.A.1",
     "frac-subtract-unlike mixed-add"},
    {"frac-add-story", 5, "Story problems that add or subtract fractions", fractions, "5.NF.A.2",
     "frac-add-unlike frac-subtract-unlike"},
    {"fraction-as-division", 5, "Equal shares as a fraction", fractions, "5.NF.B.3", ""},
    {"frac-of-number", 5, "Fraction of a whole number", fractions, "5.NF.B.4a", ""},
    {"frac-multiply", 5, "Multiply a fraction by a fraction", fractions, "5.NF.B.4a",
     "frac-of-number"},
    {"mixed-multiply", 5, "Multiply mixed numbers", fractions, "5.NF.B.6", "frac-multiply"},
    {"unit-frac-divide", 5, "Divide with a unit fraction and a whole number", fractions,
     "5.NF.B.7b", "frac-multiply"},
    {"frac-divide", 6, "Divide a fraction by a fraction", fractions, "6.NS.A.1",
     "unit-frac-divide"},
    {"mixed-divide", 6, "Divide mixed numbers", fractions, "6.NS.A.1",
     "frac-divide mixed-multiply"},
    {"ratio-write", 6, "Write a ratio in simplest form", ratio_percent, "6.RP.A.1", ""},
    {"ratio-equivalent", 6, "Missing number in equal ratios", ratio_percent, "6.RP.A.3a",
     "ratio-write"},
    {"ratio-share", 6, "Share an amount in a given ratio", ratio_percent, "6.RP.A.3",
     "ratio-equivalent"},
    {"unit-rate", 6, "Find a unit rate", ratio_percent, "6.RP.A.2", "ratio-equivalent"},
    {"rate-problem", 6, "Use a unit rate for another amount", ratio_percent, "6.RP.A.3b",
     "unit-rate"},
    {"percent-convert", 6, "Percent as a decimal and back", ratio_percent, "6.RP.A.3c",
     "powers-of-ten"},
    {"percent-of", 6, "Percent of an amount", ratio_percent, "6.RP.A.3c",
     "percent-convert frac-of-number"},
    {"percent-what", 6, "What percent one amount is of another", ratio_percent, "6.RP.A.3c",
     "percent-of"},
    {"percent-whole", 6, "Find the whole from a percent", ratio_percent, "6.RP.A.3c", "percent-of"},
    {"rate-of-fractions", 7, "Unit rate of two fractions", ratio_percent, "7.RP.A.1",
     "unit-rate frac-divide"},
    {"proportion-solve", 7, "Solve a proportion", ratio_percent, "7.RP.A.2c",
     "ratio-equivalent one-step-multiply"},
    {"proportion-constant", 7, "Constant of proportionality from a table", ratio_percent,
     "7.RP.A.2b", "unit-rate"},
    {"percent-change", 7, "Percent increase and decrease", ratio_percent, "7.RP.A.3",
     "percent-what"},
    {"discount-tax", 7, "Price after a discount or a tax", ratio_percent, "7.RP.A.3", "percent-of"},
    {"simple-interest", 7, "Simple interest over several years", ratio_percent, "7.RP.A.3",
     "percent-of"},
};

}  // namespace

std::span<const SkillRow> fraction_skills() {
    return rows;
}

}  // namespace tallyround::cards
