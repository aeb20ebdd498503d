#pragma once
#include <functional>
#include <vector>

namespace tallyround::plan {

/// Deletion filter (Chinneck and Dravnieks 1991, ORSA J. Computing 3: 157-168): a subset of
/// 0 .. count-1 that is still infeasible and from which no single member can be left out.
///
/// `infeasible(kept)` says for a vector of 0/1 flags whether those members alone are proved to
/// conflict; it must be true for all of them together and must not become true by dropping some.
/// Blocks are tried before single members, so that large sets take few calls.
inline std::vector<char> minimal_conflict(
    int count, const std::function<bool(const std::vector<char>&)>& infeasible) {
    std::vector<char> kept(std::size_t(count), 1);
    int block = 1;
    while (block * 2 <= count)
        block *= 2;
    for (; block >= 1; block /= 2) {
        for (int start = 0; start < count; start += block) {
            std::vector<char> tried = kept;
            bool dropped_any = false;
            for (int i = start; i < count && i < start + block; ++i) {
                dropped_any = dropped_any || tried[i] != 0;
                tried[i] = 0;
            }
            if (dropped_any && infeasible(tried)) kept = std::move(tried);
        }
    }
    return kept;
}

}  // namespace tallyround::plan
