// Marks as statements of the Experience API and as the school's archive, field by field.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "../../support/csv_cells.h"
#include "exchange/export.h"
#include "export_check.h"
#include "json/reader.h"

using namespace tallyround;
using namespace tallyround::exchange;
using namespace tallyround::model;
using testing::options;
using testing::Table;

namespace {

constexpr std::int64_t morning = 1'796'116'530'250;  // 2026-12-01T09:15:30.250Z

/// Two students with marks of every kind, and one mark of somebody who is not in the class.
State some_state() {
    Class cls;
    cls.id = ClassId("c1");
    cls.name = "6b";
    cls.grade = 6;
    cls.students = {{StudentId("s1"), "Ada Quill", "00017"}, {StudentId("s2"), "Bo Fern", ""}};
    cls.own_skills.emplace_back();
    cls.own_skills[0].id = SkillId("own");
    cls.own_skills[0].title = "Of my own";
    Block block;
    block.id = BlockId("b1");
    block.title = "Fractions";
    Center center;
    center.id = CenterId("k1");
    center.kind = "no-such-kind";
    block.centers = {center};
    center.id = CenterId("k2");
    center.title = "By the window";
    block.centers.push_back(center);
    cls.blocks = {block};
    const auto mark = [&](const char* student, const char* skill, const char* at, int round,
                          Level level, Help help) {
        const bool outside = round == 0;
        cls.marks.push_back({StudentId(student), SkillId(skill), CenterId(at),
                             outside ? BlockId() : BlockId("b1"), morning, cls.marks.size(),
                             static_cast<std::int16_t>(round), level, help});
    };
    mark("s1", "own", "k1", 2, Level::stuck, Help::together);
    mark("s1", "own", "k1", 2, Level::stuck, Help::together);
    mark("s2", "bank", "k2", 1, Level::secure, Help::none);
    mark("s2", "", "", 0, Level::shaky, Help::hint);
    mark("nobody", "bank", "k1", 1, Level::secure, Help::none);
    cls.slips.push_back({StudentId("s1"), SkillId("own"), "adds both", 0});
    State state;
    state.classes = {cls};
    return state;
}

json::Json statements(const State& state, const ExportOptions& how) {
    const auto document = json::parse(marks_xapi(state, how));
    REQUIRE(document.has_value());
    return *document;
}

Table archive(const State& state, const ExportOptions& how) {
    return testing::cells(archive_csv(state, how));
}

}  // namespace

TEST_CASE("a mark is a statement: who, what, how it went, where") {
    const json::Json all = statements(some_state(), options(false));
    REQUIRE(all.size() == 4);  // the mark of nobody in the class is left out
    const json::Json& own = all[0];
    CHECK(own["actor"]["name"] == "Ada Quill");
    CHECK(own["actor"]["account"]["name"] == "00017");
    CHECK(own["actor"]["account"]["homePage"] ==
          "https://tallyround.invalid/class/" + uuid_of("class/c1"));
    CHECK(own["object"]["id"] == "urn:uuid:" + uuid_of("c1/own"));
    CHECK(own["object"]["definition"]["name"]["en"] == "Of my own");
    CHECK(own["result"]["success"] == false);
    CHECK(own["result"]["extensions"]["urn:tallyround:level"] == "stuck");
    CHECK(own["result"]["extensions"]["urn:tallyround:help"] == "together");
    const json::Json& where = own["context"];
    CHECK(where["contextActivities"]["grouping"][0]["definition"]["name"]["en"] == "6b");
    CHECK(where["extensions"]["urn:tallyround:block"] == "Fractions");
    CHECK(where["extensions"]["urn:tallyround:center"] == "Center");
    CHECK(where["extensions"]["urn:tallyround:round"] == 2);
    CHECK(own["timestamp"] == "2026-12-01T09:15:30.250Z");

    CHECK(all[2]["actor"]["account"]["name"] == "s2");  // no number of the school's
    CHECK(all[2]["object"]["id"] == "urn:tallyround:skill:bank");
    CHECK(all[2]["object"]["definition"]["name"]["en"] == "Of the bank");
    CHECK(all[2]["result"]["success"] == true);
    CHECK(all[2]["context"]["extensions"]["urn:tallyround:center"] == "By the window");

    // Outside of a lesson, without a skill, neither one nor the other.
    CHECK(all[3]["object"]["id"] == "urn:tallyround:skill:none");
    CHECK_FALSE(all[3]["object"]["definition"].contains("name"));
    CHECK_FALSE(all[3]["result"].contains("success"));
    CHECK(all[3]["context"]["extensions"]["urn:tallyround:block"] == "");
    CHECK_FALSE(all[3]["context"]["extensions"].contains("urn:tallyround:round"));

    CHECK(marks_xapi({}, options(false)) == "[\n]\n");
}

TEST_CASE("a statement of a time before 1970 has its milliseconds too") {
    State state = some_state();
    state.classes[0].marks[0].at_ms = -1;
    CHECK(statements(state, options(false))[0]["timestamp"] == "1969-12-31T23:59:59.999Z");
}

TEST_CASE("marks are named the same in every file, and alike ones are told apart") {
    State state = some_state();
    const json::Json all = statements(state, options(false));
    std::set<std::string> keys;
    for (const json::Json& one : all)
        keys.insert(one["id"].get<std::string>());
    CHECK(keys.size() == 4);
    // RFC 9562: version 8 and variant 8, 9, a or b.
    for (const std::string& key : keys) {
        REQUIRE(key.size() == 36);
        CHECK(key[14] == '8');
        CHECK(key[19] == '8');
    }
    const auto rows = archive(state, options(true));
    REQUIRE(rows.size() == 5);
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(rows[i + 1][0] == all[i]["id"]);
    // What else there is changes no key.
    state.classes[0].marks.erase(state.classes[0].marks.begin() + 2);
    CHECK(archive(state, options(false))[3][0] == all[3]["id"]);
}

TEST_CASE("statements with pseudonyms name nobody") {
    const std::string text = marks_xapi(some_state(), options(true));
    for (const char* secret : {"Ada", "Bo", "00017", "6b", "Fractions", "window", "my own"})
        CHECK_MESSAGE(text.find(secret) == std::string::npos, secret);
    const json::Json all = statements(some_state(), options(true));
    const std::string account = all[0]["actor"]["account"]["name"];
    CHECK(account.starts_with("student-0"));
    CHECK_FALSE(all[0]["actor"].contains("name"));
    CHECK(all[1]["actor"]["account"]["name"] == account);
    CHECK(all[2]["actor"]["account"]["name"] != account);
    CHECK(all[0]["context"]["extensions"]["urn:tallyround:block"] == "Block 1");
    CHECK(all[2]["context"]["extensions"]["urn:tallyround:center"] == "Center");
}

TEST_CASE("the archive has a row a mark with keys, names and the slip that was seen") {
    const auto rows = archive(some_state(), options(false));
    REQUIRE(rows.size() == 5);
    const auto field = [&](std::size_t row, const char* column) {
        const auto& head = rows[0];
        const auto at = std::find(head.begin(), head.end(), column) - head.begin();
        REQUIRE(at < static_cast<std::ptrdiff_t>(head.size()));
        return rows[row][static_cast<std::size_t>(at)];
    };
    CHECK(field(1, "class_key") == uuid_of("class/c1"));
    CHECK(field(1, "class") == "6b");
    CHECK(field(1, "grade") == "6");
    CHECK(field(1, "student") == "Ada Quill");
    CHECK(field(1, "student_key") == uuid_of("student/c1/s1"));
    CHECK(field(1, "student_id") == "00017");
    CHECK(field(1, "skill") == uuid_of("skill/c1/own"));
    CHECK(field(1, "skill_title") == "Of my own");
    CHECK(field(1, "round") == "2");
    CHECK(field(1, "center_kind") == "no-such-kind");
    CHECK(field(1, "slip") == "adds both");
    CHECK(field(2, "slip").empty());
    CHECK(field(3, "skill") == "bank");
    CHECK(field(3, "center") == "By the window");
    for (const char* column :
         {"round", "block", "block_key", "center_key", "center", "center_kind"})
        CHECK(field(4, column).empty());
    CHECK(field(4, "level") == "shaky");
}

TEST_CASE("without titles of the bank, classes and skills go by what is known") {
    const ExportOptions plain;
    CHECK(archive(some_state(), plain)[3][15].empty());
    State state = some_state();
    state.classes[0].blocks[0].title.clear();
    CHECK(statements(state, plain)[0]["context"]["extensions"]["urn:tallyround:block"] ==
          "Block 1");
    state.classes[0].blocks[0].centers[0].kind = "games";
    CHECK(statements(state, plain)[0]["context"]["extensions"]["urn:tallyround:center"] != "");
}

TEST_CASE("more than nine students have numbers of two digits") {
    State state = some_state();
    for (int i = 3; i <= 12; ++i)
        state.classes[0].students.push_back({StudentId("s" + std::to_string(i)), "N", ""});
    for (const Student& s : state.classes[0].students) {
        state.classes[0].marks.push_back(state.classes[0].marks[2]);
        state.classes[0].marks.back().student = s.id;
    }
    std::set<std::string> numbers;
    for (const auto& row : archive(state, options(true)))
        numbers.insert(row[5]);
    CHECK(numbers.contains("Student 01"));
    CHECK(numbers.contains("Student 12"));
    CHECK(numbers.size() == 13);  // with the header
}

TEST_CASE("the summary and the marks pass over who is not in the class") {
    const std::string summary = summary_csv(some_state(), options(false));
    CHECK(std::count(summary.begin(), summary.end(), '\n') == 4);
    const std::string marks = marks_csv(some_state(), options(false));
    CHECK(std::count(marks.begin(), marks.end(), '\n') == 5);
    CHECK(marks.find("nobody") == std::string::npos);
}
