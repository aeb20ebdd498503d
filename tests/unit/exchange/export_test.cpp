#include "exchange/export.h"

#include <doctest/doctest.h>
#include <limits>

#include "../../support/csv_cells.h"
#include "export_check.h"
#include "record/fold.h"

using namespace tallyround;
using namespace tallyround::exchange;
using namespace tallyround::record;
using testing::cells;
using testing::options;

namespace {

const ClassId cls("c1");
const BlockId block("b1");

model::State some_state() {
    std::vector<Body> bodies{
        ClassMade{cls, "6b, Room \"2\"", 6},
        StudentAdded{cls, StudentId("s1"), "Zoë =1+1", "00017"},
        StudentAdded{cls, StudentId("s2"), "=HYPERLINK(\"x\")", ""},
        StudentAdded{cls, StudentId("s3"), "No Marks", ""},
        OwnSkillSet{cls, SkillId("own"), "Ana's extra", 6},
        BlockMade{cls, block, "Fractions"},
        CenterSet{cls, block, CenterId("k1"), "no-such-kind", SkillId("own"), "By the window", "",
                  ""},
        TimeSet{
            cls, block, {{{2026, 12, 1}, 550, 605}, {{2026, 12, 2}, 605, 550}}, {3, 12, 2, 3, 4}},
        Marked{cls, block, StudentId("s2"), SkillId("own"), CenterId("k1"), 1, Level::stuck,
               Help::hint},
        Marked{cls, block, StudentId("s2"), SkillId("own"), CenterId("k1"), 2, Level::secure, {}},
        Marked{cls, {}, StudentId("s1"), SkillId("bank"), {}, 0, Level::shaky, {}},
    };
    std::vector<Event> events;
    for (Body& body : bodies) {
        const auto n = events.size() + 1;
        // 2026-12-01T09:15:30Z is 1796116530 by `date -u -d @1796116530`.
        events.push_back({{1'796'116'530'000, static_cast<std::uint32_t>(n), ReplicaId("r"), n},
                          std::move(body),
                          ""});
    }
    return fold(events);
}

}  // namespace

TEST_CASE("marks go out one a row, with formulas made harmless") {
    const auto rows = cells(marks_csv(some_state(), options(false)));
    REQUIRE(rows.size() == 4);
    CHECK(rows[1] == std::vector<std::string>{
                         "6b, Room \"2\"", "'=HYPERLINK(\"x\")", "", "2026-12-01T09:15:30Z",
                         "Fractions", "1", "By the window", "own", "Ana's extra", "stuck", "hint"});
    CHECK(rows[3] == std::vector<std::string>{"6b, Room \"2\"", "Zoë =1+1", "00017",
                                              "2026-12-01T09:15:30Z", "", "", "", "bank",
                                              "Of the bank", "shaky", "none"});
}

TEST_CASE("the summary counts by student and skill") {
    const auto rows = cells(summary_csv(some_state(), options(false)));
    REQUIRE(rows.size() == 3);
    CHECK(rows[0][5] == "marks");
    CHECK(rows[1][1] == "Zoë =1+1");
    CHECK(rows[2] == std::vector<std::string>{"6b, Room \"2\"", "'=HYPERLINK(\"x\")", "", "own",
                                              "Ana's extra", "2", "1", "0", "1", "1", "secure",
                                              "2026-12-01T09:15:30Z"});
}

TEST_CASE("with pseudonyms nothing that a person wrote goes out") {
    const model::State state = some_state();
    for (const std::string& text :
         {marks_csv(state, options(true)), summary_csv(state, options(true)),
          calendar_of(state, options(true), 0)}) {
        for (const char* secret :
             {"Zo", "HYPERLINK", "Room", "00017", "Ana", "window", "Fractions"})
            CHECK_MESSAGE(text.find(secret) == std::string::npos, secret);
    }
    const auto rows = cells(marks_csv(state, options(true)));
    CHECK(rows[1][0] == "Class 1");
    CHECK(rows[1][1].starts_with("Student 0"));
    CHECK(rows[1][1] == rows[2][1]);
    CHECK(rows[1][1] != rows[3][1]);
    CHECK(rows[1][4] == "Block 1");
    CHECK(rows[3][8] == "Of the bank");
    CHECK(marks_csv(state, options(true)) == marks_csv(state, options(true)));
}

TEST_CASE("the calendar has an entry a usable period, with its rounds") {
    const std::string text = calendar_of(some_state(), options(false), 1'796'116'530'000);
    CHECK(text.find("DTSTART:20261201T091000\r\n") != std::string::npos);
    CHECK(text.find("DTEND:20261201T100500\r\n") != std::string::npos);
    CHECK(text.find("DTSTAMP:20261201T091530Z\r\n") != std::string::npos);
    CHECK(text.find("Round 1: 09:13-09:25") != std::string::npos);
    CHECK(text.find("20261202") == std::string::npos);
    CHECK(text.find("Zo") == std::string::npos);
    CHECK(calendar_of({}, options(false), 0).empty());
}

TEST_CASE("times are written as ISO 8601 in UTC") {
    // Values of `date -u -d @N +%FT%TZ` (GNU coreutils).
    CHECK(utc_text(0) == "1970-01-01T00:00:00Z");
    CHECK(utc_text(951'782'400'999) == "2000-02-29T00:00:00Z");
    CHECK(utc_text(-1) == "1969-12-31T23:59:59Z");
    CHECK(utc_text(253'402'300'799'999) == "9999-12-31T23:59:59Z");
    CHECK(utc_text(std::numeric_limits<std::int64_t>::max()) == "9999-12-31T23:59:59Z");
}

TEST_CASE("the calendar passes over periods that cannot be, closed centers and put away classes") {
    model::State state = some_state();
    model::Block& b = state.classes[0].blocks[0];
    const model::Period good = b.periods[0];
    for (const auto& [year, start, end] : {std::tuple{2026, -5, 20},
                                           {2026, 600, 600},
                                           {2026, 1400, 1441},
                                           {0, 550, 605},
                                           {10'000, 550, 605}}) {
        b.periods = {{{year, 12, 1}, start, end, {}}};
        CHECK(calendar_of(state, options(false), 0).empty());
    }
    b.periods = {good};
    CHECK(calendar_of(state, options(false), 0).find("By the window") != std::string::npos);
    b.centers[0].closed = true;
    CHECK(calendar_of(state, options(false), 0).find("By the window") == std::string::npos);
    state.classes[0].archived = true;
    CHECK(calendar_of(state, options(false), 0).empty());
}

TEST_CASE("rounds lie around the break of a period and in the period they belong to") {
    model::State state = some_state();
    model::Block& b = state.classes[0].blocks[0];
    b.centers[0].skill = {};
    b.timing = {2, 12, 2, 0, 0};
    // 09:10 to 10:05 with a break from 09:20: no round of twelve minutes fits before it.
    b.periods = {{{2026, 12, 1}, 550, 605, {{560, 570}}}};
    const std::string text = calendar_of(state, options(false), 0);
    CHECK(text.find("Round 1: 09:30-09:42") != std::string::npos);
    CHECK(text.find("By the window\\n") != std::string::npos);  // without a skill no colon

    b.periods = {{{2026, 12, 1}, 550, 565, {}}, {{2026, 12, 2}, 550, 565, {}}};
    const std::string two = calendar_of(state, options(false), 0);
    const auto second = two.find("20261202");
    REQUIRE(second != std::string::npos);
    CHECK(two.find("Round 1") < second);
    CHECK(two.find("Round 2") > second);
    CHECK(two.find("Round 1", second) == std::string::npos);

    b.timing.rounds = 50;  // more than fit: the entry is there, without times that are not true
    CHECK(calendar_of(state, options(false), 0).find("DTSTART:20261201T091000") !=
          std::string::npos);
}
