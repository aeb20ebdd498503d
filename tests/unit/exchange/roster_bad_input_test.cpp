#include "roster_check.h"

using namespace tallyround;
using test::refused;
using test::roster_of;
using test::says;
using test::warned;
using namespace std::string_literals;

namespace {

std::string many(std::size_t n) {
    std::string out;
    for (std::size_t i = 0; i < n; ++i) {
        // Letters only, so that no name looks like a code.
        out += "Kid ";
        for (std::size_t k = i + 1; k > 0; k /= 26)
            out += static_cast<char>('a' + k % 26);
        out += "\n";
    }
    return out;
}

}  // namespace

TEST_CASE("a file without names says what to do") {
    for (const char* text : {"", "\n\n", " \t ", "\xEF\xBB\xBF", "\xFF\xFE", ",,,\n,,,\n", "Name\n",
                             "Name,ID\n", "First,Last\n,\n", "...\n---\n", "1.\n2.\n"}) {
        CHECK(says(refused(text), "The file holds no names: write one name a line"));
    }
}

TEST_CASE("400 students are taken, 401 are not") {
    const auto most = roster_of(many(400));
    CHECK(most.students.size() == 400);
    CHECK(most.warnings.empty());
    CHECK(most.students.back().id == "s400");
    CHECK(most.students[98].id == "s99");
    CHECK(most.students[99].id == "s100");
    const auto error = refused(many(401));
    CHECK(says(error, "401 names"));
    CHECK(says(error, "at most 400"));
    const auto joined = exchange::join_rosters({roster_of(many(400)), roster_of("Zed\n")});
    REQUIRE_FALSE(joined);
    CHECK(says(joined.error(), "at most 400"));
}

TEST_CASE("files of another kind are named") {
    CHECK(says(refused("PK\x03\x04xx", "class.xlsx"), "save the sheet with the names as CSV"));
    CHECK(says(refused("PK\x03\x04xx", "Bundle.ZIP"), "users.csv"));
    CHECK(says(refused("%PDF-1.7\n"), "a PDF"));
    CHECK(says(refused("{\\rtf1 Ana}"), "RTF"));
    CHECK(says(refused("\xD0\xCF\x11\xE0\xA1"), "office document"));
    CHECK(says(refused("\x89PNG\r\n\x1A\n\0\0"s), "a picture"));
    CHECK(says(refused("\x1F\x8B\x08"), "compressed"));
    CHECK(says(refused(" {\"students\": []}"), "JSON"));
    CHECK(says(refused("[{\"name\": \"Ana\"}]"), "JSON"));
    CHECK(says(refused("[]"), "JSON"));
    CHECK(says(refused("\xEF\xBB\xBF{}"), "JSON"));
    CHECK(says(refused("<!DOCTYPE html><p>Ana"), "web page"));
    CHECK(says(refused("<?xml version='1.0'?>"), "XML"));
    CHECK(says(refused("<table><tr>"), "web page"));
}

TEST_CASE("bytes that are no text are refused") {
    CHECK(says(refused("Ana\0Bo"s), "not a text file"));
    CHECK(says(refused(std::string(20, '\x02')), "control characters"));
    CHECK(refused("Ana\nBo\x81\n").where == "line 2");
    // A few control characters in a text are removed, not refused.
    CHECK(roster_of("A\x02na\nBo\n").students[0].name == "Ana");
}

TEST_CASE("broken quotation marks name row and column") {
    CHECK(refused("Name,ID\nAna,1\nBo,\"2\nCy,3\n").where == "row 3, column 2");
    CHECK(refused("Name,ID\nAna,1\n\"Bo\" x,2\n").where == "row 3, column 1");
    CHECK(refused("Ana\n\"Bo\nCy\n").where == "row 2, column 1");
}

TEST_CASE("a table without names says which columns it wants") {
    const auto error = refused("Student ID,Email\n1,a@x.example\n2,b@x.example\n");
    CHECK(error.where == "row 1");
    CHECK(says(error, "First name"));
    CHECK(says(refused("1,2\n3,4\n5,6\n"), "No column holds names"));
    CHECK(says(refused("Student ID,Email"), "No column holds names"));
}

TEST_CASE("limits are said") {
    CHECK(says(refused(std::string(exchange::max_roster_bytes + 1, 'x')), "at most 33554432"));
    CHECK(says(refused(std::string(20'000, 'x')), "at most 10000 bytes"));
    CHECK(says(refused("Ana\n" + std::string(300'000, '\n')), "200000 rows"));
    CHECK(says(refused("Lee,Ana\nCox,Bo\n" + std::string(2'000, ',') + "Cy"), "1000 columns"));
}

TEST_CASE("at most 200 warnings are kept, then their number is said") {
    std::string text = "Name,Points\nAna,1\n";
    for (int i = 0; i < 500; ++i)
        text += ",7\n";
    const auto roster = roster_of(text);
    REQUIRE(roster.warnings.size() == 201);
    CHECK(roster.warnings[0].row == 3);
    CHECK(roster.warnings[199].row == 202);
    CHECK(roster.warnings[200].message.find("300 warnings") != std::string::npos);
}

TEST_CASE("names that may come from another code page are pointed out") {
    CHECK(warned(roster_of("Jo\x86o\nAna\n"), 1, "read wrongly"));
    CHECK(roster_of("Jos\xE9\nBj\xF6rn\n").warnings.empty());
    CHECK(roster_of("Jos\xE9\n").encoding == exchange::Encoding::windows_1252);
    CHECK(warned(roster_of("Jos\uFFFD\nAna\n"), 1, "read wrongly"));
    CHECK(roster_of("Jo\u2020o\n").warnings.empty());
}

TEST_CASE("an apostrophe that guards against formulas is taken off again") {
    CHECK(roster_of("Name,ID\n'-Ana,1\n'Ilima,2\n").students[0].name == "-Ana");
    CHECK(roster_of("Name,ID\n'-Ana,1\n'Ilima,2\n").students[1].name == "'Ilima");
}
