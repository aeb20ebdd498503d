#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "exchange/roster.h"
#include "exchange/zip.h"

namespace tallyround::exchange {

/// One class of a school's export and who is in it.
struct OneRosterClass {
    std::string id;     ///< sourcedId
    std::string title;  ///< one line, never empty
    Roster roster;
};

struct OneRosterBundle {
    std::string version;                  ///< "1.1" or "1.2"
    std::vector<OneRosterClass> classes;  ///< those with students, in the order of the file
    std::vector<std::string> warnings;    ///< at most 50 and a last one that counts more
};

/// Reads a OneRoster 1.1 or 1.2 zip (1EdTech, CSV bulk files) of users.csv, classes.csv and
/// enrollments.csv; in 1.2 the role of a user stands in roles.csv, which is read if it is there.
/// Columns are known by their names as the standard spells them, in any order; rows with status
/// tobedeleted are passed over. In a class are the users whom an enrollment of role student names.
/// An enrollment of somebody or of a class that is not there is left out with a warning.
/// Errors, with "FILE, row R, COLUMN": a file or a needed column that is missing, a repeated or
/// empty sourcedId, no class with students; and those of read_zip, unzip and read_csv.
base::Result<OneRosterBundle> read_oneroster(std::string_view zip, const ZipLimits& limits = {});

}  // namespace tallyround::exchange
