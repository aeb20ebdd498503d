#include "exchange/csv.h"

#include <doctest/doctest.h>

#include "../../support/csv_cells.h"

using namespace tallyround;
using exchange::find_separator;
using exchange::no_separator;
using exchange::read_csv;
using testing::cells;
using testing::Table;

namespace {

base::Error error_of(std::string_view text, char separator = ',') {
    const auto rows = read_csv(text, separator);
    REQUIRE_FALSE(rows);
    return rows.error();
}

}  // namespace

TEST_CASE("line ends: LF, CR, CRLF, mixed, with or without the last one") {
    const Table two{{"a", "b"}, {"c", "d"}};
    CHECK(cells("a,b\nc,d\n") == two);
    CHECK(cells("a,b\r\nc,d\r\n") == two);
    CHECK(cells("a,b\rc,d\r") == two);
    CHECK(cells("a,b\r\nc,d") == two);
    CHECK(cells("a\n\r\n\rb") == Table{{"a"}, {""}, {""}, {"b"}});
    CHECK(cells("").empty());
    CHECK(cells("a,") == Table{{"a", ""}});
    CHECK(cells(",") == Table{{"", ""}});
}

TEST_CASE("quoted cells hold separators, line ends and doubled marks") {
    CHECK(cells("\"a,b\",c") == Table{{"a,b", "c"}});
    CHECK(cells("\"a\r\nb\",c\nd") == Table{{"a\r\nb", "c"}, {"d"}});
    CHECK(cells("\"say \"\"hi\"\"\",x") == Table{{"say \"hi\"", "x"}});
    CHECK(cells("\"\",\"\"\"\"") == Table{{"", "\""}});
    CHECK(cells("a, \"b,c\" ,d") == Table{{"a", "b,c", "d"}});
    CHECK(cells("a \"b\" c,d") == Table{{"a \"b\" c", "d"}});
    CHECK(cells("\t\"a\tb\"\t", '\t') == Table{{"", "a\tb", ""}});
    const auto rows = read_csv("\"a\",b", ',');
    REQUIRE(rows);
    CHECK(rows->front().cells[0].quoted);
    CHECK_FALSE(rows->front().cells[1].quoted);
}

TEST_CASE("rows count as in a spreadsheet") {
    const auto rows = read_csv("a\n\n\"b\nc\"\nd", ',');
    REQUIRE(rows);
    REQUIRE(rows->size() == 4);
    CHECK((*rows)[1].blank());
    CHECK((*rows)[3].row == 4);
    CHECK((*rows)[3].cells[0].text == "d");
}

TEST_CASE("quotation marks that do not fit are errors with row and column") {
    const auto open = error_of("a,b\n\nc,\"d\ne,f\n");
    CHECK(open.where == "row 3, column 2");
    CHECK(open.message.find("never closed") != std::string::npos);
    const auto follows = error_of("a,b\n\"c\"d,e\n");
    CHECK(follows.where == "row 2, column 1");
    CHECK(error_of("\"").where == "row 1, column 1");
    CHECK(error_of("\"a\"\"").where == "row 1, column 1");
}

TEST_CASE("without a separator a line is one cell, and a quoted word in it is no quoted cell") {
    CHECK(cells("Lee, Ana;x\ty\n\"Ziggy\" Lee\n\"Lee, Bo\"\n", no_separator) ==
          Table{{"Lee, Ana;x\ty"}, {"\"Ziggy\" Lee"}, {"Lee, Bo"}});
    CHECK(error_of("Ana\n\"Bo\nCy", no_separator).where == "row 2, column 1");
}

TEST_CASE("the separator is found by agreement, quotation marks respected") {
    CHECK(find_separator("a,b\nc,d\n") == ',');
    CHECK(find_separator("a;b\nc;d\n") == ';');
    CHECK(find_separator("a\tb\nc\td\n") == '\t');
    CHECK(find_separator("Name;Mark\nAna;1,5\nBo;2,5\nCy;3,5\n") == ';');
    CHECK(find_separator("Name,Note\nAna,\"x; y\"\nBo,\"z; w\"\n") == ',');
    CHECK(find_separator("Name\tNote\nLee, Ana\tx\nPark, Bo\ty\n") == '\t');
    CHECK(find_separator("\"Lee, Ana\";3\n\"Park, Bo\";4\n") == ';');
    CHECK(find_separator("Name,Note\nAna,likes a; b\nBo,x\nCy,y\n") == ',');
    CHECK(find_separator("Ana\nBo\nLee, Cy\n") == no_separator);
    CHECK(find_separator("") == no_separator);
    CHECK(find_separator("\"Lee, Ana\"\n\"Park, Bo\"\n") == no_separator);
}

TEST_CASE("a first line sep= decides and is left out, but counted") {
    CHECK(find_separator("sep=;\r\na,b;c\r\n") == ';');
    CHECK(find_separator("SEP=\t\na,b\n") == '\t');
    const auto rows = read_csv("sep=;\r\na,b;c\r\n", ';');
    REQUIRE(rows);
    REQUIRE(rows->size() == 1);
    CHECK(rows->front().row == 2);
    CHECK(rows->front().cells[0].text == "a,b");
    CHECK(find_separator("sep=;x\na,b\nc,d\n") == ',');
    CHECK(find_separator("sep=.\na,b\nc,d\n") == ',');
}

TEST_CASE("limits are kept and said") {
    exchange::CsvLimits small;
    small.file_bytes = 100;
    small.rows = 3;
    small.columns = 4;
    small.cell_bytes = 10;
    CHECK(read_csv("a,b,c,d\n1\n2\n", ',', small));
    const auto rows = read_csv("1\n2\n3\n4\n", ',', small);
    REQUIRE_FALSE(rows);
    CHECK(rows.error().where == "row 4");
    CHECK(rows.error().message.find("3 rows") != std::string::npos);
    const auto columns = read_csv("1\na,b,c,d,e\n", ',', small);
    REQUIRE_FALSE(columns);
    CHECK(columns.error().where == "row 2, column 5");
    CHECK(columns.error().message.find("4 columns") != std::string::npos);
    CHECK(read_csv("0123456789", ',', small));
    for (const char* text : {"x,01234567890", "x,\"01234567890\""}) {
        const auto cell = read_csv(text, ',', small);
        REQUIRE_FALSE(cell);
        CHECK(cell.error().where == "row 1, column 2");
        CHECK(cell.error().message.find("10 bytes") != std::string::npos);
    }
    const auto file = read_csv(std::string(101, '\n'), ',', small);
    REQUIRE_FALSE(file);
    CHECK(file.error().message.find("at most 100") != std::string::npos);
}

TEST_CASE("a first line sep= may end in any way, or be all there is") {
    CHECK(find_separator("sep=,") == ',');
    CHECK(find_separator("sep=,\rx;y\r") == ',');
    for (const char* text : {"sep=;", "sep=;\r", "sep=;\n", "sep=;\r\n"}) {
        const auto rows = read_csv(text, ';');
        REQUIRE(rows);
        CHECK(rows->empty());
    }
    const auto rows = read_csv("sep=;\ra;b\r", ';');
    REQUIRE(rows);
    REQUIRE(rows->size() == 1);
    CHECK(rows->front().row == 2);
    CHECK(rows->front().cells.size() == 2);
}
