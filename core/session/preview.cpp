#include "session/preview.h"

#include <algorithm>

#include "session/chart_plan.h"

namespace tallyround::session {

namespace {

struct After {
    model::Block& block;

    template <class Event>
    void operator()(const Event&) const {}  // nothing that is previewed
    void operator()(const record::CenterSet& e) const {
        const auto it = std::find_if(block.centers.begin(), block.centers.end(),
                                     [&](const model::Center& c) { return c.id == e.center; });
        const bool closed = it != block.centers.end() && it->closed;
        model::Center center{e.center,       e.kind,      e.skill, e.title,
                             e.instructions, e.materials, closed,  e.holds};
        if (it == block.centers.end()) {
            block.centers.push_back(std::move(center));
        } else {
            *it = std::move(center);
        }
    }
    void operator()(const record::CenterClosed& e) const {
        for (model::Center& c : block.centers) {
            if (c.id == e.center) c.closed = e.closed;
        }
    }
    void operator()(const record::TimeSet& e) const {
        block.periods = e.periods;
        block.timing = e.timing;
    }
    void operator()(const record::DevicesSet& e) const { block.devices = e.devices; }
    void operator()(const record::GroupsSet& e) const { block.groups = e.groups; }
    void operator()(const record::ChartSet& e) const { block.chart = e.chart; }
    void operator()(const record::ChartRulesSet& e) const { block.chart_rules = e.rules; }
};

}  // namespace

model::Block block_after(const model::Block& block, const Decision& decision) {
    model::Block out = block;
    for (const record::Body& event : decision.events)
        std::visit(After{out}, event);
    return out;
}

int places_changed(const model::Block& before, const model::Chart& after) {
    int changed = 0;
    for (std::size_t g = 0; g < after.size() && g < before.chart.size(); ++g) {
        const auto& was = before.chart[g];
        for (std::size_t r = std::size_t(begun_rounds(before));
             r < std::min(was.size(), after[g].size()); ++r) {
            changed += was[r] == after[g][r] ? 0 : 1;
        }
    }
    return changed;
}

}  // namespace tallyround::session
