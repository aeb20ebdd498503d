#pragma once
#include <string>

#include "cards/picture.h"

namespace tallyround::sheets {

/// The picture as an SVG element in black and grey, `w` mm wide and at most `h` mm high. Words in
/// it are 14 points. Empty for no picture.
std::string svg_of(const cards::Picture& picture, double w, double h);

/// Height in mm that the picture takes at that width.
double svg_height(const cards::Picture& picture, double w, double h);

/// The picture for other programs: the same with a namespace of its own, 80 mm wide.
std::string standalone_svg(const cards::Picture& picture);

}  // namespace tallyround::sheets
