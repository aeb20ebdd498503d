#include "exchange/calendar.h"

#include <algorithm>
#include <cassert>
#include <string_view>

#include "base/text.h"

namespace tallyround::exchange {

namespace {

constexpr int day_seconds = 86'400;

std::string two(int value) {
    return (value < 10 ? "0" : "") + std::to_string(value);
}

/// "20261201T091300"; 24:00 is 00:00 of the next day.
std::string date_time(const base::Date& day, int seconds) {
    const auto date = base::civil_from_days(base::days_from_civil(day) + seconds / day_seconds);
    const int s = seconds % day_seconds;
    std::string out;
    for (const char c : base::to_text(date)) {
        if (c != '-') out += c;
    }
    return out + "T" + two(s / 3600) + two(s / 60 % 60) + two(s % 60);
}

/// TEXT of RFC 5545 3.3.11: backslash, semicolon, comma and line end escaped.
std::string escaped(std::string_view text) {
    std::string out;
    for (std::size_t at = 0; at < text.size();) {
        const bool after_return = at > 0 && text[at - 1] == '\r';
        const char32_t c = base::next_code_point(text, at);
        if (c == '\r' || (c == '\n' && !after_return)) {
            out += "\\n";
        } else if (c == '\\' || c == ';' || c == ',') {
            out += '\\';
            out += static_cast<char>(c);
        } else if (c == '\t' || (c >= 0x20 && c != 0x7F && (c < 0x80 || c > 0x9F))) {
            base::append_utf8(out, c);
        }
    }
    return out;
}

/// One content line, folded. A line holds 74 octets of content at most, so that one that goes on
/// after a fold, with its leading space, has 75 (3.1).
void append_line(std::string& out, std::string_view line) {
    static constexpr std::size_t limit = 74;
    const auto in_character = [&](std::size_t at) {
        return (static_cast<unsigned char>(line[at]) & 0xC0U) == 0x80U;
    };
    while (line.size() > limit) {
        std::size_t cut = limit;
        while (in_character(cut))
            --cut;
        out.append(line.substr(0, cut)).append("\r\n ");
        line.remove_prefix(cut);
    }
    out.append(line).append("\r\n");
}

void append_text(std::string& out, std::string_view property, std::string_view value) {
    if (!value.empty()) append_line(out, std::string(property) + ":" + escaped(value));
}

void append_event(std::string& out, const CalendarEvent& event, const std::string& stamp) {
    assert(!event.uid.empty());
    assert(0 <= event.start_seconds && event.start_seconds < event.end_seconds &&
           event.end_seconds <= day_seconds);
    append_line(out, "BEGIN:VEVENT");
    append_text(out, "UID", event.uid);
    append_line(out, "DTSTAMP:" + stamp);
    append_line(out, "DTSTART:" + date_time(event.date, event.start_seconds));
    append_line(out, "DTEND:" + date_time(event.date, event.end_seconds));
    append_text(out, "SUMMARY", event.summary);
    append_text(out, "DESCRIPTION", event.description);
    append_text(out, "LOCATION", event.location);
    append_line(out, "END:VEVENT");
}

}  // namespace

std::string calendar_text(const std::vector<CalendarEvent>& events, const CalendarStamp& stamp) {
    std::string out;
    if (events.empty()) return out;
    append_line(out, "BEGIN:VCALENDAR");
    append_line(out, "VERSION:2.0");
    append_line(out, "PRODID:-//Tallyround//Tallyround 1//EN");
    append_line(out, "CALSCALE:GREGORIAN");
    const std::string stamp_text = date_time(stamp.date, stamp.seconds) + "Z";
    for (const auto& event : events)
        append_event(out, event, stamp_text);
    append_line(out, "END:VCALENDAR");
    return out;
}

}  // namespace tallyround::exchange
