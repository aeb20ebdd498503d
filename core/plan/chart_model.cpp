#include "plan/chart_model.h"

#include <algorithm>
#include <bit>

namespace tallyround::plan::detail {

namespace {

constexpr int many = 1'000'000;

struct Matcher {
    const std::vector<Mask>& choices;
    const std::vector<int>& room;
    std::vector<std::vector<int>> taken;  ///< lefts at each place
    Mask visited = 0;

    bool augment(int left) {
        for (Mask open = choices[left] & ~visited; open != 0; open = choices[left] & ~visited) {
            const int place = std::countr_zero(open);
            visited |= Mask{1} << unsigned(place);
            if (int(taken[place].size()) < room[place]) {
                taken[place].push_back(left);
                return true;
            }
            for (int& holder : taken[place]) {
                if (augment(holder)) {
                    holder = left;
                    return true;
                }
            }
        }
        return false;
    }
};

}  // namespace

int most_matched(const std::vector<Mask>& choices, const std::vector<int>& room) {
    Matcher matcher{choices, room, std::vector<std::vector<int>>(room.size())};
    int matched = 0;
    for (int left = 0; left < int(choices.size()); ++left) {
        matcher.visited = 0;
        matched += matcher.augment(left) ? 1 : 0;
    }
    return matched;
}

ChartModel::ChartModel(const ChartProblem& p)
    : ChartModel(p, std::vector<char>(std::size_t(p.groups), 1),
                 std::vector<char>(p.rules.size(), 1), true, true) {}

ChartModel::ChartModel(const ChartProblem& p, const std::vector<char>& groups_kept,
                       const std::vector<char>& rules_kept, bool with_holds, bool with_stock)
    : rounds(p.rounds), centers(int(p.centers.size())), devices(int(p.stock.size())) {
    std::vector<int> number(std::size_t(p.groups), -1);
    for (int g = 0; g < p.groups; ++g) {
        if (!groups_kept[g]) continue;
        number[g] = groups++;
        row_of.push_back(g);
    }
    stock = p.stock;
    for (const ChartCenter& center : p.centers) {
        holds.push_back(with_holds ? center.holds : many);
        needs.push_back(center.needs);
        needs.back().resize(std::size_t(devices), 0);
        if (!with_stock) std::fill(needs.back().begin(), needs.back().end(), 0);
    }
    const auto cells = std::size_t(groups) * std::size_t(rounds);
    const auto visits_size = std::size_t(groups) * std::size_t(centers);
    allowed.assign(cells, all_centers() | idle_bit());
    was.assign(cells, unknown);
    limit.assign(visits_size, many);
    visits.assign(visits_size, 0);
    base_use.assign(std::size_t(rounds) * std::size_t(centers), 0);
    must.assign(std::size_t(groups), 0);
    before.resize(std::size_t(groups));
    first.assign(std::size_t(groups), 0);
    done.resize(std::size_t(groups));
    for (int g = 0; g < groups; ++g) {
        const auto row = std::size_t(row_of[g]);
        if (row < p.done.size()) done[g] = p.done[row];
        first[g] = int(done[g].size());
        for (int r = 0; r < first[g]; ++r) {
            if (done[g][r] < 0) continue;
            ++visits[at_center(g, done[g][r])];
            ++base_use[at_center(r, done[g][r])];
        }
        if (row >= p.was.size()) continue;
        for (int r = first[g]; r < std::min(rounds, int(p.was[row].size())); ++r)
            was[cell(g, r)] = p.was[row][r];
    }
    for (std::size_t i = 0; i < p.rules.size(); ++i)
        if (rules_kept[i]) apply(p.rules[i], number);
    // A center that must be visited makes those owed before it a must as well.
    for (int g = 0; g < groups; ++g)
        for (int again = 0; again < centers; ++again)
            for (const Before& order : before[g])
                if ((must[g] >> unsigned(order.then) & 1U) != 0)
                    must[g] |= Mask{1} << unsigned(order.first);
    for (int g = 0; g < groups; ++g)
        for (int r = first[g]; r < rounds; ++r)
            impossible = impossible || allowed[cell(g, r)] == 0;
}

void ChartModel::apply(const ChartRule& rule, const std::vector<int>& number) {
    using Kind = ChartRule::Kind;
    const Mask bit = Mask{1} << unsigned(rule.center);
    std::vector<int> whom;
    if (rule.groups.empty()) {
        for (int g = 0; g < groups; ++g)
            whom.push_back(g);
    }
    for (const int g : rule.groups)
        if (number[g] >= 0) whom.push_back(number[g]);
    for (const int g : whom) {
        const bool open = rule.round >= first[g] && rule.round < rounds;
        int& most = limit[at_center(g, rule.center)];
        switch (rule.kind) {
            case Kind::must_visit:
                if (visits[at_center(g, rule.center)] == 0) must[g] |= bit;
                break;
            case Kind::before:
                if (visits[at_center(g, rule.center)] == 0)
                    before[g].push_back({rule.center, rule.then});
                break;
            case Kind::not_in_round:
                if (open) allowed[cell(g, rule.round)] &= ~bit;
                break;
            case Kind::visit_in_round:
                if (open) allowed[cell(g, rule.round)] &= bit;
                break;
            case Kind::only_in_rounds:
                for (int r = first[g]; r < rounds; ++r)
                    if (std::find(rule.rounds.begin(), rule.rounds.end(), r) == rule.rounds.end())
                        allowed[cell(g, r)] &= ~bit;
                break;
            case Kind::at_most:
                most = std::min(most, std::max(0, rule.times - visits[at_center(g, rule.center)]));
                break;
        }
    }
}

std::vector<int> ChartModel::idle_bounds() const {
    std::vector<int> out;
    for (int r = 0; r < rounds; ++r) {
        std::vector<int> room;
        for (int c = 0; c < centers; ++c) {
            int places = holds[c] - base_use[at_center(r, c)];
            for (int d = 0; d < devices; ++d)
                if (needs[c][d] > 0) places = std::min(places, stock[d] / needs[c][d]);
            room.push_back(std::max(0, std::min(places, groups)));
        }
        std::vector<Mask> choices;
        for (int g = 0; g < groups; ++g)
            if (r >= first[g]) choices.push_back(allowed[cell(g, r)] & all_centers());
        int most = most_matched(choices, room);
        for (int d = 0; d < devices; ++d) {
            // The cheapest centers first: no more groups can sit than the devices allow.
            std::vector<std::pair<int, int>> by_need;
            for (int c = 0; c < centers; ++c)
                by_need.emplace_back(needs[c][d], room[c]);
            std::sort(by_need.begin(), by_need.end());
            int left = stock[d];
            int seated = 0;
            for (const auto& [need, places] : by_need) {
                const int here = need == 0 ? places : std::min(places, left / need);
                seated += here;
                left -= here * need;
            }
            most = std::min(most, seated);
        }
        out.push_back(int(choices.size()) - most);
    }
    return out;
}

}  // namespace tallyround::plan::detail
