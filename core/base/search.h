#pragma once
#include <string>
#include <string_view>

namespace tallyround::base {

/// As it is looked for: without regard to case and diacritics. Latin (with ß as "ss", æ as "ae",
/// ø, đ, ł as their base letters), Greek and Cyrillic letters lose their marks, combining marks and
/// the points of Hebrew and Arabic go; every other script stays as it is.
std::string searchable(std::string_view utf8);

/// True if every word of `query` is part of `text`, in any order; an empty query is part of all.
bool finds(std::string_view text, std::string_view query);

}  // namespace tallyround::base
