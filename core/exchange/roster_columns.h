#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "exchange/csv.h"

namespace tallyround::exchange {

/// Where in a row the parts of a student are. Columns count from 0.
struct RosterColumns {
    std::optional<std::size_t> name;
    std::optional<std::size_t> given;
    std::optional<std::size_t> family;
    std::optional<std::size_t> id;
    std::optional<std::size_t> role;    ///< OneRoster only
    std::optional<std::size_t> status;  ///< OneRoster only
    bool oneroster = false;
    bool student_id = false;  ///< `id` is a word such as "Student ID", not just "No"
    bool borrowed = false;    ///< a plain "Name" stands for the given or the family name
    std::size_t known = 0;    ///< how many cells of the header were understood

    bool any_name() const { return name || given || family; }
};

/// What the cells say when they are read as a header. OneRoster's column names count only as the
/// standard spells them; all others in any case, with or without spaces.
RosterColumns columns_of_header(const CsvRow& row);

/// How a table without a header is to be read.
enum class Layout {
    no_names,            ///< no column looks like names
    columns,             ///< as `columns` says
    family_given_lines,  ///< every row is a line "Family, Given"
    grid                 ///< every cell of the `name_columns` is a name
};

struct GuessedColumns {
    Layout layout = Layout::no_names;
    RosterColumns columns;
    std::vector<std::size_t> name_columns;
    bool first_is_header = false;  ///< the first row has a word where the others have numbers
};

/// Judges the columns of a table without a header by what stands in them: names, numbers (most
/// cells have a digit), something else (addresses, a few values again and again). Requires rows
/// that are not blank and do not end in empty cells. `comma`: the separator is a comma, so that
/// a table in which at least half the rows have two cells is a list of "Family, Given".
GuessedColumns guess_columns(const std::vector<CsvRow>& rows, bool comma);

}  // namespace tallyround::exchange
