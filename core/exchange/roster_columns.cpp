#include "exchange/roster_columns.h"

#include <algorithm>
#include <array>
#include <set>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "exchange/roster_names.h"

namespace tallyround::exchange {

namespace {

enum class Role { none, name, given, family, strong_id, id };

struct Word {
    std::string_view text;
    Role role;
};

/// Header words, folded and without spaces and points. English first; the words of a few other
/// languages as class lists have them (common practice, no source).
constexpr std::array words{
    Word{"name", Role::name},
    Word{"names", Role::name},
    Word{"fullname", Role::name},
    Word{"student", Role::name},
    Word{"students", Role::name},
    Word{"studentname", Role::name},
    Word{"studentnames", Role::name},
    Word{"studentsname", Role::name},
    Word{"studentfullname", Role::name},
    Word{"pupil", Role::name},
    Word{"pupils", Role::name},
    Word{"pupilname", Role::name},
    Word{"learner", Role::name},
    Word{"learnername", Role::name},
    Word{"childname", Role::name},
    Word{"displayname", Role::name},
    Word{"childsname", Role::name},
    Word{"pupilsname", Role::name},
    Word{"learnersname", Role::name},
    Word{"nameofstudent", Role::name},
    Word{"legalname", Role::name},
    Word{"lastfirst", Role::name},
    Word{"lastnamefirstname", Role::name},
    Word{"namelastfirst", Role::name},
    Word{"studentlastfirst", Role::name},
    Word{"studentnamelastfirst", Role::name},
    Word{"nom", Role::name},
    Word{"nombre", Role::name},
    Word{"nome", Role::name},
    Word{"naam", Role::name},
    Word{"first", Role::given},
    Word{"firstname", Role::given},
    Word{"firstnames", Role::given},
    Word{"given", Role::given},
    Word{"givenname", Role::given},
    Word{"givennames", Role::given},
    Word{"forename", Role::given},
    Word{"forenames", Role::given},
    Word{"fname", Role::given},
    Word{"studentfirstname", Role::given},
    Word{"studentgivenname", Role::given},
    Word{"pupilfirstname", Role::given},
    Word{"legalfirstname", Role::given},
    Word{"vorname", Role::given},
    Word{"prenom", Role::given},
    Word{"pr\u00E9nom", Role::given},
    Word{"voornaam", Role::given},
    Word{"last", Role::family},
    Word{"lastname", Role::family},
    Word{"lastnames", Role::family},
    Word{"family", Role::family},
    Word{"familyname", Role::family},
    Word{"surname", Role::family},
    Word{"surnames", Role::family},
    Word{"lname", Role::family},
    Word{"studentlastname", Role::family},
    Word{"studentfamilyname", Role::family},
    Word{"studentsurname", Role::family},
    Word{"pupillastname", Role::family},
    Word{"pupilsurname", Role::family},
    Word{"legallastname", Role::family},
    Word{"nachname", Role::family},
    Word{"familienname", Role::family},
    Word{"nomdefamille", Role::family},
    Word{"apellido", Role::family},
    Word{"apellidos", Role::family},
    Word{"cognome", Role::family},
    Word{"sobrenome", Role::family},
    Word{"achternaam", Role::family},
    Word{"id", Role::strong_id},
    Word{"sid", Role::strong_id},
    Word{"studentid", Role::strong_id},
    Word{"studentsid", Role::strong_id},
    Word{"studentidnumber", Role::strong_id},
    Word{"studentnumber", Role::strong_id},
    Word{"studentno", Role::strong_id},
    Word{"studentcode", Role::strong_id},
    Word{"pupilid", Role::strong_id},
    Word{"pupilnumber", Role::strong_id},
    Word{"learnerid", Role::strong_id},
    Word{"learnernumber", Role::strong_id},
    Word{"sourcedid", Role::strong_id},
    Word{"sourceid", Role::strong_id},
    Word{"localid", Role::strong_id},
    Word{"externalid", Role::strong_id},
    Word{"uniqueid", Role::strong_id},
    Word{"idnumber", Role::strong_id},
    Word{"admissionnumber", Role::strong_id},
    Word{"admissionno", Role::strong_id},
    Word{"rollnumber", Role::strong_id},
    Word{"rollno", Role::strong_id},
    Word{"identifier", Role::strong_id},
    Word{"number", Role::id},
    Word{"no", Role::id},
    Word{"nr", Role::id},
    Word{"num", Role::id},
    Word{"#", Role::id},
    Word{"roll", Role::id},
    Word{"code", Role::id},
};

Role role_of(std::string_view cell) {
    std::string key;
    for (const char c : folded(base::tidy_line(cell))) {
        if (std::string_view(" ._-'/:,()\"").find(c) == std::string_view::npos) key += c;
    }
    for (const auto& word : words) {
        if (word.text == key) return word.role;
    }
    return Role::none;
}

void set_once(std::optional<std::size_t>& column, std::size_t value) {
    if (!column) column = value;
}

RosterColumns oneroster_columns(const CsvRow& row) {
    RosterColumns out;
    for (std::size_t c = 0; c < row.cells.size(); ++c) {
        const std::string text = base::trim(row.cells[c].text);
        if (text == "sourcedId") set_once(out.id, c);
        if (text == "givenName") set_once(out.given, c);
        if (text == "familyName") set_once(out.family, c);
        if (text == "role") set_once(out.role, c);
        if (text == "status") set_once(out.status, c);
    }
    out.oneroster = out.id && out.given && out.family;
    out.known = 3;
    return out;
}

/// "Name, Surname" and "Name, First name": the plain word then stands for the missing half.
void settle_plain_name(RosterColumns& columns) {
    if (!columns.name || columns.family.has_value() == columns.given.has_value()) return;
    std::swap(columns.family ? columns.given : columns.family, columns.name);
    columns.borrowed = true;
}

enum class Kind { nothing, names, numbers, other };

std::string text_at(const CsvRow& row, std::size_t column) {
    return column < row.cells.size() ? base::trim(row.cells[column].text) : std::string();
}

/// More rows than a list of students may have are not looked at.
constexpr std::size_t judged_rows = 1000;

struct ColumnLook {
    Kind kind = Kind::nothing;
    bool distinct = false;
    std::size_t shortest = 0;    ///< bytes of the shortest cell that is not empty
    bool several_words = false;  ///< most cells have a space or a comma
};

/// What stands in one column, from row `first` on.
ColumnLook look_at(const std::vector<CsvRow>& rows, std::size_t first, std::size_t column) {
    std::size_t filled = 0;
    std::size_t digits = 0;
    std::size_t addresses = 0;
    std::size_t spaced = 0;
    std::size_t shortest = std::string::npos;
    std::set<std::string> values;
    for (std::size_t r = first; r < std::min(rows.size(), judged_rows); ++r) {
        const std::string text = without_list_mark(text_at(rows[r], column));
        if (!has_name(text)) continue;
        ++filled;
        digits += has_digit(text) ? 1 : 0;
        addresses += text.find('@') != std::string::npos ? 1 : 0;
        spaced += text.find_first_of(" ,") != std::string::npos ? 1 : 0;
        shortest = std::min(shortest, text.size());
        values.insert(text);
    }
    ColumnLook out;
    out.distinct = values.size() == filled;
    out.shortest = shortest;
    out.several_words = spaced * 2 > filled;
    const bool few_values = filled >= 6 && (values.size() <= 2 || values.size() * 4 <= filled);
    if (filled == 0) return out;
    if (addresses * 2 > filled || few_values) {
        out.kind = Kind::other;
    } else {
        out.kind = digits * 10 >= filled * 8 ? Kind::numbers : Kind::names;
    }
    return out;
}

/// True when a column of numbers or addresses starts with a word.
bool header_by_contrast(const std::vector<CsvRow>& rows, std::size_t width) {
    if (rows.size() < 3) return false;
    for (std::size_t c = 0; c < width; ++c) {
        const ColumnLook look = look_at(rows, 1, c);
        const std::string head = text_at(rows[0], c);
        const bool word = has_name(head) && !has_digit(head);
        if (look.kind == Kind::numbers && word) return true;
    }
    return false;
}

}  // namespace

RosterColumns columns_of_header(const CsvRow& row) {
    RosterColumns exact = oneroster_columns(row);
    if (exact.oneroster) return exact;
    RosterColumns out;
    std::optional<std::size_t> weak_id;
    for (std::size_t c = 0; c < row.cells.size(); ++c) {
        const Role role = role_of(row.cells[c].text);
        if (role == Role::none) continue;
        ++out.known;
        if (role == Role::name) set_once(out.name, c);
        if (role == Role::given) set_once(out.given, c);
        if (role == Role::family) set_once(out.family, c);
        if (role == Role::strong_id) set_once(out.id, c);
        if (role == Role::id) set_once(weak_id, c);
    }
    out.student_id = out.id.has_value();
    if (!out.id) out.id = weak_id;
    settle_plain_name(out);
    return out;
}

GuessedColumns guess_columns(const std::vector<CsvRow>& rows, bool comma) {
    GuessedColumns out;
    std::size_t width = 0;
    std::size_t pairs = 0;  // rows "Family, Given" and "Family, Given, Jr."
    for (const auto& row : rows) {
        width = std::max(width, row.cells.size());
        const bool suffix = row.cells.size() == 3 && is_name_suffix(row.cells[2].text);
        pairs += row.cells.size() == 2 || suffix ? 1 : 0;
    }
    out.first_is_header = header_by_contrast(rows, width);
    bool only_names = true;
    std::vector<ColumnLook> looks;
    for (std::size_t c = 0; c < width; ++c) {
        looks.push_back(look_at(rows, out.first_is_header ? 1 : 0, c));
        const ColumnLook& look = looks.back();
        if (look.kind == Kind::names) out.name_columns.push_back(c);
        // Before the names a number is an id; after them a short one is rather a score.
        const bool id = look.distinct && (out.name_columns.empty() || look.shortest >= 4);
        if (look.kind == Kind::numbers && id) set_once(out.columns.id, c);
        only_names = only_names && (look.kind == Kind::names || look.kind == Kind::nothing);
    }
    const auto& names = out.name_columns;
    if (names.empty()) return out;
    const bool adjacent = names.size() > 1 && names[1] == names[0] + 1;
    if (comma && only_names && pairs * 2 >= rows.size() && adjacent && names[0] == 0) {
        out.layout = Layout::family_given_lines;
    } else if (names.size() > 2 && only_names) {
        out.layout = Layout::grid;
    } else if (adjacent && !looks[names[0]].several_words) {
        out.layout = Layout::columns;
        out.columns.given = names[0];
        out.columns.family = names[1];
    } else {
        out.layout = Layout::columns;
        out.columns.name = names[0];
    }
    return out;
}

}  // namespace tallyround::exchange
