#include "cards/bank.h"

#include <algorithm>
#include <numeric>

#include "cards/bank_parts.h"

namespace tallyround::cards {

namespace {

std::vector<std::string_view> words(std::string_view text) {
    std::vector<std::string_view> out;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        out.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return out;
}

std::vector<SkillInfo> gather() {
    std::vector<SkillInfo> all;
    for (const auto part :
         {number_skills(), fraction_skills(), algebra_skills(), shape_skills(), data_skills()}) {
        for (const SkillRow& row : part)
            all.push_back({row.id, row.grade, row.title, row.strand, row.code, words(row.before)});
    }
    return all;
}

/// Levenshtein 1966, two rows.
std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t corner = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t above = row[j + 1];
            const std::size_t change = corner + (a[i] == b[j] ? 0U : 1U);
            row[j + 1] = std::min({above + 1, row[j] + 1, change});
            corner = above;
        }
    }
    return row[b.size()];
}

struct StrandNames {
    std::string_view id;
    std::string_view title;
};

StrandNames names(Strand strand) {
    switch (strand) {
        case Strand::number:
            return {"number", "Number"};
        case Strand::fractions:
            return {"fractions", "Fractions"};
        case Strand::decimals:
            return {"decimals", "Decimals"};
        case Strand::ratio_percent:
            return {"ratio-percent", "Ratio and percent"};
        case Strand::integers:
            return {"integers", "Integers"};
        case Strand::expressions:
            return {"expressions", "Expressions"};
        case Strand::equations:
            return {"equations", "Equations"};
        case Strand::geometry:
            return {"geometry", "Geometry"};
        case Strand::measurement:
            return {"measurement", "Measurement"};
        case Strand::statistics:
            return {"statistics", "Statistics"};
        case Strand::probability:
            return {"probability", "Probability"};
        case Strand::functions:
            return {"functions", "Functions"};
    }
    return {};
}

}  // namespace

const std::vector<SkillInfo>& skill_bank() {
    static const std::vector<SkillInfo> bank = gather();
    return bank;
}

const SkillInfo* find_skill(std::string_view id) {
    const auto& bank = skill_bank();
    const auto it = std::find_if(bank.begin(), bank.end(),
                                 [&](const SkillInfo& skill) { return skill.id == id; });
    return it == bank.end() ? nullptr : &*it;
}

std::vector<std::string_view> nearest_skills(std::string_view id, std::size_t limit) {
    const std::string_view head = id.substr(0, 64);
    std::vector<std::pair<std::size_t, std::string_view>> ranked;
    for (const SkillInfo& skill : skill_bank())
        ranked.emplace_back(edit_distance(head, skill.id), skill.id);
    std::stable_sort(ranked.begin(), ranked.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string_view> nearest;
    for (std::size_t i = 0; i < std::min(limit, ranked.size()); ++i)
        nearest.push_back(ranked[i].second);
    return nearest;
}

std::string_view strand_title(Strand strand) {
    return names(strand).title;
}

std::string_view strand_id(Strand strand) {
    return names(strand).id;
}

std::string_view standards_notice() {
    return "Codes refer to the Common Core State Standards for Mathematics. © Copyright 2010. "
           "National Governors Association Center for Best Practices and Council of Chief State "
           "School Officers. All rights reserved.";
}

}  // namespace tallyround::cards
