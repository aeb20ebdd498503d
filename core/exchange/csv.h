#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace tallyround::exchange {

/// One cell; `quoted` when it stood in quotation marks (a comma in it is then meant).
struct CsvCell {
    std::string text;
    bool quoted = false;
};

/// One record. `row` counts from 1 as a spreadsheet does: blank rows count, and a line end inside
/// a quoted cell does not start a new row.
struct CsvRow {
    std::size_t row = 0;
    std::vector<CsvCell> cells;

    /// True when no cell holds anything but white space.
    bool blank() const;
};

/// What a file may be at most; the error says which limit was passed.
struct CsvLimits {
    std::size_t file_bytes = std::size_t{32} << 20U;
    std::size_t rows = 200'000;
    std::size_t columns = 1'000;
    std::size_t cell_bytes = 10'000;
};

/// In place of a separator: every line is one cell.
inline constexpr char no_separator = '\0';

/// ',' ';' or tab: the one that cuts most rows of the first 100 into the same number of cells
/// (more than one), quotation marks respected. Between equals tab goes before ';' before ','
/// because commas stand inside cells ("Lee, Ana", "1,5") where another separator is used.
/// `no_separator` when most rows have one cell with all three. A first line "sep=;", which some
/// spreadsheets write, decides by itself.
char find_separator(std::string_view utf8);

/// RFC 4180 with what is met in the wild: LF, CR or CRLF line ends, spaces around a quoted cell,
/// a quotation mark inside an unquoted cell taken as it is. Quoted cells may hold separators, line
/// ends and doubled quotation marks. Every row is returned, blank ones too, so that `row` can be
/// trusted; a first line "sep=;" is left out. Without a separator a line such as `"Ana" Lee` is
/// taken as it is.
/// Errors, with "row R, column C": a quotation mark that is never closed, text after a closing
/// quotation mark, a limit passed.
base::Result<std::vector<CsvRow>> read_csv(std::string_view utf8, char separator,
                                           const CsvLimits& limits = {});

}  // namespace tallyround::exchange
