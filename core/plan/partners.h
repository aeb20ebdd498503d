#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

namespace tallyround::plan {

/// One grouping of a whole class: groups of student numbers.
using Block = std::vector<std::vector<int>>;

/// A term of groupings of one class (the social golfer problem, CSPLib prob010, W. Harvey). Each
/// block has ceil(students/size) groups of `size` and size-1 students; where that cannot be (5
/// students in fours) the groups are as even as can be.
struct PartnersProblem {
    int students = 0;
    int size = 4;
    int blocks = 1;                          ///< in all, with those in `fixed`
    std::vector<std::vector<int>> apart;     ///< lists; no two of one list ever share a group
    std::vector<std::vector<int>> together;  ///< lists; always in one group
    /// Blocks already taught: they stay first and count as meetings. Students who have left are
    /// simply not in them, new ones neither.
    std::vector<Block> fixed;
    std::uint64_t seed = 1;
};

inline constexpr int most_partner_students = 120;
inline constexpr int most_partner_blocks = 200;

struct Partners {
    std::vector<Block> blocks;
    int repeat_pairs = 0;    ///< meetings beyond the first, over all pairs not always together
    int distinct_pairs = 0;  ///< pairs that meet at least once
    int broken_pairs = 0;    ///< meetings of pairs kept apart, and partings of pairs kept together
};

/// Counts the meetings of any blocks.
Partners measure(const PartnersProblem& problem, std::vector<Block> blocks);

/// A proved upper bound on the number of blocks without any repeated pair: by counting pairs, and
/// 1 where a largest group has more students than there are groups to spread them over.
int bound_blocks(int students, int size);

/// A proved lower bound on repeated pairs in `blocks` blocks: by counting pairs, and because a
/// group spread over fewer groups than it has students leaves some of them together again.
int bound_repeats(int students, int size, int blocks);

/// The sizes of the groups of one block.
std::vector<int> block_sizes(int students, int size);

/// The search: constructions from finite fields and difference families first, local search for
/// what they leave. In slices: call `step` until it returns true. The result depends on the
/// problem, its seed and `work` only. One unit of work is about one exchange tried (some 0.1
/// microseconds native).
class PartnersSearch {
  public:
    explicit PartnersSearch(PartnersProblem problem, std::int64_t work = 10'000'000);
    ~PartnersSearch();
    PartnersSearch(PartnersSearch&&) noexcept;
    PartnersSearch& operator=(PartnersSearch&&) noexcept;

    bool step(std::int64_t work);
    double progress() const;  ///< 0 .. 1
    /// The best blocks so far.
    const std::optional<Partners>& best() const;
    /// True when no blocks have fewer repeated pairs.
    bool proved_best() const;

  private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// Runs a search to its end.
PartnersSearch solve_partners(const PartnersProblem& problem, std::int64_t work = 10'000'000);

}  // namespace tallyround::plan
