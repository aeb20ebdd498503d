#pragma once
#include <string>

#include "session/chart_plan.h"

/// The words of chart_plan.cpp.
namespace tallyround::session {

/// What is proved of the chart found, in one sentence.
std::string quality_text(const plan::ChartSearch& search);
/// What a better chart would have less of.
std::string better_text(const plan::ChartScore& now, const plan::ChartScore& better);
/// Names the rules and groups; ends with the remedy.
std::string trouble_text(const model::Block& block, const ChartTrouble& trouble);
/// What resolves it.
std::string remedy_text(const ChartTrouble& trouble);

}  // namespace tallyround::session
