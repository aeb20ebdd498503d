#include "base/id.h"

#include <deque>
#include <unordered_map>

namespace tallyround::base {

namespace {

struct Table {
    std::deque<std::string> texts{std::string()};  ///< strings in a deque stay where they are
    std::unordered_map<std::string_view, std::uint32_t> places;
};

/// Never destroyed: ids in static objects may outlive it otherwise.
Table& table() {
    static Table& one = *new Table;
    return one;
}

}  // namespace

std::uint32_t Name::place(std::string_view text) {
    Table& names = table();
    const auto found = names.places.find(text);
    if (found != names.places.end()) return found->second;
    const auto at = static_cast<std::uint32_t>(names.texts.size());
    names.places.emplace(names.texts.emplace_back(text), at);
    return at;
}

std::string_view Name::text_at(std::uint32_t at) {
    return table().texts[at];
}

}  // namespace tallyround::base
