#pragma once
#include <string_view>
#include <vector>

namespace tallyround::ui {

/// A part that others made, and what its licence asks to be said.
struct Notice {
    std::string_view name;
    std::string_view text;
};
const std::vector<Notice>& notices();

}  // namespace tallyround::ui
