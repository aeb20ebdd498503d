#include "session/groups_now.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

using plan::GroupRule;

std::string times(int n, const char* one, const char* many) {
    return base::count_of(std::size_t(std::abs(n)), one, many);
}

/// Hundredths by which the levels are off what the policy asks; 0 without one.
int level_hundredths(const plan::GroupProblem& p, const plan::Grouping& g) {
    if (p.policy == plan::LevelPolicy::any) return 0;
    const bool mixed = p.policy == plan::LevelPolicy::mixed;
    return int(std::lround(100 * (mixed ? g.level_spread : g.within_spread)));
}

std::string repeats_of(const plan::GroupProblem& p, const plan::Grouping& g) {
    if (p.past.empty()) return "";
    return g.repeat_pairs == 0
               ? "Nobody meets a partner of an earlier block again."
               : times(g.repeat_pairs, "pair", "pairs") + " met in an earlier block.";
}

std::string rest_of(const plan::GroupProblem& p, const plan::Grouping& g,
                    const std::vector<Obstacle>& broken) {
    std::string out;
    const bool known =
        std::any_of(p.level.begin(), p.level.end(), [](double l) { return !std::isnan(l); });
    const std::string within = std::to_string(level_hundredths(p, g)) + " in 100";
    if (known && p.policy == plan::LevelPolicy::mixed) {
        out = "Mean levels of groups differ by at most " + within + ". ";
    } else if (known && p.policy == plan::LevelPolicy::similar) {
        out = "Levels inside a group differ by " + within + " on average. ";
    }
    if (broken.empty()) return out + "Every rule is kept.";
    std::vector<std::string> words;
    for (const Obstacle& rule : broken)
        words.push_back(rule.text);
    return out + "Not so now: " + base::list_of(words) + ".";
}

void sort_out(std::vector<GroupRule>& rules) {
    // How large groups may be is looked after where seats are filled.
    std::erase_if(rules, [](const GroupRule& r) { return r.kind == GroupRule::Kind::size_max; });
}

bool in(const std::vector<GroupRule>& rules, const GroupRule& rule) {
    return std::find(rules.begin(), rules.end(), rule) != rules.end();
}

void say(SeatEffect& e) {
    std::vector<std::string> parts;
    if (!e.broken.empty()) parts.push_back("Against a rule: " + base::list_of(e.broken));
    if (!e.mended.empty()) parts.push_back("Kept again: " + base::list_of(e.mended));
    if (e.repeats > 0) parts.push_back(times(e.repeats, "more repeat", "more repeats"));
    if (e.repeats < 0) parts.push_back(times(e.repeats, "repeat fewer", "repeats fewer"));
    if (e.level > 0) parts.push_back("levels off by " + std::to_string(e.level) + " in 100 more");
    if (e.level < 0) parts.push_back("levels off by " + std::to_string(-e.level) + " in 100 less");
    if (e.shared_needs > 0)
        parts.push_back(times(e.shared_needs, "more pair shares", "more pairs share") + " a need");
    if (e.shared_needs < 0)
        parts.push_back(times(e.shared_needs, "pair fewer shares", "pairs fewer share") +
                        " a need");
    if (parts.empty()) parts.push_back("Nothing else changes");
    for (std::size_t i = 0; i < parts.size(); ++i)
        e.text += (i > 0 ? "; " : "") + parts[i];
    e.text += ".";
    switch (e.kind) {
        case SeatEffect::Kind::breaks:
            e.brief = "against: " + e.broken.front();
            break;
        case SeatEffect::Kind::parts:
            e.brief = "parts them: " + e.broken.front();
            break;
        case SeatEffect::Kind::more_repeats:
            e.brief = times(e.repeats, "repeat more", "repeats more");
            break;
        case SeatEffect::Kind::fewer_repeats:
            e.brief = times(e.repeats, "repeat fewer", "repeats fewer");
            break;
        case SeatEffect::Kind::same:
            e.brief = "fine";
            break;
    }
}

}  // namespace

GroupsNow::GroupsNow(const Class& cls, const Block& block, const Standings& standings,
                     GroupPolicy policy)
    : seating_(cls, block, Whom::everybody) {
    plan::GroupProblem& p = seating_.problem;
    p.groups = int(block.groups.size());
    p.size_max = most_in_group;
    add_evidence(seating_, block, standings, policy);
    now_ = plan::measure(p, seating_.numbers(block.groups));
    broken_rules_ = plan::broken_rules(p, seating_.numbers(block.groups));
    sort_out(broken_rules_);
    for (const GroupRule& rule : broken_rules_)
        broken_.push_back(rule_words(cls, block, seating_, rule));
    repeats_ = repeats_of(p, now_);
    rest_ = rest_of(p, now_, broken_);
}

SeatEffect GroupsNow::effect(const Class& cls, const Block& block,
                             std::vector<std::vector<int>> groups) const {
    const plan::GroupProblem& p = seating_.problem;
    SeatEffect e;
    auto broken = plan::broken_rules(p, groups);
    sort_out(broken);
    bool only_parts = true;
    for (const GroupRule& rule : broken) {
        if (in(broken_rules_, rule)) continue;
        only_parts = only_parts && rule.kind == GroupRule::Kind::together;
        e.broken.push_back(rule_words(cls, block, seating_, rule).text);
    }
    for (const GroupRule& rule : broken_rules_)
        if (!in(broken, rule)) e.mended.push_back(rule_words(cls, block, seating_, rule).text);
    const plan::Grouping then = plan::measure(p, std::move(groups));
    e.repeats = then.repeat_pairs - now_.repeat_pairs;
    e.shared_needs = int(then.score.shared_needs - now_.score.shared_needs);
    e.level = level_hundredths(p, then) - level_hundredths(p, now_);
    using Kind = SeatEffect::Kind;
    e.kind = !e.broken.empty() ? (only_parts ? Kind::parts : Kind::breaks)
             : e.repeats > 0   ? Kind::more_repeats
             : e.repeats < 0   ? Kind::fewer_repeats
                               : Kind::same;
    say(e);
    return e;
}

SeatEffect GroupsNow::swap(const Class& cls, const Block& block, const StudentId& a,
                           const StudentId& b) const {
    Groups groups = block.groups;
    for (auto& group : groups) {
        for (StudentId& id : group) {
            if (id == a) {
                id = b;
            } else if (id == b) {
                id = a;
            }
        }
    }
    return effect(cls, block, seating_.numbers(groups));
}

SeatEffect GroupsNow::move(const Class& cls, const Block& block, const StudentId& student,
                           int group) const {
    Groups groups = block.groups;
    groups.resize(std::max(groups.size(), std::size_t(group) + 1));
    for (auto& members : groups)
        std::erase(members, student);
    groups[std::size_t(group)].push_back(student);
    return effect(cls, block, seating_.numbers(groups));
}

namespace {

/// "Tue 1 Dec" of the block's first day, or its title.
std::string when_of(const Class& cls, const BlockId& id) {
    const Block* block = cls.block(id);
    if (block == nullptr) return "an earlier block";
    if (!block->periods.empty()) return base::short_day(block->periods.front().date);
    return "“" + block->title + "”";
}

std::string hundredths(double level) {
    return std::to_string(std::lround(100 * level));
}

void level_line(std::vector<std::string>& out, const plan::GroupProblem& p,
                const plan::Grouping& now, int group) {
    double low = 1;
    double high = 0;
    double sum = 0;
    int n = 0;
    double all = 0;
    int all_n = 0;
    for (std::size_t g = 0; g < now.groups.size(); ++g) {
        for (const int student : now.groups[g]) {
            const double level = p.level[std::size_t(student)];
            if (std::isnan(level)) continue;
            all += level;
            ++all_n;
            if (int(g) != group) continue;
            low = std::min(low, level);
            high = std::max(high, level);
            sum += level;
            ++n;
        }
    }
    if (n == 0) return;
    out.push_back("On this block's skills the chances here are " + hundredths(low) + " to " +
                  hundredths(high) + " in 100, on average " + hundredths(sum / n) +
                  "; in all groups " + hundredths(all / all_n) + ".");
}

}  // namespace

std::vector<std::string> GroupsNow::why(const Class& cls, const Block& block, int group) const {
    const plan::GroupProblem& p = seating_.problem;
    std::vector<std::string> out;
    const auto name = [&](int student) { return name_of(cls, seating_.ids[std::size_t(student)]); };
    const plan::GroupReason reason = plan::reason(p, now_, group);
    for (const auto& pair : reason.repeats) {
        out.push_back(name(pair.first) + " and " + name(pair.second) + " met on " +
                      when_of(cls, seating_.past[std::size_t(pair.past_index)]) + ".");
    }
    const int all = now_.repeat_pairs;
    if (!p.past.empty() && reason.repeats.empty()) {
        out.push_back("Nobody here meets a partner of an earlier block again.");
    }
    if (!reason.repeats.empty()) {
        const std::string total = std::to_string(all);
        out.push_back(reason.best_other < 0
                          ? "No single exchange with another group keeps the rules."
                      : reason.best_other >= all
                          ? "Every single exchange with another group leaves " +
                                std::to_string(reason.best_other) +
                                " repeats or more in the class; now there are " + total + "."
                          : "One exchange would leave " + std::to_string(reason.best_other) +
                                " repeats in the class; now there are " + total + ".");
    }
    level_line(out, p, now_, group);
    for (std::size_t skill = 0; skill < block.skills.size(); ++skill) {
        std::vector<std::string> names;
        for (const int student : now_.groups[std::size_t(group)]) {
            const auto& needs = p.needs[std::size_t(student)];
            if (std::find(needs.begin(), needs.end(), int(skill)) != needs.end())
                names.push_back(name(student));
        }
        if (names.size() < 2) continue;
        out.push_back(base::list_of(names) + " need time with " +
                      skill_title(cls, block.skills[skill]) + " and can work on it together.");
    }
    for (const Obstacle& rule : broken_)
        out.push_back("Not so now: " + rule.text + ".");
    if (out.empty()) out.push_back("There are no earlier groups and no marks to go by yet.");
    return out;
}

std::vector<std::string> helper_lines(const Class& cls, const Block& block) {
    std::vector<std::string> out;
    for (const Helper& helper : block.group_rules.helpers) {
        std::vector<int> groups;
        std::vector<std::vector<StudentId>> whom(block.groups.size());
        for (const StudentId& id : helper.students) {
            const int g = group_of(block, id);
            if (g < 0) continue;
            if (whom[std::size_t(g)].empty()) groups.push_back(g);
            whom[std::size_t(g)].push_back(id);
        }
        std::sort(groups.begin(), groups.end());
        const auto rounds = helper_rounds(helper, wished_rounds(block));
        const auto rota = plan::helper_rota(groups, rounds);
        for (std::size_t i = 0; i < rota.size();) {
            std::size_t end = i;
            while (end < rota.size() && rota[end] == rota[i])
                ++end;
            std::vector<std::string> numbers;
            for (std::size_t r = i; r < end; ++r)
                numbers.push_back(std::to_string(rounds[r]));
            out.push_back(helper.name + (numbers.size() == 1 ? ", round " : ", rounds ") +
                          base::list_of(numbers) + ": " + group_name(rota[i]) + " with " +
                          names_of(cls, whom[std::size_t(rota[i])]) + ".");
            i = end;
        }
        for (const int g : groups) {
            if (std::find(rota.begin(), rota.end(), g) != rota.end()) continue;
            out.push_back(helper.name + " has no round for " + group_name(g) + ".");
        }
    }
    return out;
}

}  // namespace tallyround::session
