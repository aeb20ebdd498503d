#include "exchange/roster_collect.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "base/text.h"

namespace tallyround::exchange {

namespace {

constexpr std::size_t max_warnings = 200;

std::string short_name(std::string_view name) {
    const std::string head = base::first_code_points(name, 40);
    return "\"" + head + (head.size() < name.size() ? "\u2026" : "") + "\"";
}

/// At most 120 code points, without a space at the end.
std::string cut(std::string_view text) {
    return base::trim(base::first_code_points(text, max_name_code_points));
}

}  // namespace

void RosterCollector::add(std::size_t row, const PersonName& person, std::string_view source_id) {
    if (!has_name(person.name)) {
        warn(row, "No name here: the row is left out.");
        return;
    }
    RosterStudent student;
    student.row = row;
    student.name = cut(person.name);
    student.given = cut(person.given);
    student.family = cut(person.family);
    student.source_id = cut(base::tidy_line(source_id));
    if (student.name.size() < person.name.size()) {
        warn(row, "The name is longer than " + std::to_string(max_name_code_points) +
                      " characters and is cut: " + short_name(person.name) + ".");
    }
    students_.push_back(std::move(student));
}

void RosterCollector::warn(std::size_t row, std::string message) {
    warnings_.push_back({row, std::move(message)});
}

void RosterCollector::warn_about_doubles() {
    std::map<std::string, std::size_t> by_name;
    std::map<std::string, std::size_t> by_id;
    for (const auto& s : students_) {
        const auto [twin, is_new] = by_name.emplace(folded(s.name), s.row);
        if (!is_new) {
            warn(s.row, "Rows " + std::to_string(twin->second) + " and " + std::to_string(s.row) +
                            " have the same name, " + short_name(s.name) +
                            ". Both students are kept: add an initial to tell them apart, or "
                            "delete one.");
        }
        if (s.source_id.empty()) continue;
        const auto [same, id_is_new] = by_id.emplace(s.source_id, s.row);
        if (!id_is_new) {
            warn(s.row, "Rows " + std::to_string(same->second) + " and " + std::to_string(s.row) +
                            " have the same id, " + short_name(s.source_id) +
                            ". Both students are kept.");
        }
    }
}

void RosterCollector::warn_about_signs(Encoding encoding) {
    const auto with_digits = std::count_if(students_.begin(), students_.end(),
                                           [](const auto& s) { return has_digit(s.name); });
    // In a class that goes by codes every name has a digit, and that is meant.
    const bool odd = static_cast<std::size_t>(with_digits) * 2 < students_.size();
    for (const auto& s : students_) {
        if (odd && has_digit(s.name)) {
            warn(s.row, short_name(s.name) +
                            " has a digit in it: if it is not a student, delete "
                            "it from the list.");
        }
        const bool lost = s.name.find("\uFFFD") != std::string::npos;
        if (lost || (encoding == Encoding::windows_1252 && looks_misread(s.name))) {
            warn(s.row, "A letter in " + short_name(s.name) +
                            " may have been read wrongly: correct it, or save the file again as "
                            "UTF-8.");
        }
    }
}

base::Result<Roster> RosterCollector::finish(RosterFormat format, Encoding encoding) {
    if (students_.empty()) {
        return base::fail("",
                          "The file holds no names: write one name a line, or save the class list "
                          "of a spreadsheet as CSV.");
    }
    if (students_.size() > max_roster_students) {
        return tl::make_unexpected(too_many_students(students_.size()));
    }
    warn_about_doubles();
    warn_about_signs(encoding);
    Roster roster;
    roster.students = std::move(students_);
    roster.warnings = std::move(warnings_);
    roster.format = format;
    roster.encoding = encoding;
    number_students(roster.students);
    settle_warnings(roster.warnings);
    return roster;
}

void number_students(std::vector<RosterStudent>& students) {
    for (std::size_t i = 0; i < students.size(); ++i) {
        const std::string number = std::to_string(i + 1);
        students[i].id = (number.size() < 2 ? "s0" : "s") + number;
    }
}

void settle_warnings(std::vector<RosterWarning>& warnings) {
    std::stable_sort(warnings.begin(), warnings.end(), [](const auto& a, const auto& b) {
        return std::tie(a.file, a.row) < std::tie(b.file, b.row);
    });
    if (warnings.size() <= max_warnings) return;
    const std::size_t more = warnings.size() - max_warnings;
    warnings.resize(max_warnings);
    warnings.push_back(
        {0, "There is more to look at: " + base::count_of(more, "warning", "warnings") + ".",
         warnings.back().file});
}

base::Error too_many_students(std::size_t count) {
    return {"", "The list has " + std::to_string(count) + " names; at most " +
                    std::to_string(max_roster_students) +
                    " can be taken. Keep only the rows of one class."};
}

}  // namespace tallyround::exchange
