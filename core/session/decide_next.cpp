#include <algorithm>

#include "base/text.h"
#include "model/kinds.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t part_limit = 20;

base::Result<bool> makeable(const Class& cls, const std::vector<MakeBlockFrom::Part>& parts) {
    if (parts.empty()) return base::fail("Skills", "Tick at least one skill for the block.");
    if (parts.size() > part_limit) {
        return base::fail("Skills", "A block holds at most " + std::to_string(part_limit) +
                                        " centers. Take some skills out.");
    }
    for (const MakeBlockFrom::Part& part : parts) {
        if (!knows_skill(cls, part.skill)) {
            return base::fail("Skill", "There is no skill \"" + part.skill.str() +
                                           "\". Choose one of the list or write your own.");
        }
        if (find_center_kind(part.kind) == nullptr) {
            return base::fail("Kind",
                              "Choose a kind of center for " + skill_title(cls, part.skill) + ".");
        }
        const auto levels = checked_tiers(part.tiers);
        if (!levels) return pass(levels);
    }
    return true;
}

}  // namespace

Answer on(const Context& ctx, const MakeBlockFrom& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto can = makeable(**cls, wish.parts);
    if (!can) return pass(can);
    const Block* like = (*cls)->block(wish.like);
    if (like == nullptr && !wish.like.empty()) {
        return base::fail("Block", "The block to follow is not here any more.");
    }
    auto made = on(ctx, MakeBlock{wish.cls, wish.title, {}});
    if (!made) return made;
    Decision decision = *std::move(made);
    const BlockId id(decision.made.front());
    std::vector<SkillId> skills;
    for (const MakeBlockFrom::Part& part : wish.parts) {
        if (std::find(skills.begin(), skills.end(), part.skill) == skills.end())
            skills.push_back(part.skill);
    }
    decision.events.push_back(record::SkillsChosen{wish.cls, id, skills});
    for (const MakeBlockFrom::Part& part : wish.parts) {
        const CenterId center = new_center_id(ctx, Block{}, decision);
        decision.made.push_back(center.str());
        Center filled = center_of_kind(center, *find_center_kind(part.kind), part.skill);
        filled.tiers = part.tiers;
        decision.events.push_back(set_event(wish.cls, id, filled));
    }
    if (like != nullptr) {
        Timing timing = like->timing;
        timing.rounds = 0;  // as many as there are centers
        decision.events.push_back(record::TimeSet{wish.cls, id, {}, timing});
        decision.events.push_back(record::DevicesSet{wish.cls, id, like->devices});
    }
    decision.said += " It has " + base::count_of(wish.parts.size(), "center", "centers") + ".";
    return decision;
}

}  // namespace tallyround::session
