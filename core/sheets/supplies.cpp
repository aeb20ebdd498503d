#include "sheets/supplies.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "base/text.h"

namespace tallyround::sheets {

namespace {

constexpr std::size_t usual_group = 4;

int have_of(const PrepBox& box, const std::string& words) {
    for (const auto& [what, count] : box.stock)
        if (what == words) return count;
    return -1;
}

Supply supply_of(const PrepBox& box, const CenterBox& center, const std::string& line) {
    const Counted plain = counted(line);
    Supply supply;
    supply.center = center.number;
    supply.words = plain.words;
    supply.key = center.id + "/" + plain.words;
    supply.count = plain.count;
    const std::size_t largest = box.largest_group();
    if (center.usual_materials && plain.count == int(usual_group) && largest > 0) {
        supply.count = int(largest);
        supply.why = "one for each student of the largest group";
    }
    if (used_up(plain.words) && center.visits > 1) {
        supply.why = base::count_of(std::size_t(center.visits), "group comes", "groups come") +
                     ", " + std::to_string(supply.count) + " each";
        supply.count =
            int(std::min<std::int64_t>(std::int64_t{supply.count} * center.visits, 99'999));
    }
    supply.have = have_of(box, supply.words);
    supply.ready = std::find(box.ticked.begin(), box.ticked.end(), supply.key) != box.ticked.end();
    return supply;
}

}  // namespace

Counted counted(const std::string& line) {
    std::size_t at = 0;
    int count = 0;
    while (at < line.size() && line[at] >= '0' && line[at] <= '9' && at < 5)
        count = count * 10 + (line[at++] - '0');
    const bool numbered = at > 0 && at < line.size() && line[at] == ' ';
    return numbered ? Counted{count, base::trim(line.substr(at))} : Counted{1, base::trim(line)};
}

bool used_up(const std::string& words) {
    constexpr std::array<std::string_view, 8> signs{"of paper",   "copy",        "copies",
                                                    "index card", "sticky note", "worksheet",
                                                    "hand-out",   "handout"};
    return std::any_of(signs.begin(), signs.end(), [&](std::string_view sign) {
        return words.find(sign) != std::string::npos;
    });
}

std::vector<Supply> supplies(const PrepBox& box) {
    std::vector<Supply> all;
    for (const CenterBox& center : box.centers)
        for (const std::string& line : center.materials)
            if (!base::trim(line).empty()) all.push_back(supply_of(box, center, line));
    return all;
}

std::string supply_words(const Supply& supply) {
    return std::to_string(supply.count) + " " + supply.words;
}

std::string supply_detail(const Supply& supply, std::string_view between) {
    std::string out = supply.why;
    if (supply.have < 0) return out;
    if (!out.empty()) out += between;
    out += "in stock: " + std::to_string(supply.have);
    if (supply.have < supply.count) out += ", get " + std::to_string(supply.count - supply.have);
    return out;
}

std::string joined(const std::vector<std::string>& sentences) {
    std::string out;
    for (const std::string& sentence : sentences)
        out += (out.empty() ? "" : " ") + sentence;
    return out;
}

int devices_at_once(const PrepBox& box) {
    int most = 0;
    for (std::size_t r = 0; r < box.rounds.size(); ++r) {
        int now = 0;
        for (const GroupBox& group : box.groups) {
            const CenterBox* center = r < group.route.size() ? box.center(group.route[r]) : nullptr;
            if (center != nullptr && center->uses_devices) now += int(group.students.size());
        }
        most = std::max(most, now);
    }
    if (box.has_chart) return most;
    for (const CenterBox& center : box.centers)
        if (center.uses_devices) most += int(std::max<std::size_t>(box.largest_group(), 1));
    return most;
}

}  // namespace tallyround::sheets
