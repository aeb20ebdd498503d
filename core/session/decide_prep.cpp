#include <algorithm>
#include <map>

#include "base/text.h"
#include "session/ids.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

constexpr std::size_t bring_limit = 500;
constexpr std::size_t item_limit = 300;
constexpr int stock_limit = 100'000;

bool has_code(const Class& cls, const std::string& code) {
    return !code.empty() && std::any_of(cls.own_skills.begin(), cls.own_skills.end(),
                                        [&](const OwnSkill& own) { return own.code == code; });
}

}  // namespace

Answer on(const Context& ctx, const BringSkills& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    if (wish.skills.size() > bring_limit) {
        return base::fail("Skills", "These are " + std::to_string(wish.skills.size()) +
                                        " skills. Bring at most " + std::to_string(bring_limit) +
                                        " at a time.");
    }
    Decision decision;
    std::map<SkillId, SkillId> ids;
    std::vector<OwnSkill> fresh;
    for (const OwnSkill& skill : wish.skills) {
        if (has_code(**cls, skill.code)) continue;
        const SkillId id = make_id<SkillId>('k', ctx.entropy, [&](const SkillId& s) {
            return knows_skill(**cls, s) ||
                   std::any_of(fresh.begin(), fresh.end(),
                               [&](const OwnSkill& other) { return other.id == s; });
        });
        ids.emplace(skill.id, id);
        fresh.push_back(skill);
        fresh.back().id = id;
    }
    for (OwnSkill& skill : fresh) {
        std::vector<SkillId> before;
        for (const SkillId& other : skill.before) {
            const auto it = ids.find(other);
            if (it != ids.end() && it->second != skill.id) before.push_back(it->second);
        }
        const std::string title = base::first_code_points(base::tidy_line(skill.title), name_limit);
        if (title.empty()) continue;
        decision.events.push_back(record::OwnSkillSet{
            wish.cls, skill.id, title, std::clamp(skill.grade, 1, 12),
            base::first_code_points(base::tidy_line(skill.code), 60), std::move(before)});
        decision.made.push_back(skill.id.str());
    }
    decision.said = base::count_of(decision.made.size(), "skill", "skills") + " added.";
    const std::size_t there = wish.skills.size() - decision.made.size();
    if (there > 0) decision.said += " " + std::to_string(there) + " were there already.";
    return decision;
}

Answer on(const Context& ctx, const SetStock& wish) {
    const auto cls = open_class(ctx, wish.cls);
    if (!cls) return pass(cls);
    const auto item = checked_name("Item", wish.item);
    if (!item) return pass(item);
    const auto count = checked_number("In stock", wish.count, -1, stock_limit, "");
    if (!count) return pass(count);
    return Decision{{record::StockSet{wish.cls, *item, *count}},
                    *count < 0 ? *item + ": not counted."
                               : *item + ": " + std::to_string(*count) + " in stock.",
                    {}};
}

Answer on(const Context& ctx, const SetReady& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    if (wish.item.empty() || wish.item.size() > item_limit)
        return base::fail("Item", "This is not on the prep list.");
    const auto& ready = spot->block->ready;
    const bool now = std::find(ready.begin(), ready.end(), wish.item) != ready.end();
    if (now == wish.ready) return Decision{};
    return Decision{{record::ReadySet{wish.cls, wish.block, wish.item, wish.ready}},
                    wish.ready ? "Ready." : "Not ready.",
                    {}};
}

}  // namespace tallyround::session
