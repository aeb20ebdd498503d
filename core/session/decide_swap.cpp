#include <algorithm>

#include "model/kinds.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

/// Puts `now` where `was` stood in the rounds that have not begun.
void replace_in_chart(Block& block, const CenterId& was, const CenterId& now) {
    const auto begun = std::size_t(begun_rounds(block));
    for (auto& row : block.chart) {
        for (std::size_t r = begun; r < row.size(); ++r) {
            if (row[r] == was) row[r] = now;
        }
    }
}

bool sets_chart(const Decision& decision) {
    return std::any_of(
        decision.events.begin(), decision.events.end(),
        [](const record::Body& body) { return std::holds_alternative<record::ChartSet>(body); });
}

}  // namespace

Answer on(const Context& ctx, const SwapCenter& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto was = center_in(*spot->block, wish.center);
    if (!was) return pass(was);
    const std::string title = center_title(**was);
    if ((*was)->closed) return base::fail("Center", title + " is closed already.");
    const CenterKind* kind = find_center_kind(wish.kind);
    if (kind == nullptr) return base::fail("Kind", "Choose one of the kinds of center.");
    if (wish.kind == (*was)->kind) {
        return base::fail("Kind", title + " is of that kind already. Choose another one.");
    }
    Decision decision;
    const CenterId id = new_center_id(ctx, *spot->block, decision);
    Block wanted = *spot->block;
    for (Center& c : wanted.centers) {
        if (c.id == wish.center) c.closed = true;
    }
    wanted.centers.push_back(center_of_kind(id, *kind, (*was)->skill));
    replace_in_chart(wanted, wish.center, id);
    decision.events.push_back(record::CenterClosed{wish.cls, wish.block, wish.center, true});
    decision.events.push_back(set_event(wish.cls, wish.block, wanted.centers.back()));
    decision.made.push_back(id.str());
    decision.said = std::string(kind->title) + " takes the place of " + title + ".";
    keep_chart_true(decision, wish.cls, wanted);
    if (!sets_chart(decision) && wanted.chart != spot->block->chart) {
        decision.events.push_back(record::ChartSet{wish.cls, wish.block, wanted.chart});
    }
    return decision;
}

}  // namespace tallyround::session
