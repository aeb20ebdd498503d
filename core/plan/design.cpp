#include "plan/design.h"

#include <algorithm>

#include "plan/accept.h"
#include "plan/field.h"

namespace tallyround::plan::detail {

namespace {

std::optional<Design> best_design(int points, int size) {
    if (size == 2 && points % 2 == 0) return round_robin(points);
    return lines(points, size);
}

/// Which group each point is in, block by block.
std::vector<std::vector<int>> homes_of(const Design& design) {
    std::vector<std::vector<int>> homes;
    for (const Block& block : design.blocks) {
        homes.emplace_back(std::size_t(design.points), -1);
        for (std::size_t g = 0; g < block.size(); ++g)
            for (const int point : block[g])
                homes.back()[point] = int(g);
    }
    return homes;
}

/// Blocks in which two of the points share a group.
int spoiled(const std::vector<std::vector<int>>& homes, const std::vector<int>& points) {
    int count = 0;
    for (const auto& home : homes) {
        bool meet = false;
        for (std::size_t i = 0; i < points.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)
                meet = meet || home[points[i]] == home[points[j]];
        count += meet ? 1 : 0;
    }
    return count;
}

/// The points to take away: from every first point on, the one that spoils least is added.
std::vector<int> points_to_drop(const Design& design, int count) {
    const auto homes = homes_of(design);
    std::vector<int> best;
    int best_spoiled = int(design.blocks.size()) + 1;
    for (int first = design.points - 1; first >= 0; --first) {
        std::vector<int> chosen{first};
        while (int(chosen.size()) < count) {
            int next = -1;
            int next_spoiled = 0;
            for (int p = 0; p < design.points; ++p) {
                if (std::find(chosen.begin(), chosen.end(), p) != chosen.end()) continue;
                chosen.push_back(p);
                const int now = spoiled(homes, chosen);
                chosen.pop_back();
                if (next < 0 || now < next_spoiled) {
                    next = p;
                    next_spoiled = now;
                }
            }
            chosen.push_back(next);
        }
        const int now = spoiled(homes, chosen);
        if (now < best_spoiled) {
            best = chosen;
            best_spoiled = now;
        }
    }
    return best;
}

}  // namespace

Design round_robin(int points) {
    Design out{points, 2, {}};
    const int turn = points - 1;
    for (int shift = 0; shift < turn; ++shift) {
        Block block{{turn, shift}};
        for (int k = 1; k < points / 2; ++k)
            block.push_back({(shift + k) % turn, (shift + turn - k) % turn});
        out.blocks.push_back(std::move(block));
    }
    return out;
}

std::optional<Design> lines(int points, int size) {
    if (size < 2 || points % size != 0) return std::nullopt;
    const int q = points / size;
    const auto field = finite_field(q);
    if (!field || q < size) return std::nullopt;
    Design out{points, size, {}};
    for (int slope = 0; slope < q; ++slope) {
        Block block;
        for (int start = 0; start < q; ++start) {
            std::vector<int> line;
            for (int column = 0; column < size; ++column)
                line.push_back(column * q + field->add(field->multiply(slope, column), start));
            block.push_back(std::move(line));
        }
        out.blocks.push_back(std::move(block));
    }
    // Pairs of one column have not met: each column is a smaller problem of the same kind.
    Design inside{q, size, {}};
    if (q == size) {
        std::vector<int> all;
        for (int p = 0; p < q; ++p)
            all.push_back(p);
        inside.blocks = {{all}};
    } else if (q % size == 0) {
        if (auto smaller = best_design(q, size)) inside = *std::move(smaller);
        if (inside.blocks.empty()) {
            Block block;
            for (int p = 0; p < q; ++p) {
                if (p % size == 0) block.emplace_back();
                block.back().push_back(p);
            }
            inside.blocks = {block};
        }
    }
    for (const Block& small : inside.blocks) {
        Block block;
        for (int column = 0; column < size; ++column) {
            for (auto group : small) {
                for (int& point : group)
                    point += column * q;
                block.push_back(std::move(group));
            }
        }
        out.blocks.push_back(std::move(block));
    }
    return out;
}

std::vector<CyclicShape> cyclic_shapes(int points, int size) {
    std::vector<CyclicShape> out;
    if (points % size != 0 || size < 3) return out;
    const int groups = points / size;
    const int most = bound_blocks(points, size);
    for (int modulus = most; modulus > 1 && modulus >= most - 2; --modulus) {
        const int orbits = points / modulus;
        const int fixed = points - orbits * modulus;
        // Two fixed points in one group would meet in every block.
        if (orbits < 1 || fixed > groups || fixed >= modulus) continue;
        out.push_back({modulus, orbits, fixed});
    }
    return out;
}

Design develop(const CyclicShape& shape, int size, const Block& base) {
    Design out{shape.points(), size, {}};
    const int moving = shape.modulus * shape.orbits;
    for (int shift = 0; shift < shape.modulus; ++shift) {
        Block block = base;
        for (auto& group : block)
            for (int& point : group)
                if (point < moving)
                    point = point / shape.modulus * shape.modulus +
                            (point % shape.modulus + shift) % shape.modulus;
        out.blocks.push_back(std::move(block));
    }
    return out;
}

std::vector<Block> without_points(const Design& design, int students) {
    const int count = design.points - students;
    std::vector<int> number(std::size_t(design.points), 0);
    if (count > 0)
        for (const int point : points_to_drop(design, count))
            number[point] = -1;
    int next = 0;
    for (int& n : number)
        if (n >= 0) n = next++;
    std::vector<Block> out;
    for (const Block& block : design.blocks) {
        Block kept;
        bool good = true;
        for (const auto& group : block) {
            std::vector<int> rest;
            for (const int point : group)
                if (number[point] >= 0) rest.push_back(number[point]);
            good = good && int(rest.size()) >= design.size - 1;
            kept.push_back(std::move(rest));
        }
        if (good) out.push_back(std::move(kept));
    }
    return out;
}

}  // namespace tallyround::plan::detail
