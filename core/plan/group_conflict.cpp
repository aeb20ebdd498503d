#include <algorithm>

#include "plan/group_place.h"

namespace tallyround::plan::detail {

namespace {

/// The members of a conflict search in one row: what is dropped first stands first.
struct Elements {
    explicit Elements(const GroupProblem& p) : problem(p) {}

    int count() const {
        return int(2 + std::size_t(problem.students) + problem.seat.size() + problem.locked.size() +
                   problem.with_one_of.size() + problem.helpers.size() + problem.together.size() +
                   problem.apart.size());
    }
    GroupSubset subset(const std::vector<char>& kept) const {
        GroupSubset s = GroupSubset::all(problem);
        s.size_max = kept[0] != 0;
        s.groups = kept[1] != 0;
        std::size_t at = 2;
        for (auto* flags :
             {&s.students, &s.seat, &s.locked, &s.with_one_of, &s.helpers, &s.together, &s.apart})
            for (char& flag : *flags)
                flag = kept[at++];
        return s;
    }
    const GroupProblem& problem;
};

/// How many students of a list count.
int present(const std::vector<int>& list, const GroupSubset& s) {
    return int(std::count_if(list.begin(), list.end(), [&](int i) { return s.students[i] != 0; }));
}

GroupConflict conflict_of(const GroupProblem& p, const GroupSubset& s) {
    using Kind = GroupRule::Kind;
    GroupConflict out;
    for (int i = 0; i < p.students; ++i)
        if (s.students[i]) out.students.push_back(i);
    const auto add = [&](Kind kind, std::size_t index) { out.rules.push_back({kind, int(index)}); };
    for (std::size_t i = 0; i < p.together.size(); ++i)
        if (s.together[i] && present(p.together[i], s) > 1) add(Kind::together, i);
    for (std::size_t i = 0; i < p.apart.size(); ++i)
        if (s.apart[i] && present(p.apart[i], s) > 1) add(Kind::apart, i);
    for (std::size_t i = 0; i < p.seat.size(); ++i)
        if (s.seat[i] && s.students[i] && p.seat[i] >= 0) add(Kind::seat, i);
    for (std::size_t i = 0; i < p.locked.size(); ++i)
        if (s.locked[i]) out.rules.push_back({Kind::locked, p.locked[i]});
    for (std::size_t i = 0; i < p.with_one_of.size(); ++i) {
        const auto& c = p.with_one_of[i];
        const bool all = present(c.partners, s) == int(c.partners.size());
        if (s.with_one_of[i] && s.students[c.student] && all) add(Kind::with_one_of, i);
    }
    for (std::size_t i = 0; i < p.helpers.size(); ++i)
        if (s.helpers[i] && present(p.helpers[i].students, s) > 1) add(Kind::helper, i);
    if (s.size_max) add(Kind::size_max, 0);
    if (s.groups) add(Kind::groups, 0);
    return out;
}

}  // namespace

ConflictSearch::ConflictSearch(const GroupProblem& problem, std::int64_t work)
    : problem_(problem), work_(work), filter_(Elements(problem).count()) {}

Answer ConflictSearch::test(const std::vector<char>& kept) {
    constexpr std::int64_t nodes_a_test = 20'000;
    if (work_ <= 0) return Answer::unknown;
    const GroupModel model(problem_, Elements(problem_).subset(kept));
    const std::int64_t table = std::int64_t(model.items()) * (model.items() + model.groups);
    work_ -= 1 + table / 100;
    if (model.contradictory) return Answer::impossible;
    if (model.students == 0) return Answer::found;
    GroupPlacer placer(model, nullptr, {0, model.capacity});
    const std::int64_t each = 1 + std::int64_t(model.items()) * model.groups / 200;
    const Answer answer = placer.run(std::min(nodes_a_test, 1 + work_ / each), 1);
    work_ -= placer.nodes_used * each;
    return answer;
}

std::int64_t ConflictSearch::step() {
    const std::int64_t before = work_;
    if (const std::vector<char>* tried = filter_.next()) {
        filter_.tell(test(*tried) == Answer::impossible);
        return before - work_ + 1;
    }
    const auto& kept = filter_.kept();
    while (checked_ < kept.size() && kept[checked_] == 0)
        ++checked_;
    if (checked_ == kept.size() || !minimal_) return 0;
    auto without = kept;
    without[checked_++] = 0;
    minimal_ = test(without) == Answer::found;
    return before - work_ + 1;
}

GroupConflict ConflictSearch::conflict() const {
    GroupConflict out = conflict_of(problem_, Elements(problem_).subset(filter_.kept()));
    out.minimal = minimal_;
    return out;
}

}  // namespace tallyround::plan::detail
