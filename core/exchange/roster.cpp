#include "exchange/roster.h"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "base/text.h"
#include "exchange/csv.h"
#include "exchange/roster_collect.h"
#include "exchange/roster_columns.h"
#include "exchange/roster_names.h"
#include "exchange/roster_text.h"

namespace tallyround::exchange {

namespace {

using base::fail;
using base::Result;
using Rows = std::vector<CsvRow>;

/// Blank rows and empty cells at the ends of rows left out.
Rows without_blanks(Rows rows) {
    std::erase_if(rows, [](const CsvRow& r) { return r.blank(); });
    for (auto& row : rows) {
        while (base::trim(row.cells.back().text).empty())
            row.cells.pop_back();
    }
    return rows;
}

std::size_t width_of(const Rows& rows) {
    std::size_t width = 0;
    for (const auto& row : rows)
        width = std::max(width, row.cells.size());
    return width;
}

struct Header {
    std::size_t index = 0;
    RosterColumns columns;
};

/// The header among the first ten rows: the first row if it names a column of names; a later one
/// if two of its cells are understood, or if what stands above is a title (fewer cells).
std::optional<Header> find_header(const Rows& rows) {
    std::size_t above = 0;
    for (std::size_t i = 0; i < std::min<std::size_t>(rows.size(), 10); ++i) {
        const RosterColumns columns = columns_of_header(rows[i]);
        const bool below_title = rows[i].cells.size() > above;
        const bool list_title = above == 1 && i <= 2 && columns.name;
        if (columns.any_name() && (columns.known >= 2 || below_title || list_title)) {
            return Header{i, columns};
        }
        above = std::max(above, rows[i].cells.size());
    }
    return std::nullopt;
}

std::string_view text_at(const CsvRow& row, std::optional<std::size_t> column) {
    if (!column || *column >= row.cells.size()) return {};
    return row.cells[*column].text;
}

/// "Ana Lee" with family name "Lee" in a column of its own is given name "Ana".
PersonName from_borrowed(std::string given, std::string family) {
    if (!family.empty() && given.ends_with(" " + family)) {
        given.resize(given.size() - family.size());
    } else if (!given.empty() && family.starts_with(given + " ")) {
        family.erase(0, given.size());
    }
    return from_parts(given, family);
}

PersonName person_in(const CsvRow& row, const RosterColumns& columns) {
    const std::string given = base::tidy_line(text_at(row, columns.given));
    const std::string family = base::tidy_line(text_at(row, columns.family));
    if (columns.borrowed) {
        const bool comma = (given + family).find(',') != std::string::npos;
        if (comma) return from_full(given.find(',') < given.size() ? given : family, true);
        return from_borrowed(given, family);
    }
    if (!given.empty() || !family.empty()) return from_parts(given, family);
    return from_full(text_at(row, columns.name), true);
}

bool same_cells(const CsvRow& a, const CsvRow& b) {
    return std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                      [](const CsvCell& x, const CsvCell& y) { return x.text == y.text; });
}

/// What OneRoster says about a row: a student to take, or not.
class RoleFilter {
  public:
    explicit RoleFilter(const RosterColumns& columns) : columns_(columns) {}

    bool takes(const CsvRow& row, RosterCollector& out) {
        if (!columns_.oneroster) return true;
        if (folded(base::tidy_line(text_at(row, columns_.status))) == "tobedeleted") {
            out.warn(row.row, "The row is marked tobedeleted and is left out.");
            return false;
        }
        const std::string role = folded(base::tidy_line(text_at(row, columns_.role)));
        if (!columns_.role || role == "student") return true;
        if (others_++ == 0) first_row_ = row.row;
        return false;
    }

    void report(RosterCollector& out) const {
        if (columns_.oneroster && !columns_.role) {
            out.warn(0,
                     "The file has no role column (OneRoster 1.2 keeps roles in roles.csv): "
                     "everyone in it is taken. Delete who is not a student.");
        }
        if (others_ == 0) return;
        out.warn(first_row_, "From here on " + base::count_of(others_, "row is", "rows are") +
                                 " left out because the role is not student.");
    }

  private:
    const RosterColumns& columns_;
    std::size_t others_ = 0;
    std::size_t first_row_ = 0;
};

void read_table(const Rows& rows, std::size_t first, const RosterColumns& columns,
                RosterCollector& out) {
    RoleFilter filter(columns);
    const std::size_t width = first > 0 ? rows[first - 1].cells.size() : width_of(rows);
    bool wide = false;
    for (std::size_t i = first; i < rows.size(); ++i) {
        if (rows[i].cells.size() > width && !std::exchange(wide, true)) {
            out.warn(rows[i].row,
                     "The row has more cells than the header: check this student, and put names "
                     "with a comma in quotation marks.");
        }
        // Lists printed page by page repeat their header.
        if (first > 0 && same_cells(rows[i], rows[first - 1])) continue;
        if (!filter.takes(rows[i], out)) continue;
        out.add(rows[i].row, person_in(rows[i], columns), text_at(rows[i], columns.id));
    }
    filter.report(out);
}

void read_lines(const Rows& rows, RosterCollector& out) {
    for (const auto& row : rows) {
        const CsvCell& cell = row.cells.front();
        const std::string line = cell.quoted ? cell.text : without_list_mark(cell.text);
        const PersonName person = from_full(line, cell.quoted);
        if (!cell.quoted && person.name.find(',') != std::string::npos) {
            out.warn(row.row,
                     "There is a comma in this name but not in most others: the name is kept as it "
                     "is. Check the order of its parts.");
        }
        out.add(row.row, person, {});
    }
}

void read_family_given(const Rows& rows, RosterCollector& out) {
    std::size_t tight = 0;  // "Lee,Ana" as a program writes it, not "Lee, Ana" as a person does
    for (const auto& row : rows) {
        std::string line;
        for (const auto& cell : row.cells)
            line += (line.empty() ? "" : ", ") + base::tidy_line(cell.text);
        tight += row.cells.size() > 1 && !row.cells[1].text.starts_with(' ') ? 1 : 0;
        out.add(row.row, from_full(without_list_mark(line), true), {});
    }
    if (tight * 2 > rows.size()) {
        out.warn(0,
                 "There is no header: what stands before the comma is taken as the family name.");
    }
}

void read_grid(const Rows& rows, const std::vector<std::size_t>& columns, RosterCollector& out) {
    out.warn(0,
             "There is no header, and every cell looks like a name: each is taken as a student.");
    for (const auto& row : rows) {
        for (const std::size_t c : columns) {
            const std::string name = without_list_mark(text_at(row, c));
            if (!name.empty()) out.add(row.row, from_full(name, true), {});
        }
    }
}

/// All names in one row.
void read_one_row(const CsvRow& row, std::string_view text, char separator, RosterCollector& out) {
    const bool quoted =
        std::any_of(row.cells.begin(), row.cells.end(), [](const CsvCell& c) { return c.quoted; });
    std::vector<std::string> pieces;
    for (const auto& cell : row.cells)
        pieces.push_back(cell.text);
    if (!quoted) pieces = pieces_of_line(text, separator);
    if (!quoted && separator == ',' && pieces.size() == 2 && row.cells.size() == 2) {
        out.add(row.row, from_full(without_list_mark(pieces[0] + ", " + pieces[1]), true), {});
        out.warn(row.row,
                 "One line with one comma is read as one student, family name first. Two students "
                 "go on two lines.");
        return;
    }
    for (const auto& piece : pieces) {
        const std::string name = without_list_mark(piece);
        if (!name.empty()) out.add(row.row, from_full(name, true), {});
    }
}

tl::unexpected<base::Error> no_name_column(const Rows& rows) {
    const bool oneroster = base::trim(rows[0].cells[0].text) == "sourcedId";
    if (oneroster) {
        return fail("row " + std::to_string(rows[0].row),
                    "This OneRoster file has no columns givenName and familyName. Choose "
                    "users.csv.");
    }
    return fail("row " + std::to_string(rows[0].row),
                "No column holds names. Add a header row with Name, or with First name and Last "
                "name.");
}

Result<RosterFormat> read_without_header(const Rows& all, char separator, RosterCollector& out) {
    // A header of ids and the like, without a word for names.
    const bool id_header = columns_of_header(all[0]).student_id;
    const Rows rows(all.begin() + (id_header ? 1 : 0), all.end());
    const GuessedColumns guess = guess_columns(rows, separator == ',');
    const std::size_t first = guess.first_is_header ? 1 : 0;
    if (guess.first_is_header) out.warn(rows[0].row, "This row is taken as a header.");
    switch (guess.layout) {
        case Layout::no_names:
            return no_name_column(all);
        case Layout::family_given_lines:
            read_family_given(rows, out);
            return RosterFormat::names;
        case Layout::grid:
            read_grid(rows, guess.name_columns, out);
            return RosterFormat::names;
        case Layout::columns:
            break;
    }
    if (guess.columns.given) {
        out.warn(0, "There is no header: column " + std::to_string(*guess.columns.given + 1) +
                        " is taken as given name and column " +
                        std::to_string(*guess.columns.family + 1) + " as family name.");
    }
    read_table(rows, first, guess.columns, out);
    return RosterFormat::csv;
}

Result<RosterFormat> read_rows(const Rows& rows, std::string_view text, char separator,
                               RosterCollector& out) {
    if (rows.empty()) return RosterFormat::names;
    if (base::trim(rows[0].cells[0].text) == "sourcedId" &&
        !columns_of_header(rows[0]).any_name()) {
        return no_name_column(rows);
    }
    if (const auto header = find_header(rows)) {
        if (header->index > 0) {
            out.warn(rows[0].row, "What stands above the header in row " +
                                      std::to_string(rows[header->index].row) + " is left out.");
        }
        read_table(rows, header->index + 1, header->columns, out);
        return header->columns.oneroster ? RosterFormat::oneroster_users : RosterFormat::csv;
    }
    if (rows.size() == 1 && columns_of_header(rows[0]).student_id) return no_name_column(rows);
    if (rows.size() == 1) {
        read_one_row(rows[0], text, separator, out);
        return RosterFormat::names;
    }
    if (width_of(rows) == 1) {
        read_lines(rows, out);
        return RosterFormat::names;
    }
    return read_without_header(rows, separator, out);
}

}  // namespace

std::string_view name_of(RosterFormat format) {
    switch (format) {
        case RosterFormat::csv:
            return "csv";
        case RosterFormat::oneroster_users:
            return "oneroster-users";
        case RosterFormat::names:
            break;
    }
    return "names";
}

base::Result<Roster> read_roster(std::string_view bytes, std::string_view file_name) {
    const auto decoded = roster_text(bytes, file_name);
    if (!decoded) return tl::make_unexpected(decoded.error());
    const char separator = find_separator(decoded->text);
    auto rows = read_csv(decoded->text, separator);
    if (!rows) return tl::make_unexpected(rows.error());
    RosterCollector out;
    const auto format =
        read_rows(without_blanks(*std::move(rows)), base::trim(decoded->text), separator, out);
    if (!format) return tl::make_unexpected(format.error());
    return out.finish(*format, decoded->encoding);
}

base::Result<Roster> join_rosters(const std::vector<Roster>& rosters) {
    Roster out = rosters.front();
    std::map<std::string, RosterStudent> seen;
    out.students.clear();
    out.warnings.clear();
    for (std::size_t file = 0; file < rosters.size(); ++file) {
        for (auto warning : rosters[file].warnings) {
            warning.file = file;
            out.warnings.push_back(std::move(warning));
        }
        for (auto student : rosters[file].students) {
            student.file = file;
            const auto [twin, is_new] = seen.emplace(folded(student.name), student);
            if (!is_new && twin->second.file != file) {
                out.warnings.push_back(
                    {student.row,
                     "\"" + student.name + "\" stands in an earlier file too, in row " +
                         std::to_string(twin->second.row) + ". Both students are kept.",
                     file});
            }
            out.students.push_back(std::move(student));
        }
    }
    if (out.students.size() > max_roster_students) {
        return tl::make_unexpected(too_many_students(out.students.size()));
    }
    number_students(out.students);
    settle_warnings(out.warnings);
    return out;
}

}  // namespace tallyround::exchange
