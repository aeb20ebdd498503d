// Any bytes as a class list: read_roster must return, and what it returns must keep its word.
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "base/id.h"
#include "base/text.h"
#include "exchange/csv.h"
#include "exchange/roster.h"

namespace {

using namespace tallyround;

void require(bool holds) {
    if (!holds) std::abort();
}

void check_text(const std::string& text, std::size_t limit) {
    require(base::is_utf8(text));
    require(base::length(text) <= limit);
    require(base::tidy_line(text) == text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    const auto roster = exchange::read_roster(bytes, "list.csv");
    if (!roster) {
        require(!roster.error().message.empty());
        require(base::is_utf8(roster.error().text()));
        return 0;
    }
    require(!roster->students.empty());
    require(roster->students.size() <= exchange::max_roster_students);
    for (const auto& student : roster->students) {
        require(base::Id<void>::fits(student.id));
        require(!student.name.empty() && student.row > 0);
        check_text(student.name, exchange::max_name_code_points);
        check_text(student.given, exchange::max_name_code_points);
        check_text(student.family, exchange::max_name_code_points);
        check_text(student.source_id, exchange::max_name_code_points);
    }
    for (const auto& warning : roster->warnings)
        require(base::is_utf8(warning.message) && !warning.message.empty());
    return 0;
}
