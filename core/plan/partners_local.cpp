#include "plan/partners_local.h"

#include <algorithm>
#include <numeric>

#include "plan/accept.h"

namespace tallyround::plan::detail {

namespace {

constexpr int rule_weight = 50;
constexpr int exchanges_a_degree = 256;

int cost_of(PairKind kind, int meetings, int blocks) {
    if (kind == PairKind::apart) return rule_weight * meetings;
    if (kind == PairKind::together) return rule_weight * (blocks - meetings);
    return std::max(0, meetings - 1);
}

void count_meetings(const std::vector<Block>& blocks, int students, std::vector<int>& meets) {
    for (const Block& block : blocks)
        for (const auto& group : block)
            for (const int a : group)
                for (const int b : group)
                    if (a != b) ++meets[std::size_t(a) * std::size_t(students) + std::size_t(b)];
}

}  // namespace

std::vector<PairKind> pair_kinds(const PartnersProblem& p) {
    const auto n = std::size_t(p.students);
    std::vector<PairKind> kinds(n * n, PairKind::plain);
    const auto mark = [&](const std::vector<std::vector<int>>& lists, PairKind kind) {
        for (const auto& list : lists)
            for (const int a : list)
                for (const int b : list)
                    if (a != b) kinds[std::size_t(a) * n + std::size_t(b)] = kind;
    };
    mark(p.together, PairKind::together);
    mark(p.apart, PairKind::apart);
    return kinds;
}

std::vector<int> fixed_meetings(const PartnersProblem& p) {
    std::vector<int> meets(std::size_t(p.students) * std::size_t(p.students), 0);
    count_meetings(p.fixed, p.students, meets);
    return meets;
}

void rename_students(const PartnersProblem& p, std::vector<Block>& blocks, std::int64_t tries,
                     std::uint64_t seed) {
    const int n = p.students;
    const auto at = [n](int a, int b) { return std::size_t(a) * std::size_t(n) + std::size_t(b); };
    const auto kinds = pair_kinds(p);
    const auto base = fixed_meetings(p);
    std::vector<int> meets(std::size_t(n) * std::size_t(n), 0);
    count_meetings(blocks, n, meets);
    std::vector<int> name;
    name.resize(std::size_t(n));
    std::iota(name.begin(), name.end(), 0);
    base::Random random(seed);
    const int count = int(blocks.size());
    // What point i costs if it is called `who` while point `skip` is left out.
    const auto row_cost = [&](int i, int who, int skip) {
        int cost = 0;
        for (int x = 0; x < n; ++x) {
            if (x == i || x == skip) continue;
            const auto pair = at(who, name[x]);
            cost += cost_of(kinds[pair], base[pair] + meets[at(i, x)], count);
        }
        return cost;
    };
    for (std::int64_t k = 0; k < tries && n > 1; ++k) {
        const int i = int(random.below(std::uint64_t(n)));
        const int j = int(random.below(std::uint64_t(n)));
        if (i == j) continue;
        const int before = row_cost(i, name[i], j) + row_cost(j, name[j], i);
        const int after = row_cost(i, name[j], j) + row_cost(j, name[i], i);
        if (after <= before) std::swap(name[i], name[j]);
    }
    for (Block& block : blocks)
        for (auto& group : block)
            for (int& point : group)
                point = name[point];
}

PartnersLocal::PartnersLocal(const PartnersProblem& problem, std::uint64_t seed)
    : students_(problem.students),
      blocks_(std::max(0, problem.blocks - int(problem.fixed.size()))),
      kinds_(pair_kinds(problem)),
      base_(fixed_meetings(problem)),
      sizes_(block_sizes(problem.students, problem.size)),
      random_(seed) {
    for (std::size_t g = 0; g < sizes_.size(); ++g) {
        first_.push_back(int(group_.size()));
        group_.insert(group_.end(), std::size_t(sizes_[g]), int(g));
    }
}

void PartnersLocal::start(const std::vector<Block>& blocks, int frozen, double hot, double cold,
                          std::int64_t exchanges) {
    places_.clear();
    for (int t = 0; t < blocks_; ++t) {
        std::vector<int> row;
        if (t < int(blocks.size())) {
            Block block = blocks[t];
            std::stable_sort(block.begin(), block.end(),
                             [](const auto& a, const auto& b) { return a.size() > b.size(); });
            for (const auto& group : block)
                row.insert(row.end(), group.begin(), group.end());
        } else {
            row.resize(std::size_t(students_));
            std::iota(row.begin(), row.end(), 0);
            random_.shuffle(row);
        }
        places_.insert(places_.end(), row.begin(), row.end());
    }
    meets_ = base_;
    for (int t = 0; t < blocks_; ++t)
        for (int i = 0; i < students_; ++i)
            for (int j = first_[group_[i]]; j < i; ++j)
                meet(place(t, i), place(t, j), +1);
    cost_ = 0;
    for (int a = 0; a < students_; ++a)
        for (int b = 0; b < a; ++b)
            cost_ += cost_of(kinds_[pair(a, b)], meets_[pair(a, b)], blocks_);
    frozen_ = frozen;
    temperature_ = hot;
    cooling_ = root_of(cold / hot, std::max<std::int64_t>(1, exchanges / exchanges_a_degree));
    left_ = exchanges;
    done_ = 0;
    best_ = places_;
    best_cost_ = cost_;
}

void PartnersLocal::meet(int a, int b, int by) {
    meets_[pair(a, b)] += by;
    meets_[pair(b, a)] += by;
}

int PartnersLocal::joining(int a, int b) const {
    const auto at = pair(a, b);
    if (kinds_[at] == PairKind::plain) return meets_[at] >= 1 ? 1 : 0;
    return kinds_[at] == PairKind::apart ? rule_weight : -rule_weight;
}

int PartnersLocal::leaving(int a, int b) const {
    const auto at = pair(a, b);
    if (kinds_[at] == PairKind::plain) return meets_[at] >= 2 ? -1 : 0;
    return kinds_[at] == PairKind::apart ? -rule_weight : rule_weight;
}

int PartnersLocal::delta(int block, int i, int j) const {
    const int a = place(block, i);
    const int b = place(block, j);
    int sum = 0;
    const auto others = [&](int position, int going, int coming) {
        const int group = group_[position];
        for (int k = first_[group]; k < first_[group] + sizes_[group]; ++k) {
            if (k == position) continue;
            sum += leaving(going, place(block, k)) + joining(coming, place(block, k));
        }
    };
    others(i, a, b);
    others(j, b, a);
    return sum;
}

void PartnersLocal::swap_places(int block, int i, int j) {
    const int a = place(block, i);
    const int b = place(block, j);
    const auto others = [&](int position, int going, int coming) {
        const int group = group_[position];
        for (int k = first_[group]; k < first_[group] + sizes_[group]; ++k) {
            if (k == position) continue;
            meet(going, place(block, k), -1);
            meet(coming, place(block, k), +1);
        }
    };
    others(i, a, b);
    others(j, b, a);
    std::swap(place(block, i), place(block, j));
}

bool PartnersLocal::step(std::int64_t exchanges) {
    if (sizes_.size() < 2 || blocks_ <= frozen_) return true;
    for (; exchanges > 0 && left_ > 0 && cost_ > 0; --exchanges, --left_) {
        const int t = frozen_ + int(random_.below(std::uint64_t(blocks_ - frozen_)));
        const int i = int(random_.below(std::uint64_t(students_)));
        const int j = int(random_.below(std::uint64_t(students_)));
        if (++done_ % exchanges_a_degree == 0) temperature_ *= cooling_;
        if (group_[i] == group_[j]) continue;
        const int change = delta(t, i, j);
        if (!accept(change, temperature_, random_)) continue;
        swap_places(t, i, j);
        cost_ += change;
        if (cost_ >= best_cost_) continue;
        best_cost_ = cost_;
        best_ = places_;
    }
    return left_ <= 0 || cost_ == 0;
}

std::vector<Block> PartnersLocal::best() const {
    std::vector<Block> out;
    for (int t = 0; t < blocks_; ++t) {
        Block block;
        for (std::size_t g = 0; g < sizes_.size(); ++g) {
            const auto from = best_.begin() + std::ptrdiff_t(t) * students_ + first_[g];
            block.emplace_back(from, from + sizes_[g]);
            std::sort(block.back().begin(), block.back().end());
        }
        out.push_back(std::move(block));
    }
    return out;
}

}  // namespace tallyround::plan::detail
