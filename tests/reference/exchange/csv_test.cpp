// The forms of RFC 4180 section 2, read and written (its examples, from memory).
#include <doctest/doctest.h>

#include "../../support/csv_cells.h"
#include "exchange/csv.h"
#include "exchange/csv_out.h"

using namespace tallyround;
using testing::cells;
using testing::Table;

TEST_CASE("rules 1 to 7 of RFC 4180") {
    const Table two{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
    CHECK(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == two);
    CHECK(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx") == two);
    CHECK(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == two);
    const Table line_end{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}};
    CHECK(cells("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") == line_end);
    const Table mark{{"aaa", "b\"bb", "ccc"}};
    CHECK(cells("\"aaa\",\"b\"\"bb\",\"ccc\"") == mark);
    CHECK(exchange::csv_text(line_end) == "aaa,\"b\r\nbb\",ccc\r\nzzz,yyy,xxx\r\n");
    CHECK(exchange::csv_text(mark) == "aaa,\"b\"\"bb\",ccc\r\n");
}
