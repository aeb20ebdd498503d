#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "exchange/encoding.h"

namespace tallyround::exchange {

/// What a list of names may hold at most.
inline constexpr std::size_t max_roster_students = 400;
inline constexpr std::size_t max_name_code_points = 120;
inline constexpr std::size_t max_roster_bytes = std::size_t{32} << 20U;

/// One student of a list. All texts are tidy UTF-8 (base::tidy_line).
struct RosterStudent {
    std::string id;         ///< "s01", "s02", … in the order of the rows; "s100" after "s99"
    std::string name;       ///< as it is shown; never empty, at most 120 code points
    std::string given;      ///< given and family name where the file tells them apart,
    std::string family;     ///< otherwise both empty: a name is never cut up by guessing
    std::string source_id;  ///< the file's own id or number, or empty
    std::size_t row = 0;    ///< where it stands: rows count from 1, blank ones and headers too
    std::size_t file = 0;   ///< which of several files (join_rosters), from 0
};

/// Something the teacher should look at. `row` 0 means the whole file.
struct RosterWarning {
    std::size_t row = 0;
    std::string message;
    std::size_t file = 0;
};

enum class RosterFormat { names, csv, oneroster_users };

/// "names", "csv", "oneroster-users".
std::string_view name_of(RosterFormat format);

struct Roster {
    std::vector<RosterStudent> students;
    std::vector<RosterWarning> warnings;  ///< by row; at most 200 and a last one that counts more
    RosterFormat format = RosterFormat::names;
    Encoding encoding = Encoding::utf8;
};

/// Reads a class list from bytes a teacher pasted or chose. Understood are
///  - names: one a line, numbered or bulleted or with trailing commas if need be; or all in one
///    line with commas, semicolons or tabs between ("Ana, Bo and Cy");
///  - csv: comma, semicolon or tab, with or without a header, columns in any order;
///  - oneroster-users: users.csv of OneRoster 1.1 and 1.2 (1EdTech), known by the columns
///    sourcedId, givenName and familyName. Only rows of role "student" are taken where there is a
///    role column; rows with status "tobedeleted" are left out with a warning.
/// Encodings as in to_utf8. "Family, Given" is understood in a cell, and in a plain list in which
/// most lines have exactly one comma. Names of Chinese, Japanese and Korean script are put
/// together family name first, without a space; all others as "Given Family".
///
/// Kept with a warning: a second student of the same name (both are kept), a name cut to 120 code
/// points, a repeated source id. Left out with a warning: a row with text but no name.
/// Errors: no names, more than 400 students, more than 32 MiB, not text (with the encodings'
/// errors), a file of another kind, broken quotation marks ("row R, column C").
///
/// `file_name` only helps to word an error ("save the workbook as CSV"); it may be empty.
base::Result<Roster> read_roster(std::string_view bytes, std::string_view file_name = {});

/// Several lists as one: students in order with new ids, `file` set in students and warnings, a
/// warning for a name that stands in two files. The format and encoding are the first one's.
/// Error: more than 400 students in all. Requires at least one roster.
base::Result<Roster> join_rosters(const std::vector<Roster>& rosters);

}  // namespace tallyround::exchange
