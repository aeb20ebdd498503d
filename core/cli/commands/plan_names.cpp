#include <algorithm>

#include "base/text.h"
#include "cli/commands/plan_commands.h"

namespace tallyround::cli {

Names::Names(const json::Field& array, const std::string& kind, std::size_t limit) : what(kind) {
    const auto items = array.items();
    if (items.size() > limit) {
        array.refuse("There are " + std::to_string(items.size()) + "; at most " +
                     std::to_string(limit) + " can be planned at once.");
    }
    for (const auto& item : items)
        add(item.text(1000), item);
}

void Names::add(const std::string& name, const json::Field& field) {
    if (name.empty()) field.refuse("A " + what + " needs a name.");
    if (!numbers_.emplace(name, size()).second) {
        field.refuse("The " + what + " \"" + name + "\" is there twice; give each its own name.");
    }
    names_.push_back(name);
}

int Names::find(const std::string& name) const {
    const auto at = numbers_.find(name);
    return at == numbers_.end() ? -1 : at->second;
}

int Names::of(const json::Field& field) const {
    return of_key(field.text(1000), field);
}

int Names::of_key(const std::string& name, const json::Field& field) const {
    const int number = find(name);
    if (number < 0) field.refuse("There is no " + what + " \"" + name + "\".");
    return number;
}

std::vector<int> Names::list_of(const json::Field& array, std::size_t least) const {
    std::vector<int> out;
    for (const auto& item : array.items(10'000)) {
        const int number = of(item);
        if (std::find(out.begin(), out.end(), number) != out.end()) {
            item.refuse("The " + what + " \"" + (*this)[number] + "\" is in this list twice.");
        }
        out.push_back(number);
    }
    if (out.size() < least) {
        array.refuse("At least " + std::to_string(least) + " different names were expected.");
    }
    return out;
}

std::vector<std::string> Names::names(const std::vector<int>& numbers) const {
    std::vector<std::string> out;
    for (const int number : numbers)
        out.push_back((*this)[number]);
    return out;
}

std::string any_of(const std::vector<std::string>& names) {
    return base::list_of(names, " or ");
}

}  // namespace tallyround::cli
