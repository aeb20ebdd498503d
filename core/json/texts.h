#pragma once
#include <map>
#include <string>
#include <string_view>

namespace tallyround::json {

/// A flat object of texts: names and their values.
using Texts = std::map<std::string, std::string>;

/// The members of a JSON object that are texts; the others are left out. Empty when it is no object
/// or no JSON at all.
Texts read_texts(std::string_view text);
/// The same as one JSON object without spaces, in order of names.
std::string write_texts(const Texts& texts);

}  // namespace tallyround::json
