#include "base/civil.h"

#include <array>
#include <chrono>

namespace tallyround::base {

namespace {

using std::chrono::sys_days;
using std::chrono::year_month_day;

year_month_day ymd(const Date& d) {
    return year_month_day{std::chrono::year{d.year}, std::chrono::month{unsigned(d.month)},
                          std::chrono::day{unsigned(d.day)}};
}

/// Two or more digits only, as a number; -1 for anything else.
int digits(std::string_view text) {
    if (text.empty()) return -1;
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return -1;
        value = value * 10 + (c - '0');
    }
    return value;
}

std::string two(int value) {
    return (value < 10 ? "0" : "") + std::to_string(value);
}

}  // namespace

std::int64_t days_from_civil(const Date& date) {
    return sys_days{ymd(date)}.time_since_epoch().count();
}

Date civil_from_days(std::int64_t days) {
    const year_month_day d{sys_days{std::chrono::days{days}}};
    return {int(d.year()), int(unsigned(d.month())), int(unsigned(d.day()))};
}

std::optional<Date> parse_date(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const Date d{digits(text.substr(0, 4)), digits(text.substr(5, 2)), digits(text.substr(8, 2))};
    if (d.year < 1 || d.month < 1 || d.day < 1 || !ymd(d).ok()) return std::nullopt;
    return d;
}

std::string to_text(const Date& date) {
    std::string year = std::to_string(date.year);
    year.insert(0, year.size() < 4 ? 4 - year.size() : 0, '0');
    return year + "-" + two(date.month) + "-" + two(date.day);
}

int weekday(const Date& date) {
    return int(std::chrono::weekday{sys_days{ymd(date)}}.iso_encoding()) - 1;
}

std::string short_day(const Date& date) {
    static constexpr std::array<const char*, 7> days{"Mon", "Tue", "Wed", "Thu",
                                                     "Fri", "Sat", "Sun"};
    static constexpr std::array<const char*, 12> months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    return std::string(days[std::size_t(weekday(date))]) + " " + std::to_string(date.day) + " " +
           months[std::size_t(date.month - 1)];
}

std::optional<int> parse_clock(std::string_view text) {
    if ((text.size() != 5 && text.size() != 8) || text[2] != ':') return std::nullopt;
    if (text.size() == 8 && text[5] != ':') return std::nullopt;
    const int h = digits(text.substr(0, 2));
    const int m = digits(text.substr(3, 2));
    const int s = text.size() == 8 ? digits(text.substr(6, 2)) : 0;
    if (h < 0 || m < 0 || s < 0 || m > 59 || s > 59) return std::nullopt;
    const int total = h * 3600 + m * 60 + s;
    if (total > 24 * 3600) return std::nullopt;
    return total;
}

std::string clock_text(int seconds) {
    const std::string hm = two(seconds / 3600) + ":" + two(seconds / 60 % 60);
    return seconds % 60 == 0 ? hm : hm + ":" + two(seconds % 60);
}

}  // namespace tallyround::base
