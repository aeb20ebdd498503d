#pragma once
#include "model/state.h"
#include "record/event.h"

namespace tallyround::record {

// The rules of the fold for what groups and charts keep to. What names somebody or something
// unknown is left out.
void fold_wish(Class& cls, const CompanySet& e);
void fold_wish(const Class& cls, Block& block, const GroupRulesSet& e);
void fold_wish(Block& block, const ChartRulesSet& e);

}  // namespace tallyround::record
