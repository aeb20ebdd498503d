#pragma once
#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "exchange/csv.h"

namespace tallyround::testing {

using Table = std::vector<std::vector<std::string>>;

/// What stands in the cells of a text, which must be readable.
inline Table cells(std::string_view csv, char separator = ',') {
    const auto rows = exchange::read_csv(csv, separator);
    REQUIRE(rows.has_value());
    Table out;
    for (const auto& row : *rows) {
        out.emplace_back();
        for (const auto& cell : row.cells)
            out.back().push_back(cell.text);
    }
    return out;
}

}  // namespace tallyround::testing
