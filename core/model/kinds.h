#pragma once
#include <span>
#include <string_view>

namespace tallyround::model {

/// A kind of center: what a group does there. To add one, add a row to the table in kinds.cpp;
/// everything else (pickers, prep lists, sheets) reads the table.
struct CenterKind {
    std::string_view id;            ///< stable, written to files
    std::string_view title;         ///< as a teacher would say it
    std::string_view purpose;       ///< one line: when to choose it
    std::string_view instructions;  ///< what students do, one step a line; a teacher edits a copy
    std::string_view materials;     ///< one a line, "4 whiteboards": counted per group
    std::string_view reset;         ///< what a group puts right before it leaves, one a line
    bool uses_devices = false;      ///< one device a student, limited by what the class has
    bool teacher_led = false;
};

std::span<const CenterKind> center_kinds();
/// The kind of that id, or nothing.
const CenterKind* find_center_kind(std::string_view id);

}  // namespace tallyround::model
