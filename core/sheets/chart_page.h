#pragma once
#include <string>
#include <vector>

namespace tallyround::sheets {

/// What the printed rotation chart says; every text is escaped when it is set.
struct ChartPage {
    std::string class_name;
    std::string title;
    std::vector<std::string> rounds;  ///< column heads: "Round 1\nTue 1 Dec 09:13–09:25"
    struct Row {
        std::string group;  ///< "Group 1"
        std::vector<std::string> students;
        std::vector<std::string> cells;  ///< one a round; empty = free
    };
    std::vector<Row> rows;
    std::vector<std::string> centers;  ///< legend: "1 Task cards: Add fractions …"
};

/// The chart as a page for printing, landscape, on letter or A4, black-and-white safe.
std::string chart_page(const ChartPage& chart);

}  // namespace tallyround::sheets
