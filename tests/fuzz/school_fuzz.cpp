// Any bytes as a school's OneRoster zip: read_oneroster must return, hold no more than its limits
// say, and what it returns must keep its word.
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "base/text.h"
#include "exchange/oneroster.h"

namespace {

using namespace tallyround;

void require(bool holds) {
    if (!holds) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    exchange::ZipLimits limits;
    limits.entry_bytes = std::size_t{1} << 20U;
    if (const auto entries = exchange::read_zip(bytes, limits)) {
        for (const auto& entry : *entries) {
            const auto unpacked = exchange::unzip(bytes, entry);
            require(unpacked ? unpacked->size() == entry.size : !unpacked.error().message.empty());
        }
    }
    const auto school = exchange::read_oneroster(bytes, limits);
    if (!school) {
        require(!school.error().message.empty());
        require(base::is_utf8(school.error().text()));
        return 0;
    }
    require(!school->classes.empty());
    for (const auto& cls : school->classes) {
        require(!cls.id.empty() && !cls.title.empty() && !cls.roster.students.empty());
        require(base::is_utf8(cls.title));
    }
    for (const auto& warning : school->warnings)
        require(base::is_utf8(warning));
    return 0;
}
