#pragma once
#include <string>
#include <vector>

#include "base/civil.h"

namespace tallyround::exchange {

/// One entry of a calendar. Times are seconds after midnight of `date`, local to wherever the
/// calendar is read: 0 <= start < end <= 86400 (24:00 is written as midnight of the next day).
/// Texts are UTF-8; `description` and `location` are left out when empty. `uid` must differ from
/// every other entry's and stay the same when the entry is written again.
struct CalendarEvent {
    std::string uid;
    std::string summary;
    std::string description;
    std::string location;
    base::Date date;
    int start_seconds = 0;
    int end_seconds = 0;
};

/// When the calendar was written, in UTC (DTSTAMP).
struct CalendarStamp {
    base::Date date;
    int seconds = 0;
};

/// An iCalendar file (RFC 5545): floating local times (form 1 of 3.3.5, no time zone), CRLF line
/// ends, lines of at most 75 octets folded between characters (3.1), text escaped (3.3.11),
/// control characters other than line ends left out. Empty when there are no events, because a
/// calendar must have at least one component (3.4).
std::string calendar_text(const std::vector<CalendarEvent>& events, const CalendarStamp& stamp);

}  // namespace tallyround::exchange
