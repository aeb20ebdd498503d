#include <algorithm>

#include "base/text.h"
#include "session/parts.h"
#include "session/seating.h"

namespace tallyround::session {

namespace {

/// In the order of the class list.
std::string pair_words(const Class& cls, const Pair& p) {
    const auto place = [&](const StudentId& id) {
        return std::find_if(cls.students.begin(), cls.students.end(),
                            [&](const Student& s) { return s.id == id; });
    };
    const bool turned = place(p.b) < place(p.a);
    return name_of(cls, turned ? p.b : p.a) + " and " + name_of(cls, turned ? p.a : p.b) + " sit " +
           (p.rule == PairRule::apart ? "apart" : "together");
}
Obstacle pair_rule(const Class& cls, const Pair& p) {
    return {pair_words(cls, p), SetPair{cls.id, p.a, p.b, PairRule::none}};
}

Obstacle company_rule(const Class& cls, const Company& c) {
    std::vector<std::string> names;
    for (const StudentId& id : c.partners)
        names.push_back(name_of(cls, id));
    return {name_of(cls, c.student) + " sits with " + base::list_of(names, " or "),
            SetCompany{cls.id, c.student, {}}};
}

/// The block's rules without what `take` takes out.
template <class Take>
SetGroupRules without(const Class& cls, const Block& block, Take take) {
    SetGroupRules wish{cls.id, block.id, block.group_rules};
    take(wish.rules);
    return wish;
}

Obstacle seat_rule(const Class& cls, const Block& block, const Seat& seat) {
    return {name_of(cls, seat.student) + " always works in " + group_name(seat.group),
            without(cls, block, [&](GroupRules& r) { std::erase(r.seats, seat); })};
}

Obstacle lock_rule(const Class& cls, const Block& block, int group) {
    return {group_name(group) + " stays as it is",
            without(cls, block, [&](GroupRules& r) { std::erase(r.locked, group); })};
}

Obstacle helper_rule(const Class& cls, const Block& block, std::size_t index) {
    const Helper& helper = block.group_rules.helpers[index];
    std::string text = helper.name + " goes along with " + names_of(cls, helper.students);
    const int rounds = wished_rounds(block);
    const std::vector<int> there = helper_rounds(helper, rounds);
    if (!helper.rounds.empty()) {
        std::vector<std::string> numbers;
        for (const int round : helper.rounds)
            numbers.push_back(std::to_string(round));
        text += (numbers.size() == 1 ? " in round " : " in rounds ") + base::list_of(numbers);
    }
    const std::size_t reach = std::size_t(plan::groups_in_reach(int(there.size())));
    if (rounds > 0 && reach > 0 && helper.students.size() > reach) {
        text += reach == 1 ? ", so they share one group"
                           : ", so they are in at most " + std::to_string(reach) + " groups";
    }
    return {text, without(cls, block, [&](GroupRules& r) {
                r.helpers.erase(r.helpers.begin() + std::ptrdiff_t(index));
            })};
}

std::vector<StudentId> ids_of(const Seating& seating, const std::vector<int>& numbers) {
    std::vector<StudentId> out;
    for (const int n : numbers)
        out.push_back(seating.ids[std::size_t(n)]);
    return out;
}

bool only_sizes(const plan::GroupConflict& conflict) {
    using Kind = plan::GroupRule::Kind;
    return std::all_of(conflict.rules.begin(), conflict.rules.end(), [](const auto& rule) {
        return rule.kind == Kind::size_max || rule.kind == Kind::groups;
    });
}

}  // namespace

std::vector<Obstacle> group_rules(const Class& cls, const Block& block) {
    std::vector<Obstacle> out;
    const auto in_class = [&](const StudentId& id) {
        const Student* s = cls.student(id);
        return s != nullptr && !s->left;
    };
    for (const Pair& p : cls.pairs)
        if (in_class(p.a) && in_class(p.b)) out.push_back(pair_rule(cls, p));
    for (const Company& c : cls.company)
        if (in_class(c.student)) out.push_back(company_rule(cls, c));
    for (const Seat& seat : block.group_rules.seats)
        if (in_class(seat.student)) out.push_back(seat_rule(cls, block, seat));
    for (const int group : block.group_rules.locked)
        out.push_back(lock_rule(cls, block, group));
    for (std::size_t i = 0; i < block.group_rules.helpers.size(); ++i)
        out.push_back(helper_rule(cls, block, i));
    return out;
}

Obstacle rule_words(const Class& cls, const Block& block, const Seating& seating,
                    const plan::GroupRule& rule) {
    using Kind = plan::GroupRule::Kind;
    const auto at = std::size_t(rule.index);
    const plan::GroupProblem& p = seating.problem;
    switch (rule.kind) {
        case Kind::apart:
            return pair_rule(cls, seating.apart[at]);
        case Kind::together:
            return pair_rule(cls, seating.together[at]);
        case Kind::seat:
            return seat_rule(cls, block, {seating.ids[at], p.seat[at]});
        case Kind::locked:
            return lock_rule(cls, block, rule.index);
        case Kind::with_one_of:
            return company_rule(cls, seating.company[at]);
        case Kind::helper:
            return helper_rule(cls, block, std::size_t(seating.helpers[at]));
        case Kind::size_max:
            return {"there are at most " + std::to_string(p.size_max) + " in a group", {}};
        case Kind::groups:
            break;
    }
    return {"there are " + base::count_of(std::size_t(p.groups), "group", "groups"), {}};
}

Trouble trouble_of(const Class& cls, const Block& block, const Seating& seating,
                   const plan::GroupConflict& conflict) {
    const plan::GroupProblem& p = seating.problem;
    if (only_sizes(conflict)) {
        return {base::count_of(std::size_t(p.groups), "group", "groups") + " of at most " +
                    std::to_string(p.size_max) + " hold " + std::to_string(p.groups * p.size_max) +
                    " students, and " + std::to_string(p.students) +
                    " are here. Take more groups or larger ones.",
                {}};
    }
    Trouble out;
    std::vector<std::string> words;
    for (const plan::GroupRule& rule : conflict.rules) {
        Obstacle one = rule_words(cls, block, seating, rule);
        words.push_back(one.text);
        if (one.remove) out.rules.push_back(std::move(one));
    }
    out.text = "The rules for " + names_of(cls, ids_of(seating, conflict.students)) +
               " cannot all hold: " + base::list_of(words) + ". ";
    out.text += !conflict.minimal   ? "Take one of these rules away and try again."
                : words.size() == 1 ? "Taking this rule away resolves it."
                                    : "Taking any one of them away resolves it.";
    return out;
}

std::string repeats_text(const plan::GroupSearch& search, bool any_past) {
    if (!any_past) return "";
    const plan::Grouping& grouping = *search.best();
    const int repeats = grouping.repeat_pairs;
    if (repeats == 0) return "Nobody meets a partner of an earlier block again.";
    const std::string met =
        base::count_of(std::size_t(repeats), "pair", "pairs") + " met in an earlier block";
    const std::int64_t bound = search.repeat_bound();
    if (search.proved_best() || grouping.score.repeat_cost <= bound) {
        return met + "; that is the best possible.";
    }
    // A meeting counts a thousand at most, so so many there must be.
    const int least = int((bound + 999) / 1000);
    if (repeats <= least) return met + "; fewer are not possible.";
    return met + "; at most " + std::to_string(repeats - least) + " fewer would be possible.";
}

}  // namespace tallyround::session
