// The calendar writer against RFC 5545 and, through a file, against another parser: the file
// data/exchange/calendar_sample.ics must be exactly what is written here, and calendar_check.py
// reads it with python3-icalendar.
#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

#include "exchange/calendar.h"

using namespace tallyround;

namespace {

std::vector<exchange::CalendarEvent> sample() {
    std::vector<exchange::CalendarEvent> events(3);
    events[0].uid = "block-1-round-1";
    events[0].summary = "Round 1: fractions, decimals; G1 \\ G2";
    events[0].description =
        "Ana Łuczak, Νίκη Παπαδοπούλου, فاطمة الزهراء, 山田太郎, 김민준 and everybody else in the "
        "group\nBring: cards";
    events[0].location = "Room 6, east";
    events[0].date = {2026, 12, 1};
    events[0].start_seconds = 9 * 3600 + 13 * 60;
    events[0].end_seconds = 9 * 3600 + 25 * 60 + 30;
    events[1].uid = "block-1-round-2";
    events[1].summary = std::string(100, 'x');
    events[1].date = {2028, 2, 29};
    events[1].end_seconds = 60;
    events[2].uid = "block-1-round-3";
    events[2].summary = "Ends at midnight";
    events[2].date = {2026, 12, 31};
    events[2].start_seconds = 23 * 3600;
    events[2].end_seconds = 24 * 3600;
    return events;
}

std::string written() {
    return exchange::calendar_text(sample(), {{2026, 11, 25}, 8 * 3600});
}

}  // namespace

TEST_CASE("a summary of 100 x is folded where python3-icalendar folds it: 74 + 35 octets") {
    const std::string text = written();
    const std::size_t first = text.find("SUMMARY:xxx");
    REQUIRE(first != std::string::npos);
    const std::size_t second = text.find("\r\n", first) + 2;
    const std::size_t third = text.find("\r\n", second);
    CHECK(second - 2 - first == 74);
    CHECK(third - second == 35);
    CHECK(text[second] == ' ');
}

TEST_CASE("the sample that calendar_check.py reads is what the writer writes") {
    std::ifstream in(TALLYROUND_TEST_DATA "/exchange/calendar_sample.ics", std::ios::binary);
    const std::string file{std::istreambuf_iterator<char>(in), {}};
    CHECK(file == written());
}

TEST_CASE("RFC 5545 3.3.11: the escaped form of its example") {
    // The standard's example (from memory): three lines and a comma-free text as one TEXT value.
    exchange::CalendarEvent event;
    event.uid = "1";
    event.summary = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared.";
    event.end_seconds = 1;
    std::string text = exchange::calendar_text({event}, {});
    for (std::size_t at = 0; (at = text.find("\r\n ", at)) != std::string::npos;)
        text.erase(at, 3);
    CHECK(
        text.find("SUMMARY:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.\r\n") !=
        std::string::npos);
}
