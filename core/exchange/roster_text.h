#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "exchange/encoding.h"

namespace tallyround::exchange {

/// The bytes of a class list as UTF-8 text with every kind of line end that CSV does not know
/// (vertical tab, form feed, U+0085, U+2028, U+2029) made a line feed.
/// Errors: too large; a spreadsheet, PDF, picture or other file that is not text, told by its
/// first bytes and, for the wording, by `file_name`; JSON or markup; mostly control characters;
/// everything to_utf8 refuses.
base::Result<Decoded> roster_text(std::string_view bytes, std::string_view file_name);

/// The pieces of a list written in one line: "Ana, Bo and Cy", "Ana; Bo", and with the commas of
/// other scripts. Empty pieces are left out. `separator` is what find_separator said.
std::vector<std::string> pieces_of_line(std::string_view line, char separator);

}  // namespace tallyround::exchange
