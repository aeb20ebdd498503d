#pragma once
#include <cstddef>
#include <functional>
#include <vector>

namespace tallyround::plan {

/// Deletion filter (Chinneck and Dravnieks 1991, ORSA J. Computing 3: 157-168): a subset of
/// 0 .. count-1 that is still infeasible and from which no single member can be left out. One
/// test at a time: while `next` gives members to be tested, `tell` it whether those alone are
/// proved to conflict. All of them together must, and dropping some must not make a conflict.
/// Blocks are tried before single members, so that large sets take few tests.
class DeletionFilter {
  public:
    explicit DeletionFilter(int count) : kept_(std::size_t(count), 1) {
        while (block_ * 2 <= count)
            block_ *= 2;
        if (count == 0) block_ = 0;
    }

    /// 0/1 flags of the members to be tested; nullptr at the end.
    const std::vector<char>* next() {
        const int count = int(kept_.size());
        for (; block_ >= 1; block_ /= 2, start_ = 0) {
            for (; start_ < count; start_ += block_) {
                tried_ = kept_;
                bool dropped_any = false;
                for (int i = start_; i < count && i < start_ + block_; ++i) {
                    dropped_any = dropped_any || tried_[std::size_t(i)] != 0;
                    tried_[std::size_t(i)] = 0;
                }
                if (dropped_any) return &tried_;
            }
        }
        return nullptr;
    }
    void tell(bool infeasible) {
        if (infeasible) kept_ = tried_;
        start_ += block_;
    }
    const std::vector<char>& kept() const { return kept_; }

  private:
    std::vector<char> kept_;
    std::vector<char> tried_;
    int block_ = 1;
    int start_ = 0;
};

/// The filter run to its end.
inline std::vector<char> minimal_conflict(
    int count, const std::function<bool(const std::vector<char>&)>& infeasible) {
    DeletionFilter filter(count);
    while (const std::vector<char>* tried = filter.next())
        filter.tell(infeasible(*tried));
    return filter.kept();
}

}  // namespace tallyround::plan
