#pragma once
#include <string>
#include <vector>

#include "model/state.h"

namespace tallyround::session {

/// How each student of the class is shown when names are hidden, in the class's order, students
/// who left included: the first letters of the first and the last word of the name; where two would
/// be the same, one letter more of the first word if that does not give it away whole; where that
/// is not enough, numbers ("AL 1", "AL 2"). No two are the same.
std::vector<std::string> initials_of(const model::Class& cls);

/// The class with those in place of the names; everything else is as it was.
model::Class with_initials(model::Class cls);

/// Every name of the class that stands as words of its own in `text`, replaced in the same way.
std::string hide_names(const model::Class& cls, std::string text);

}  // namespace tallyround::session
