#pragma once
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tallyround::sheets {

// What the sheets of one block say, as plain text; nothing here is escaped. Filled by
// session::prep_box from the record.

/// A card that a teacher wrote for a skill of their own.
struct OwnCard {
    std::string prompt;
    std::string answer;
    std::string picture = {};  ///< id of a picture, or empty
    int width = 0;             ///< of the picture, in pixels
    int height = 0;
    std::string shows = {};  ///< what the picture shows
    friend bool operator==(const OwnCard&, const OwnCard&) = default;
};

struct CenterBox {
    std::string id;  ///< as in the record
    int number = 0;  ///< as on the chart, from 1
    std::string kind;
    std::string title;
    std::string skill;  ///< id in the bank; empty for the teacher's own skills
    std::string skill_title;
    std::string code;  ///< reference to a standard, may be empty
    std::vector<std::string> steps;
    std::vector<std::string> materials;
    std::vector<std::string> reset;  ///< what to put right before the next group
    /// The materials are the kind's own, whose "4" means one for each student of a group of four.
    bool usual_materials = false;
    bool uses_devices = false;
    bool teacher_led = false;
    int visits = 0;  ///< groups that come, by the chart; without a chart all groups
    std::vector<OwnCard> own_cards;
    std::vector<int> tiers = {};  ///< of its cards, by their dots; empty: those chosen for all
    friend bool operator==(const CenterBox&, const CenterBox&) = default;
};

struct GroupBox {
    std::string name;
    std::vector<std::string> students;
    std::vector<int> route;  ///< a center's number for each round; 0 = free
    friend bool operator==(const GroupBox&, const GroupBox&) = default;
};

struct RoundBox {
    int number = 0;
    std::string day;    ///< "Tue 1 Dec"; empty when the rounds do not fit the periods
    std::string clock;  ///< "09:13–09:25"
    std::string start() const { return clock.substr(0, clock.find("–")); }
    friend bool operator==(const RoundBox&, const RoundBox&) = default;
};

/// An absent student and what the group did or will do without them.
struct MissedBox {
    std::string student;
    std::string group;
    std::vector<int> centers;
    friend bool operator==(const MissedBox&, const MissedBox&) = default;
};

struct PrepBox {
    std::string class_name;
    std::string block_title;
    std::vector<CenterBox> centers;  ///< the open ones
    std::vector<GroupBox> groups;
    std::vector<RoundBox> rounds;
    std::vector<std::string> procedures;  ///< how the class works, one rule each
    int round_minutes = 0;
    int move_minutes = 0;
    int devices = 0;  ///< what the class has
    std::vector<MissedBox> missed;
    bool has_chart = false;
    std::vector<std::pair<std::string, int>> stock;  ///< what the class owns: words and count
    std::vector<std::string> ticked;                 ///< keys of Supply that are ready

    friend bool operator==(const PrepBox&, const PrepBox&) = default;

    const CenterBox* center(int number) const {
        for (const CenterBox& c : centers)
            if (c.number == number) return &c;
        return nullptr;
    }
    std::size_t students() const {
        std::size_t n = 0;
        for (const GroupBox& g : groups)
            n += g.students.size();
        return n;
    }
    std::size_t largest_group() const {
        std::size_t most = 0;
        for (const GroupBox& g : groups)
            most = g.students.size() > most ? g.students.size() : most;
        return most;
    }
};

/// The base64 text of a picture of the box by its id; empty for one that is not there.
using PictureSource = std::function<std::string(std::string_view id)>;

}  // namespace tallyround::sheets
