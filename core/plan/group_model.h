#pragma once
#include <cstdint>
#include <vector>

#include "plan/group.h"

namespace tallyround::plan::detail {

/// Which students and rules of a problem count; everything by default.
struct GroupSubset {
    std::vector<char> students, apart, together, seat, locked, with_one_of, helpers;
    bool size_max = true;
    bool groups = true;

    static GroupSubset all(const GroupProblem& problem);
};

/// A problem made ready for search. Students that must be together (or share a seat) are one
/// *item*; items that must not share a group *clash*.
struct GroupModel {
    /// `item` shares its group with at least one of `partners`, other items.
    struct Company {
        int item = 0;
        std::vector<int> partners;
    };
    /// `items` share at most `groups` groups, two or more.
    struct Helped {
        std::vector<int> items;
        int groups = 0;
    };

    GroupModel(const GroupProblem& problem, const GroupSubset& subset);

    int groups = 0;
    int capacity = 0;            ///< most students in a group
    int students = 0;            ///< how many count
    bool contradictory = false;  ///< a student apart from an item-mate, two seats, item too large
    std::vector<std::vector<int>> members;  ///< students of an item
    std::vector<int> seat;                  ///< fixed group of an item, -1 = free
    std::vector<char> clash;                ///< items x items
    std::vector<Company> companies;
    std::vector<Helped> helped;
    std::vector<std::vector<int>> kin;         ///< per item: items of a company with it
    std::vector<std::vector<int>> helpers_of;  ///< per item: numbers in `helped`

    /// Whether companies and helpers allow a placing; `home(item)` is its group or -1. Groups
    /// that are not all filled yet must not be asked.
    template <class Home>
    bool content(Home home) const {
        for (const Company& c : companies) {
            bool met = false;
            for (const int partner : c.partners)
                met = met || home(partner) == home(c.item);
            if (!met) return false;
        }
        for (const Helped& h : helped)
            if (spread(h, home) > h.groups) return false;
        return true;
    }
    /// How many groups the placed items of `h` are spread over.
    template <class Home>
    static int spread(const Helped& h, Home home) {
        int groups = 0;
        for (std::size_t i = 0; i < h.items.size(); ++i) {
            const int group = home(h.items[i]);
            bool fresh = group >= 0;
            for (std::size_t j = 0; j < i && fresh; ++j)
                fresh = home(h.items[j]) != group;
            groups += fresh ? 1 : 0;
        }
        return groups;
    }

    int items() const { return int(members.size()); }
    int size(int item) const { return int(members[std::size_t(item)].size()); }
    bool clashes(int a, int b) const {
        return clash[std::size_t(a) * members.size() + std::size_t(b)] != 0;
    }

  private:
    void add_clashes(const GroupProblem& p, const GroupSubset& s, const std::vector<int>& item_of);
    void add_locks(const GroupProblem& p, const GroupSubset& s, const std::vector<int>& item_of);
    void add_company(const GroupProblem& p, const GroupSubset& s, const std::vector<int>& item_of);
    void set_clash(int a, int b);
    void set_seat(int item, int group);
};

/// Wishes of a problem as numbers per pair of items and per item and group.
struct GroupWishes {
    GroupWishes(const GroupProblem& problem, const GroupModel& model);

    std::vector<std::int64_t> repeats;  ///< items x items, thousandths of a meeting
    std::vector<int> shared;            ///< items x items, pairs with a need in common
    std::int64_t inside_repeats = 0;    ///< of pairs that share an item: always there
    int inside_shared = 0;
    bool any_needs = false;
    std::vector<int> moved;  ///< items x groups, students that would have moved; or empty

    LevelPolicy policy = LevelPolicy::any;
    std::vector<std::int64_t> level_sum;  ///< per item: known levels in millionths of the range
    std::vector<std::int64_t> level_squares;
    std::vector<int> level_count;
    double total_squares = 0.0;  ///< of the class about its mean

    bool only_repeats() const { return policy == LevelPolicy::any && !any_needs && moved.empty(); }
};

/// Weight of a meeting in past grouping `index` (0 = oldest), in thousandths.
std::int64_t meeting_weight(const GroupProblem& problem, int index);

/// students x students: weighted meetings in thousandths.
std::vector<std::int64_t> meeting_table(const GroupProblem& problem);

/// Levels as whole millionths of the class's range; -1 where not known.
std::vector<std::int64_t> scaled_levels(const GroupProblem& problem);

/// The policy's measure from per-group sums: for `mixed` the spread of group means plus a quarter
/// of the share of variance between groups, for `similar` the share of variance within groups.
double level_measure(LevelPolicy policy, const std::vector<std::int64_t>& sums,
                     const std::vector<std::int64_t>& squares, const std::vector<int>& counts,
                     double total_squares);

}  // namespace tallyround::plan::detail
