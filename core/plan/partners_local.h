#pragma once
#include <cstdint>
#include <vector>

#include "base/random.h"
#include "plan/partners.h"

namespace tallyround::plan::detail {

/// What a pair of students means for the term.
enum class PairKind : unsigned char { plain, apart, together };

/// students x students kinds from the lists of a problem.
std::vector<PairKind> pair_kinds(const PartnersProblem& problem);

/// students x students: meetings in the blocks already taught.
std::vector<int> fixed_meetings(const PartnersProblem& problem);

/// Renames the students of `blocks` by steepest exchanges until no exchange of two names lowers
/// the cost of meetings with `fixed` and of the rules; at most `tries` exchanges are looked at.
void rename_students(const PartnersProblem& problem, std::vector<Block>& blocks, std::int64_t tries,
                     std::uint64_t seed);

/// Simulated annealing over the blocks still to come: two students of one block exchange places.
/// A rule about a pair weighs far more than a repeat.
class PartnersLocal {
  public:
    PartnersLocal(const PartnersProblem& problem, std::uint64_t seed);

    /// Starts a run from `blocks`, filled up with random ones; the first `frozen` stay as they are.
    void start(const std::vector<Block>& blocks, int frozen, double hot, double cold,
               std::int64_t exchanges);
    /// True when the run is over or nothing is left to improve.
    bool step(std::int64_t exchanges);

    std::int64_t cost() const { return cost_; }
    std::int64_t best_cost() const { return best_cost_; }
    /// The best blocks of this run, those already taught not included.
    std::vector<Block> best() const;

  private:
    int joining(int a, int b) const;
    int leaving(int a, int b) const;
    int delta(int block, int i, int j) const;
    void meet(int a, int b, int by);
    void swap_places(int block, int i, int j);
    std::size_t pair(int a, int b) const {
        return std::size_t(a) * std::size_t(students_) + std::size_t(b);
    }
    int& place(int block, int i) {
        return places_[std::size_t(block) * std::size_t(students_) + std::size_t(i)];
    }
    int place(int block, int i) const {
        return places_[std::size_t(block) * std::size_t(students_) + std::size_t(i)];
    }

    int students_;
    int blocks_;
    std::vector<PairKind> kinds_;
    std::vector<int> base_;    ///< meetings in fixed blocks
    std::vector<int> meets_;   ///< meetings in all
    std::vector<int> sizes_;   ///< of the groups of a block
    std::vector<int> first_;   ///< first position of a group
    std::vector<int> group_;   ///< group of a position
    std::vector<int> places_;  ///< blocks x positions: student
    base::Random random_;
    int frozen_ = 0;
    double temperature_ = 1.0;
    double cooling_ = 1.0;
    std::int64_t left_ = 0;
    std::int64_t done_ = 0;
    std::int64_t cost_ = 0;
    std::int64_t best_cost_ = 0;
    std::vector<int> best_;
};

}  // namespace tallyround::plan::detail
