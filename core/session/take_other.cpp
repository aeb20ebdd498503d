// A conflict settled the other way: what the side that lost had set is set again.
#include <algorithm>

#include "session/conflicts.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

/// The student who is the only one in these groups, if there is just one.
const StudentId* only_one(const Groups& groups) {
    const StudentId* found = nullptr;
    for (const auto& seats : groups) {
        for (const StudentId& id : seats) {
            if (found != nullptr) return nullptr;
            found = &id;
        }
    }
    return found;
}

/// True when the chart says its last cell alone.
bool one_cell(const Chart& chart) {
    if (chart.empty() || chart.back().empty()) return false;
    const auto none = [](const CenterId& id) { return id.empty(); };
    return std::all_of(chart.begin(), chart.end() - 1, [](const auto& r) { return r.empty(); }) &&
           std::all_of(chart.back().begin(), chart.back().end() - 1, none);
}

/// What a conflict takes says its field alone; the rest of the whole is as it is now, whatever was
/// taken or changed since the merge. A whole stays one.
record::CenterSet completed(const Block& block, record::CenterSet e) {
    const Center* now = find_center(block, e.center);  // there: looked up before
    if (e.kind == unsaid) e.kind = now->kind;
    if (e.skill.view() == unsaid) e.skill = now->skill;
    if (e.title == unsaid) e.title = now->title;
    if (e.instructions == unsaid) e.instructions = now->instructions;
    if (e.materials == unsaid) e.materials = now->materials;
    if (e.holds == 0) e.holds = now->holds;
    return e;
}
record::GroupsSet completed(const Block& block, record::GroupsSet e) {
    const StudentId* only = only_one(e.groups);
    if (only == nullptr) return e;
    const StudentId student = *only;
    const std::size_t group = e.groups.size() - 1;
    e.groups = block.groups;
    for (auto& seats : e.groups)
        std::erase(seats, student);
    if (e.groups.size() <= group) e.groups.resize(group + 1);
    e.groups[group].push_back(student);
    return e;
}
record::ChartSet completed(const Block& block, record::ChartSet e) {
    if (!one_cell(e.chart)) return e;
    const std::size_t group = e.chart.size() - 1;
    const std::size_t round = e.chart.back().size() - 1;
    const CenterId wanted = e.chart.back().back();
    e.chart = block.chart;
    if (e.chart.size() <= group) e.chart.resize(group + 1);
    if (e.chart[group].size() <= round) e.chart[group].resize(round + 1);
    e.chart[group][round] = wanted;
    return e;
}
template <class B>
B completed(const Block&, B e) {
    return e;
}

}  // namespace

Answer on(const Context& ctx, const TakeOther& wish) {
    return std::visit(
        [&]<class B>(const B& body) -> Answer {
            if constexpr (requires { body.block; }) {
                const auto spot = open_block(ctx, body.cls, body.block);
                if (!spot) return pass(spot);
                if constexpr (std::is_same_v<B, record::CenterSet>) {
                    const auto center = center_in(*spot->block, body.center);
                    if (!center) return pass(center);
                }
                return Decision{{completed(*spot->block, body)}, wish.said, {}};
            } else if constexpr (requires { body.cls; }) {
                const auto cls = open_class(ctx, body.cls);
                if (!cls) return pass(cls);
            } else {
                return base::fail("Change", "This change is not one that can be taken over.");
            }
            return Decision{{wish.body}, wish.said, {}};
        },
        wish.body);
}

}  // namespace tallyround::session
