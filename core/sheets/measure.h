#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tallyround::sheets {

/// How a run of text is set: points and weight.
struct Face {
    double pt = 12;
    bool bold = false;
};

inline constexpr double mm_of_pt = 25.4 / 72;

/// Width in mm that the text takes at most, whatever plain sans-serif the reader's device has.
/// Letters are counted wider than any common one sets them, so that what fits here fits on paper:
/// Helvetica's advance widths (Adobe Core 14 font metrics, from memory) enlarged to those of the
/// widest common face; other scripts by the widest letter of their kind.
double text_width(std::string_view utf8, const Face& face);

/// The text in lines of at most `width` mm, broken at blanks, inside a word only where the word
/// alone is too wide. Blanks at the breaks are dropped; an empty text has no line.
std::vector<std::string> wrap(std::string_view utf8, double width, const Face& face);

/// How many lines `wrap` makes, at least 1.
int lines_of(std::string_view utf8, double width, const Face& face);

/// The greatest size of `largest`, `largest` − 1 … `least` points at which the text takes no more
/// than `lines` lines and no word is broken; 0 when none does.
double fitting_size(std::string_view utf8, double width, int lines, double largest, double least,
                    bool bold);

/// The text, or as much of it as fits into the lines, with "…" at its end.
std::string shortened(std::string_view utf8, double width, int lines, const Face& face);

}  // namespace tallyround::sheets
