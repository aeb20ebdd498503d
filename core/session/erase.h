#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "model/state.h"

namespace tallyround::session {

/// What goes when a student, or with nobody named the whole class, is deleted for good.
struct ErasePreview {
    std::size_t students = 0;
    std::size_t marks = 0;
    std::size_t notes = 0;
    std::size_t blocks = 0;  ///< of a class: their groups and charts go, too
    /// Places where the name stands in words that somebody typed ("a note on Ana"): those stay.
    std::vector<std::string> named_in;
};
ErasePreview erase_preview(const model::Class& cls, const model::StudentId& student);

}  // namespace tallyround::session
