#pragma once
#include <string>
#include <vector>

#include "cli/commands/plan_commands.h"
#include "plan/group.h"

namespace tallyround::cli {

/// What `group` is asked: the problem, and the names in it.
struct GroupRequest {
    struct Helper {
        std::string name;
        std::vector<int> rounds;  ///< of the helper's presence, from 1; empty = not told
    };
    Names students;
    Names skills;                 ///< of the problem's needs
    std::vector<Helper> helpers;  ///< one for each of the problem's
    plan::GroupProblem problem;
    std::vector<std::string> warnings;
    double budget_ms = 200;
};

/// Reads a request; refuses unknown names and numbers out of range at their place.
GroupRequest group_request(const json::Field& root);

/// Why each group is as it is: for each a list of sentences. Empty for very large classes.
json::Json group_whys(const GroupRequest& request, const plan::GroupSearch& search);

}  // namespace tallyround::cli
