#pragma once
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

/// A small CSV file of tests/reference/data: cells without their quotes, first line first.
inline std::vector<std::vector<std::string>> read_table(const std::string& name) {
    std::ifstream in(std::string(TALLYROUND_TEST_DATA) + "/" + name);
    if (!in) throw std::runtime_error("cannot read " + name);
    std::vector<std::vector<std::string>> rows;
    for (std::string line; std::getline(in, line);) {
        if (!line.empty() && line.back() == '\r') line.pop_back();
        rows.emplace_back();
        std::istringstream cells(line);
        for (std::string cell; std::getline(cells, cell, ',');) {
            if (cell.size() >= 2 && cell.front() == '"') cell = cell.substr(1, cell.size() - 2);
            rows.back().push_back(cell);
        }
    }
    return rows;
}
