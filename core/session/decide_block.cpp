#include <algorithm>

#include "base/text.h"
#include "model/kinds.h"
#include "session/derived.h"
#include "session/ids.h"
#include "session/kinds_for.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t skill_limit = 40;
constexpr std::size_t center_limit = 20;
constexpr std::size_t block_limit = 500;

/// The kind used least in the block so far, earlier in the strand's list on a tie.
const CenterKind& fitting_kind(const Block& block, const SkillId& skill) {
    const auto open = open_centers(block);
    const auto used = [&](std::string_view kind) {
        return std::count_if(open.begin(), open.end(),
                             [&](const Center* c) { return c->kind == kind; });
    };
    if (used("teacher") == 0) return *find_center_kind("teacher");
    const CenterKind* best = nullptr;
    for (const std::string_view id : kinds_for(skill)) {
        const CenterKind* kind = find_center_kind(id);
        if (!devices_suffice(*kind, int(used(id)), block.devices)) continue;
        if (best == nullptr || used(id) < used(best->id)) best = kind;
    }
    return *best;
}

base::Result<bool> room_for_centers(const Block& block, std::size_t more) {
    if (open_centers(block).size() + more <= center_limit) return true;
    return base::fail("Centers", "A block holds at most " + std::to_string(center_limit) +
                                     " centers. Close one first.");
}

base::Result<bool> known_skill(const Class& cls, const SkillId& skill) {
    if (skill.empty()) return base::fail("Skill", "Choose the skill that is reviewed there.");
    if (!knows_skill(cls, skill)) {
        return base::fail("Skill", "There is no skill \"" + skill.str() +
                                       "\". Choose one of the list or write your own.");
    }
    return true;
}

void copy_block(const Context& ctx, const ClassId& cls, const Block& from, const BlockId& to,
                Decision& decision) {
    if (!from.skills.empty()) {
        decision.events.push_back(record::SkillsChosen{cls, to, from.skills});
    }
    for (const Center* center : open_centers(from)) {
        Center copy = *center;
        copy.id = new_center_id(ctx, from, decision);
        decision.made.push_back(copy.id.str());
        decision.events.push_back(set_event(cls, to, copy));
    }
    decision.events.push_back(record::TimeSet{cls, to, {}, from.timing});
    decision.events.push_back(record::DevicesSet{cls, to, from.devices});
}

}  // namespace

CenterId new_center_id(const Context& ctx, const Block& block, const Decision& decision) {
    return make_id<CenterId>('p', ctx.entropy, [&](const CenterId& id) {
        return find_center(block, id) != nullptr ||
               std::find(decision.made.begin(), decision.made.end(), id.view()) !=
                   decision.made.end();
    });
}

record::CenterSet set_event(const ClassId& cls, const BlockId& block, const Center& center) {
    return {cls,          block,        center.id,           center.kind,
            center.skill, center.title, center.instructions, center.materials,
            center.holds, center.tiers};
}

Center center_of_kind(const CenterId& id, const CenterKind& kind, const SkillId& skill) {
    return {id,   std::string(kind.id),           skill,
            "",   std::string(kind.instructions), std::string(kind.materials),
            false};
}

Answer on(const Context& ctx, const MakeBlock& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const Block* last = (*cls)->current_block();
    if (last != nullptr && last->lesson.running()) {
        return base::fail("Block", "A lesson of " + last->title + " is running. End it first.");
    }
    if ((*cls)->blocks.size() >= block_limit) {
        return base::fail("Block", "A class holds at most " + std::to_string(block_limit) +
                                       " blocks. Make a new class for a new year.");
    }
    const bool untitled = base::tidy_line(wish.title).empty();
    const auto title =
        checked_name("Block title",
                     untitled ? "Block " + std::to_string((*cls)->blocks.size() + 1) : wish.title);
    if (!title) return pass(title);
    const Block* like = nullptr;
    if (!wish.like.empty()) {
        like = (*cls)->block(wish.like);
        if (like == nullptr) return base::fail("Block", "The block to copy is not here any more.");
    }
    const auto id = make_id<BlockId>('b', ctx.entropy,
                                     [&](const BlockId& b) { return (*cls)->block(b) != nullptr; });
    Decision decision{{record::BlockMade{wish.cls, id, *title}}, *title + " is ready.", {id.str()}};
    if (like != nullptr) copy_block(ctx, wish.cls, *like, id, decision);
    return decision;
}

Answer on(const Context& ctx, const ChooseSkill& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    if (wish.chosen) {
        const auto known = known_skill(*spot->cls, wish.skill);
        if (!known) return pass(known);
    }
    std::vector<SkillId> skills = spot->block->skills;
    const auto it = std::find(skills.begin(), skills.end(), wish.skill);
    if ((it != skills.end()) == wish.chosen) return Decision{};
    std::string said = skill_title(*spot->cls, wish.skill);
    if (!wish.chosen) {
        skills.erase(it);
        said += " is not planned any more.";
        for (const Center* center : open_centers(*spot->block)) {
            if (center->skill == wish.skill) {
                said += " " + center_title(*center) + " still reviews it.";
                break;
            }
        }
    } else {
        if (skills.size() >= skill_limit) {
            return base::fail("Skills", "A block holds at most " + std::to_string(skill_limit) +
                                            " skills. Take one out first.");
        }
        skills.push_back(wish.skill);
        said += " is planned.";
    }
    return Decision{{record::SkillsChosen{wish.cls, wish.block, skills}}, said, {}};
}

Answer on(const Context& ctx, const AddCenter& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const CenterKind* kind = find_center_kind(wish.kind);
    if (kind == nullptr) return base::fail("Kind", "Choose one of the kinds of center.");
    const auto known = known_skill(*spot->cls, wish.skill);
    if (!known) return pass(known);
    const auto room = room_for_centers(*spot->block, 1);
    if (!room) return pass(room);
    Decision decision;
    Block wanted = *spot->block;
    const auto id = new_center_id(ctx, wanted, decision);
    const Center center = center_of_kind(id, *kind, wish.skill);
    if (std::find(wanted.skills.begin(), wanted.skills.end(), wish.skill) == wanted.skills.end() &&
        wanted.skills.size() < skill_limit) {
        wanted.skills.push_back(wish.skill);
        decision.events.push_back(record::SkillsChosen{wish.cls, wish.block, wanted.skills});
    }
    wanted.centers.push_back(center);
    decision.events.push_back(set_event(wish.cls, wish.block, center));
    decision.made.push_back(id.str());
    decision.said =
        std::string(kind->title) + " added for " + skill_title(*spot->cls, wish.skill) + ".";
    keep_chart_true(decision, wish.cls, wanted);
    return decision;
}

Answer on(const Context& ctx, const AddCentersForSkills& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    if (spot->block->skills.empty()) {
        return base::fail("Skills", "No skill is chosen yet. Choose what to review first.");
    }
    Decision decision;
    Block wanted = *spot->block;
    for (const SkillId& skill : spot->block->skills) {
        const auto open = open_centers(wanted);
        const bool served = std::any_of(open.begin(), open.end(),
                                        [&](const Center* c) { return c->skill == skill; });
        if (served) continue;
        const auto room = room_for_centers(wanted, 1);
        if (!room) return pass(room);
        const auto id = new_center_id(ctx, wanted, decision);
        wanted.centers.push_back(center_of_kind(id, fitting_kind(wanted, skill), skill));
        decision.events.push_back(set_event(wish.cls, wish.block, wanted.centers.back()));
        decision.made.push_back(id.str());
    }
    if (decision.events.empty()) {
        decision.said = "Every planned skill has a center already.";
        return decision;
    }
    decision.said = base::count_of(decision.made.size(), "center", "centers") + " added.";
    keep_chart_true(decision, wish.cls, wanted);
    return decision;
}

Answer on(const Context& ctx, const EditCenter& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto was = center_in(*spot->block, wish.center.id);
    if (!was) return pass(was);
    const CenterKind* kind = find_center_kind(wish.center.kind);
    // A kind from a newer version may stay as it came, but not be chosen.
    if (kind == nullptr && wish.center.kind != (*was)->kind) {
        return base::fail("Kind", "Choose one of the kinds of center.");
    }
    if (wish.center.skill != (*was)->skill) {
        const auto known = known_skill(*spot->cls, wish.center.skill);
        if (!known) return pass(known);
    }
    Center center = wish.center;
    center.closed = (*was)->closed;
    center.title = base::tidy_line(center.title);
    if (!center.title.empty()) {
        const auto title = checked_name("Title", center.title);
        if (!title) return pass(title);
    }
    const auto instructions = checked_lines("Instructions", center.instructions, 2000);
    if (!instructions) return pass(instructions);
    const auto materials = checked_lines("Materials", center.materials, 1000);
    if (!materials) return pass(materials);
    const auto holds = checked_number("Groups at once", center.holds, 1, 6, "groups");
    if (!holds) return pass(holds);
    center.instructions = *instructions;
    center.materials = *materials;
    if (center == **was) return Decision{};
    Decision decision{
        {set_event(wish.cls, wish.block, center)}, center_title(center) + " is changed.", {}};
    const CenterKind* old_kind = find_center_kind((*was)->kind);
    const bool used_devices = old_kind != nullptr && old_kind->uses_devices;
    const bool other_devices = kind != nullptr && kind->uses_devices != used_devices;
    if (other_devices || center.holds != (*was)->holds) {
        Block wanted = *spot->block;
        for (Center& c : wanted.centers) {
            if (c.id == center.id) c = center;
        }
        keep_chart_true(decision, wish.cls, wanted);
    }
    return decision;
}

Answer on(const Context& ctx, const CloseCenter& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto center = center_in(*spot->block, wish.center);
    if (!center) return pass(center);
    if ((*center)->closed == wish.closed) return Decision{};
    if (!wish.closed) {
        const auto room = room_for_centers(*spot->block, 1);
        if (!room) return pass(room);
    }
    Block wanted = *spot->block;
    for (Center& c : wanted.centers) {
        if (c.id == wish.center) c.closed = wish.closed;
    }
    Decision decision{
        {record::CenterClosed{wish.cls, wish.block, wish.center, wish.closed}},
        center_title(**center) + (wish.closed ? " is closed. Its marks stay." : " is open again."),
        {}};
    keep_chart_true(decision, wish.cls, wanted);
    return decision;
}

}  // namespace tallyround::session
