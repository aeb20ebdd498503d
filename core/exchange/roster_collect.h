#pragma once
#include <string>
#include <vector>

#include "exchange/roster.h"
#include "exchange/roster_names.h"

namespace tallyround::exchange {

/// Takes students one by one and makes the list of them: names cut, ids given, doubles and odd
/// names warned about, limits kept.
class RosterCollector {
  public:
    /// A student, or a warning that the row has no name.
    void add(std::size_t row, const PersonName& person, std::string_view source_id);
    void warn(std::size_t row, std::string message);

    /// The list, or why there is none: nobody in it, or too many.
    base::Result<Roster> finish(RosterFormat format, Encoding encoding);

  private:
    void warn_about_doubles();
    void warn_about_signs(Encoding encoding);

    std::vector<RosterStudent> students_;
    std::vector<RosterWarning> warnings_;
};

/// "s01", "s02", … in the order of the students.
void number_students(std::vector<RosterStudent>& students);

/// Ordered by file and row; past 200 a last one says how many more there are.
void settle_warnings(std::vector<RosterWarning>& warnings);

/// The error for more students than a list may hold.
base::Error too_many_students(std::size_t count);

}  // namespace tallyround::exchange
