// Any bytes as a package of skills: read_framework must return, and what it returns must keep its
// word.
#include <cstdint>
#include <cstdlib>
#include <set>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/text.h"
#include "exchange/framework.h"

namespace {

using namespace tallyround;

void require(bool holds) {
    if (!holds) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const auto framework = exchange::read_framework(bytes);
    if (!framework) {
        require(!framework.error().message.empty());
        require(base::is_utf8(framework.error().text()));
        return 0;
    }
    std::set<std::string> ids;
    for (const auto& skill : framework->skills) {
        require(base::Id<void>::fits(skill.id) && ids.insert(skill.id).second);
        require(base::is_utf8(skill.title) && !skill.title.empty());
        require(skill.grade >= 1 && skill.grade <= 12);
    }
    for (const auto& skill : framework->skills) {
        for (const std::string& before : skill.before)
            require(ids.contains(before) && before != skill.id);
    }
    return 0;
}
