#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tallyround::exchange {

/// One cell as RFC 4180 writes it: in quotation marks when it holds a comma, a quotation mark, a
/// line end, a semicolon or a tab, or has a space at either end.
///
/// A cell that a spreadsheet would run as a formula gets an apostrophe in front: one whose first
/// character after white space is = + - @ or their full-width forms, or that starts with a tab or a
/// carriage return. Plain numbers (-3, +4.5, 1e-3) stay as they are.
/// Malformed UTF-8 and NUL are the caller's to avoid; they are written as they are.
std::string csv_cell(std::string_view text);

/// Rows of cells as one file: CRLF line ends, every row with one. No byte order mark.
std::string csv_text(const std::vector<std::vector<std::string>>& rows);

}  // namespace tallyround::exchange
