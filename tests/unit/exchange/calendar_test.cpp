#include "exchange/calendar.h"

#include <doctest/doctest.h>

#include "base/text.h"

using namespace tallyround;
using exchange::calendar_text;
using exchange::CalendarEvent;

namespace {

const exchange::CalendarStamp stamp{{2026, 11, 25}, 8 * 3600 + 5 * 60 + 7};

CalendarEvent event_of(std::string summary) {
    CalendarEvent event;
    event.uid = "r1";
    event.summary = std::move(summary);
    event.date = {2026, 12, 1};
    event.start_seconds = 9 * 3600 + 13 * 60;
    event.end_seconds = 9 * 3600 + 25 * 60;
    return event;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find("\r\n", at);
        REQUIRE(end != std::string::npos);
        lines.push_back(text.substr(at, end - at));
        at = end + 2;
    }
    return lines;
}

std::string unfolded(std::string text) {
    for (std::size_t at = 0; (at = text.find("\r\n ", at)) != std::string::npos;)
        text.erase(at, 3);
    return text;
}

bool has_line(const std::string& text, const std::string& line) {
    return unfolded(text).find("\r\n" + line + "\r\n") != std::string::npos;
}

}  // namespace

TEST_CASE("one event, to the byte") {
    auto event = event_of("Round 1");
    event.description = "G1 at Fractions";
    event.location = "Room 6";
    CHECK(calendar_text({event}, stamp) ==
          "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Tallyround//Tallyround 1//EN\r\n"
          "CALSCALE:GREGORIAN\r\nBEGIN:VEVENT\r\nUID:r1\r\nDTSTAMP:20261125T080507Z\r\n"
          "DTSTART:20261201T091300\r\nDTEND:20261201T092500\r\nSUMMARY:Round 1\r\n"
          "DESCRIPTION:G1 at Fractions\r\nLOCATION:Room 6\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
}

TEST_CASE("no events, no calendar") {
    CHECK(calendar_text({}, stamp).empty());
}

TEST_CASE("24:00 is midnight of the next day, also over the end of a year") {
    auto event = event_of("Late");
    event.date = {2026, 12, 31};
    event.end_seconds = 86'400;
    CHECK(has_line(calendar_text({event}, stamp), "DTEND:20270101T000000"));
}

TEST_CASE("text is escaped and control characters are left out") {
    const auto text = calendar_text({event_of("a,b;c\\d\r\ne\nf\rg\x01\x7F\u0085h\ti")}, stamp);
    CHECK(has_line(text, "SUMMARY:a\\,b\\;c\\\\d\\ne\\nf\\ngh\ti"));
    // Text cannot start a property of its own.
    const auto sly = calendar_text({event_of("x\r\nATTACH:file")}, stamp);
    CHECK(has_line(sly, "SUMMARY:x\\nATTACH:file"));
}

TEST_CASE("lines have at most 75 octets and are folded between characters") {
    for (const char* unit : {"x", "é", "\u20AC", "\U0001F600", "a\u0301"}) {
        for (std::size_t n = 20; n < 120; ++n) {
            std::string summary;
            for (std::size_t i = 0; i < n; ++i)
                summary += unit;
            const auto text = calendar_text({event_of(summary)}, stamp);
            for (const auto& line : lines_of(text)) {
                REQUIRE(line.size() <= 75);
                REQUIRE(base::is_utf8(line));
            }
            REQUIRE(has_line(text, "SUMMARY:" + summary));
        }
    }
}
