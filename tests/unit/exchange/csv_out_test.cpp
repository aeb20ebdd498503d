#include "exchange/csv_out.h"

#include <doctest/doctest.h>

#include "exchange/csv.h"

using namespace tallyround;
using exchange::csv_cell;
using exchange::csv_text;

TEST_CASE("cells are quoted only when they must be") {
    CHECK(csv_cell("") == "");
    CHECK(csv_cell("Ana Lee") == "Ana Lee");
    CHECK(csv_cell("Lee, Ana") == "\"Lee, Ana\"");
    CHECK(csv_cell("say \"hi\"") == "\"say \"\"hi\"\"\"");
    CHECK(csv_cell("two\nlines") == "\"two\nlines\"");
    CHECK(csv_cell("a;b") == "\"a;b\"");
    CHECK(csv_cell("a\tb") == "\"a\tb\"");
    CHECK(csv_cell(" a") == "\" a\"");
    CHECK(csv_cell("a ") == "\"a \"");
    CHECK(csv_cell("Οδυσσέας") == "Οδυσσέας");
}

TEST_CASE("what a spreadsheet would run as a formula is made harmless") {
    CHECK(csv_cell("=1+1") == "'=1+1");
    CHECK(csv_cell("+cmd") == "'+cmd");
    CHECK(csv_cell("-x") == "'-x");
    CHECK(csv_cell("@SUM(A1)") == "'@SUM(A1)");
    CHECK(csv_cell("\t=1") == "\"'\t=1\"");
    CHECK(csv_cell("\rx") == "\"'\rx\"");
    CHECK(csv_cell("  =1") == "'  =1");
    CHECK(csv_cell("\n=1") == "\"'\n=1\"");
    CHECK(csv_cell("\u00A0=1") == "'\u00A0=1");
    CHECK(csv_cell("\uFEFF=1") == "'\uFEFF=1");
    CHECK(csv_cell("\uFF1D1") == "'\uFF1D1");
    CHECK(csv_cell("=HYPERLINK(\"x\",\"y\")") == "\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\"");
    CHECK(csv_cell("-1+2") == "'-1+2");
    CHECK(csv_cell("-") == "'-");
    CHECK(csv_cell("-.") == "'-.");
    CHECK(csv_cell("1=1") == "1=1");
}

TEST_CASE("plain numbers stay numbers") {
    for (const char* number : {"-3", "+4.5", "-0.25", "1e-3", "-1.5E+10", "-.5", "-5."}) {
        CHECK(csv_cell(number) == number);
    }
    CHECK(csv_cell("-1e") == "'-1e");
    CHECK(csv_cell("-1 ") == "\"'-1 \"");
    CHECK(csv_cell("-1,5") == "\"'-1,5\"");
}

TEST_CASE("rows end in CRLF and read back as they were") {
    const std::vector<std::vector<std::string>> rows{
        {"name", "note"}, {"Lee, Ana", "two\r\nlines"}, {"\"", ""}, {"", "x;y"}};
    const std::string text = csv_text(rows);
    CHECK(text.starts_with("name,note\r\n\"Lee, Ana\","));
    CHECK(text.ends_with("\r\n"));
    const auto back = exchange::read_csv(text, ',');
    REQUIRE(back);
    REQUIRE(back->size() == rows.size());
    for (std::size_t r = 0; r < rows.size(); ++r) {
        REQUIRE((*back)[r].cells.size() == rows[r].size());
        for (std::size_t c = 0; c < rows[r].size(); ++c)
            CHECK((*back)[r].cells[c].text == rows[r][c]);
    }
    CHECK(csv_text({}) == "");
}

TEST_CASE("what looks like a space in any script does not hide a formula") {
    for (const char* space : {"\u2003", "\u200B", "\u3000", "\x0B"})
        CHECK(csv_cell(space + std::string("=1")) == "'" + std::string(space) + "=1");
    for (const char* sign : {"\uFF0B", "\uFF0D", "\uFF20", "\uFF1D"})
        CHECK(csv_cell(sign + std::string("1")) == "'" + std::string(sign) + "1");
    CHECK(csv_cell("\u2014 none") == "\u2014 none");  // a dash is no sign
    CHECK(csv_cell("\x01x") == "\x01x");
    CHECK(csv_cell("\u3000") == "\u3000");
    CHECK(csv_cell("   ") == "\"   \"");
}
