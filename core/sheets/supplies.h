#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "sheets/prep_box.h"

namespace tallyround::sheets {

/// Something to put out for a block, and how many of it.
struct Supply {
    std::string key;    ///< names it across days: the center's id and the words
    int center = 0;     ///< number, or 0 for the whole room
    std::string words;  ///< "whiteboards"
    int count = 1;      ///< what must be there before the first round
    std::string why;    ///< how the count came about; may be empty
    int have = -1;      ///< in stock, -1 = nobody has said
    bool ready = false;
};

/// What a line of materials says: "4 whiteboards" is 4 of "whiteboards"; without a number 1.
struct Counted {
    int count = 1;
    std::string words;
};
Counted counted(const std::string& line);

/// True for what a group uses up, so that every group needs its own: paper, copies, notes.
/// (Common practice, no source.)
bool used_up(const std::string& words);

/// Everything to put out, center by center, with counts from groups, rounds and kinds:
///   - the kind's own materials count one for each student of the largest group where the kind
///     says 4 (a group of four);
///   - what is used up is counted for each group that comes to the center;
///   - whiteboards only where the materials name them: at the teacher center;
///   - devices at once, against what the class has.
std::vector<Supply> supplies(const PrepBox& box);

/// "4 whiteboards".
std::string supply_words(const Supply& supply);
/// Why so many, and what of it is in stock, with `between` in between.
std::string supply_detail(const Supply& supply, std::string_view between);

/// Sentences one after the other.
std::string joined(const std::vector<std::string>& sentences);

/// Devices that are in use at the same time, the most of any round.
int devices_at_once(const PrepBox& box);

}  // namespace tallyround::sheets
