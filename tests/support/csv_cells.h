#pragma once
#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <vector>

#include "exchange/csv.h"

namespace tallyround::testing {

using Table = std::vector<std::vector<std::string>>;

/// What stands in the cells of a text with commas, which must be readable.
inline Table cells(std::string_view csv) {
    const auto rows = exchange::read_csv(csv, ',');
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
