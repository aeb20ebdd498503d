#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "model/state.h"

/// What leaves the app for other programs: marks and counts as CSV, bell times as a calendar.
namespace tallyround::exchange {

struct ExportOptions {
    /// Nothing a person wrote goes out: students are "Student 01", "Student 02" …, classes and
    /// blocks are numbered, centers are named by their kind and own skills by their id alone. The
    /// numbers follow a hash of the students' ids, so they say nothing about the class list, and
    /// are the same whenever the same record is written. A small class can still be guessed at.
    bool pseudonyms = false;
    /// Title of a skill of the built-in bank; empty for others. May be empty itself.
    std::function<std::string(std::string_view skill)> skill_title = {};
};

/// To be said wherever marks leave the app: they are a teacher's own memory aid and may become
/// education records once shared (34 CFR 99.3, "sole possession" and "education records").
std::string_view sharing_caution();

/// One row a mark, in the record's order: class, student, student_id, time_utc (ISO 8601), block,
/// round (empty outside one), center, skill, skill_title, level, help. `student_id` is the school's
/// own number, empty with pseudonyms. RFC 4180, formulas made harmless (csv_out.h).
std::string marks_csv(const model::State& state, const ExportOptions& options);

/// One row a student and skill with marks: class, student, student_id, skill, skill_title, marks,
/// secure, shaky, stuck, with_help, last_level, last_utc. By class, then student in the order of
/// the class (of the numbers with pseudonyms), then skill. Counts only: an estimate taken out of
/// its context would read like a verdict.
std::string summary_csv(const model::State& state, const ExportOptions& options);

/// Every mark as a statement of the Experience API (IEEE 9274.1.1-2023): a JSON array, one
/// statement a line, in the record's order. The actor is an account whose home is the class and
/// whose name is "student-01" …, or the school's own number and the student's name without
/// pseudonyms. `success` is true for secure, false for stuck and left out for shaky; the level and
/// help themselves are extensions. There is no score: a look is none. Ids are UUIDs of version 8
/// from the mark, the same whenever it is written; every IRI is a urn, none names a server.
std::string marks_xapi(const model::State& state, const ExportOptions& options);

/// The year of one teacher for a school's database: one row a mark with keys that stay the same
/// from file to file, so that rows that come twice can be told (assets/archive/README.md lists the
/// columns and has queries). RFC 4180, formulas made harmless.
std::string archive_csv(const model::State& state, const ExportOptions& options);

/// One entry a period of every block of the classes that are not archived (iCalendar, calendar.h),
/// with the rounds that fall into it and the centers. `written_ms` is UTC; the record's newest
/// stamp keeps it the same for the same record. Periods that end before they start are left out;
/// empty when no period is left. Names no student.
std::string calendar_of(const model::State& state, const ExportOptions& options,
                        std::int64_t written_ms);

/// A UUID of version 8 (RFC 9562, 5.8) from a hash of the name.
std::string uuid_of(const std::string& name);

/// "2026-12-01T09:15:30Z" of milliseconds since 1970, UTC; years 0000 to 9999.
std::string utc_text(std::int64_t ms);

}  // namespace tallyround::exchange
