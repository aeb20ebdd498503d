#pragma once
#include <string>
#include <string_view>

#include "cards/picture.h"

namespace tallyround::sheets {

/// A picture file as an image element at most `w` mm wide and `h` mm high, its proportions kept.
/// `data` is base64 text; anything that is not a PNG, JPEG or WebP prints the words instead.
std::string photo_html(const cards::Photo& photo, std::string_view data, double w, double h);

/// Height in mm that it takes.
double photo_height(const cards::Photo& photo, double w, double h);

}  // namespace tallyround::sheets
