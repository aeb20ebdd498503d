#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tallyround::base {

/// A day of the proleptic Gregorian calendar, without a time zone.
struct Date {
    int year = 1970;
    int month = 1;
    int day = 1;
    friend auto operator<=>(const Date&, const Date&) = default;
};

/// Days from 1970-01-01 (std::chrono's civil calendar; ISO 8601 dates).
std::int64_t days_from_civil(const Date& date);
Date civil_from_days(std::int64_t days);

/// "2026-12-01" with a day that exists, or nothing.
std::optional<Date> parse_date(std::string_view text);
std::string to_text(const Date& date);

/// 0 = Monday … 6 = Sunday (ISO 8601).
int weekday(const Date& date);
/// "Tue 1 Dec": short and in plain English, for screens.
std::string short_day(const Date& date);

/// Seconds after midnight from "HH:MM" or "HH:MM:SS" (00:00 … 23:59:59, also 24:00), or nothing.
std::optional<int> parse_clock(std::string_view text);
/// "HH:MM", or "HH:MM:SS" when the seconds are not zero.
std::string clock_text(int seconds_after_midnight);

}  // namespace tallyround::base
