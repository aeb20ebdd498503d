#pragma once
#include <map>
#include <string>
#include <vector>

#include "model/block.h"
#include "model/class.h"
#include "model/mark.h"

namespace tallyround::model {

/// One class and everything planned and seen with it.
struct Class {
    ClassId id;
    std::string name;
    int grade = 6;
    bool archived = false;
    std::vector<Student> students;  ///< in the order they were added
    std::vector<Pair> pairs;        ///< by a, then b
    std::vector<Company> company;   ///< by student, at most one each
    std::vector<OwnSkill> own_skills;
    std::vector<Block> blocks;    ///< oldest first; the last is the one being planned or run
    std::vector<Mark> marks;      ///< in record order
    std::vector<Flag> flags;      ///< raised now, oldest first
    std::vector<Note> notes;      ///< in record order
    std::vector<Move> moves;      ///< in record order
    std::string procedures;       ///< how the class works, one rule a line; empty: the usual ones
    bool usual_reading = false;   ///< marks are read by the usual parameters, fitted or not
    std::vector<SlipSeen> slips;  ///< in record order
    std::vector<Stock> stock;     ///< by item
    std::vector<CardPicture> pictures;  ///< in the order they came

    const Student* student(const StudentId& id) const;
    const Block* block(const BlockId& id) const;
    const OwnSkill* own_skill(const SkillId& id) const;
    const CardPicture* picture(const PictureId& id) const;
    const Block* current_block() const { return blocks.empty() ? nullptr : &blocks.back(); }
    PairRule rule_between(const StudentId& a, const StudentId& b) const;
    friend bool operator==(const Class&, const Class&) = default;
};

/// Everything the record says, folded. Only `record::fold` makes one.
struct State {
    std::vector<Class> classes;  ///< in the order they were made

    const Class* find_class(const ClassId& id) const;
    friend bool operator==(const State&, const State&) = default;
};

const Center* find_center(const Block& block, const CenterId& id);
/// Index of the group that a student sits in, or -1.
int group_of(const Block& block, const StudentId& student);
/// The center of a group in a round (1-based); empty id if none.
CenterId center_at(const Block& block, int group, int round);
bool is_absent(const Block& block, const StudentId& student);

}  // namespace tallyround::model
