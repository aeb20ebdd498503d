#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ui/mirror/node.h"

namespace tallyround::ui {

/// What changed between two lists of nodes. `order` is every id in reading order (parents before
/// children) when the order or the set changed, otherwise empty.
struct MirrorDiff {
    std::vector<Node> changed;  ///< new nodes and nodes of which anything differs
    std::vector<std::uint32_t> removed;
    std::vector<std::uint32_t> order;

    bool empty() const { return changed.empty() && removed.empty() && order.empty(); }
};

/// Both lists in reading order.
MirrorDiff diff(const std::vector<Node>& before, const std::vector<Node>& after);

/// The diff as the JSON text that the shell applies:
/// {"set":[{"id","parent","role","rect":[x,y,w,h],"label",…}],"gone":[ids],"order":[ids]}
std::string to_json(const MirrorDiff& diff);

}  // namespace tallyround::ui
