#include "cards/bank.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <regex>
#include <set>
#include <string>

using namespace tallyround::cards;

TEST_CASE("the bank holds at least 72 skills spread over four grades and twelve strands") {
    std::map<int, int> by_grade;
    std::map<Strand, int> by_strand;
    for (const SkillInfo& skill : skill_bank()) {
        ++by_grade[skill.grade];
        ++by_strand[skill.strand];
    }
    CHECK(skill_bank().size() >= 72);
    CHECK(by_grade.size() == 4);
    CHECK(by_strand.size() == 12);
    for (const auto& [grade, count] : by_grade) {
        CAPTURE(grade);
        CHECK(grade >= 5);
        CHECK(grade <= 8);
        CHECK(count >= 15);
    }
    for (const auto& [strand, count] : by_strand) {
        CAPTURE(strand_id(strand));
        CHECK(count >= 4);
    }
}

TEST_CASE("every skill has a usable id, a short title and a well-formed code of its grade") {
    const std::regex code_shape(
        R"(^(5\.(OA|NBT|NF|MD|G)|[67]\.(RP|NS|EE|G|SP)|8\.(NS|EE|F|G|SP))\.[A-E]\.\d{1,2}[a-d]?$)");
    std::set<std::string_view> ids;
    std::set<std::string_view> titles;
    for (const SkillInfo& skill : skill_bank()) {
        CAPTURE(skill.id);
        CHECK(skill.id.size() >= 1);
        CHECK(skill.id.size() <= 23);
        CHECK(skill.id.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") ==
              std::string_view::npos);
        CHECK(ids.insert(skill.id).second);
        CHECK(titles.insert(skill.title).second);
        CHECK(skill.title.size() >= 8);
        CHECK(skill.title.size() <= 60);
        CHECK(std::regex_match(std::string(skill.code), code_shape));
        CHECK(skill.code[0] - '0' == skill.grade);
    }
}

TEST_CASE("before-links name known skills of the same or a lower grade and never form a ring") {
    std::map<std::string_view, int> level;
    const auto& bank = skill_bank();
    // A skill gets a level once all it needs have one; a ring would never get any.
    for (std::size_t pass = 0; pass < bank.size() && level.size() < bank.size(); ++pass) {
        for (const SkillInfo& skill : bank) {
            if (std::all_of(skill.before.begin(), skill.before.end(),
                            [&](std::string_view id) { return level.count(id) > 0; }))
                level.emplace(skill.id, static_cast<int>(pass));
        }
    }
    CHECK(level.size() == bank.size());
    for (const SkillInfo& skill : bank) {
        CAPTURE(skill.id);
        std::set<std::string_view> seen;
        for (std::string_view id : skill.before) {
            CAPTURE(id);
            CHECK(seen.insert(id).second);
            const SkillInfo* earlier = find_skill(id);
            REQUIRE(earlier != nullptr);
            CHECK(earlier->grade <= skill.grade);
        }
    }
}

TEST_CASE("finding a skill is exact and a misspelling is met with near ids") {
    REQUIRE(find_skill("frac-add-unlike") != nullptr);
    CHECK(find_skill("frac-add-unlike")->grade == 5);
    CHECK(find_skill("frac-add") == nullptr);
    CHECK(find_skill("") == nullptr);
    const auto near = nearest_skills("frac-ad-unlike");
    REQUIRE(near.size() == 3);
    CHECK(near.front() == "frac-add-unlike");
    CHECK(nearest_skills(std::string(1'000'000, 'x')).size() == 3);
}

TEST_CASE("the notice names the holders of the codes") {
    CHECK(standards_notice().find("© Copyright 2010") != std::string_view::npos);
    CHECK(standards_notice().find("Council of Chief State School Officers") !=
          std::string_view::npos);
}
