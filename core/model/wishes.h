#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "model/ids.h"

/// What a teacher asks of the groups and the chart of a block. Groups count from 0 and rounds
/// from 1, as everywhere in the model.
namespace tallyround::model {

/// A student who always works in this group.
struct Seat {
    StudentId student;
    int group = 0;
    friend bool operator==(const Seat&, const Seat&) = default;
};

/// A helper (an aide, a co-teacher) and the students whom that person goes along with.
struct Helper {
    std::string name;
    std::vector<StudentId> students;
    std::vector<int> rounds;  ///< the rounds in which the helper is there; empty: in all
    friend bool operator==(const Helper&, const Helper&) = default;
};

/// What every grouping of the block keeps to, beside the rules of the class.
struct GroupRules {
    std::vector<Seat> seats;  ///< at most one a student
    std::vector<int> locked;  ///< groups that stay exactly as they are when groups are made anew
    std::vector<Helper> helpers;
    bool empty() const { return seats.empty() && locked.empty() && helpers.empty(); }
    friend bool operator==(const GroupRules&, const GroupRules&) = default;
};

enum class ChartOrder : std::uint8_t {
    cyclic,    ///< from each center to the next, and from the last to the first
    balanced,  ///< every center follows every other about equally often
    any
};

enum class ChartRuleKind : std::uint8_t {
    must_visit,      ///< each group is at `center` at least once
    before,          ///< no visit to `then` without an earlier one to `center`
    not_in_round,    ///< nobody at `center` in `round`
    visit_in_round,  ///< at `center` in `round`
    at_most,         ///< at `center` at most `times` times
    only_in_rounds   ///< at `center` in `rounds` alone
};

struct ChartRule {
    ChartRuleKind kind = ChartRuleKind::must_visit;
    CenterId center;
    CenterId then;
    int round = 1;
    int times = 1;
    std::vector<int> groups;  ///< empty: every group
    std::vector<int> rounds;
    friend bool operator==(const ChartRule&, const ChartRule&) = default;
};

/// What the block's chart keeps to.
struct ChartRules {
    ChartOrder order = ChartOrder::cyclic;
    std::vector<ChartRule> rules;
    friend bool operator==(const ChartRules&, const ChartRules&) = default;
};

}  // namespace tallyround::model
