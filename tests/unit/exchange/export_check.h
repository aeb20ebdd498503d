#pragma once
#include <string>
#include <string_view>

#include "exchange/export.h"

namespace tallyround::testing {

/// How marks go out in these tests: the bank has one skill, "bank".
inline exchange::ExportOptions options(bool pseudonyms) {
    return {pseudonyms, [](std::string_view id) {
                return id == "bank" ? std::string("Of the bank") : std::string();
            }};
}

}  // namespace tallyround::testing
