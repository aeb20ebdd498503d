#include "session/board.h"

#include <algorithm>

#include "base/civil.h"
#include "session/derived.h"
#include "session/pace.h"
#include "session/prep.h"

namespace tallyround::session {

using namespace model;  // NOLINT: the model's words throughout

namespace {

constexpr std::int64_t day_ms = 24 * 3'600'000LL;

/// Fills the rows: at `round` now, at the round after it next.
void put_rows(const Class& cls, const Block& block, int round, bool has_next, BoardPicture& out) {
    out.has_next = has_next;
    for (int g = 0; g < int(block.groups.size()); ++g) {
        BoardPicture::Row row;
        row.group = g;
        row.now = center_at(block, g, round);
        if (has_next) row.next = center_at(block, g, round + 1);
        for (const StudentId& id : block.groups[std::size_t(g)]) {
            if (const Student* s = cls.student(id)) row.names.push_back(s->name);
        }
        out.rows.push_back(std::move(row));
    }
}

std::string round_words(int round) {
    return "round " + std::to_string(round);
}

void put_lesson(const Class& cls, const Block& block, std::int64_t now_ms, BoardPicture& out) {
    const Lesson& lesson = block.lesson;
    const int last = last_round_today(block);
    out.counting = true;
    out.paused = lesson.paused();
    out.left_ms = left_ms(lesson, now_ms);
    int round = std::max(1, lesson.round);
    switch (lesson.phase) {
        case Phase::opening:
            round = lesson.first_round;
            out.title = "We start";
            out.doing = "start at";
            break;
        case Phase::moving:
            out.title = "Move to " + round_words(round);
            out.doing = "go to";
            break;
        case Phase::closing:
            out.title = "Tidy up";
            out.doing = "tidy up";
            break;
        default:
            out.title = "Round " + std::to_string(round) + " of " + std::to_string(last);
    }
    const bool more = round < last && lesson.phase != Phase::closing;
    put_rows(cls, block, round, more, out);
}

/// By the bell: the round that runs now, or the next one of today; false when today has none left.
bool put_plan(const Class& cls, const Block& block, std::int64_t now_ms, int utc_offset_minutes,
              BoardPicture& out) {
    const std::int64_t local = now_ms + std::int64_t{utc_offset_minutes} * 60'000;
    const std::int64_t day = local >= 0 ? local / day_ms : (local - day_ms + 1) / day_ms;
    const base::Date today = base::civil_from_days(day);
    const std::int64_t in_day = local - day * day_ms;
    const Fitted fit = fit_block(block);
    for (std::size_t i = 0; i < fit.rounds.size(); ++i) {
        const RoundTime& r = fit.rounds[i];
        if (r.date != today || r.end_second * 1000LL <= in_day) continue;
        if (r.number > int(round_count(block))) return false;
        const bool runs = r.start_second * 1000LL <= in_day;
        out.by_plan = true;
        out.counting = true;
        out.left_ms = (runs ? r.end_second : r.start_second) * 1000LL - in_day;
        out.title =
            runs ? "Round " + std::to_string(r.number)
                 : "Round " + std::to_string(r.number) + " at " + base::clock_text(r.start_second);
        out.doing = runs ? "" : "go to";
        const bool more = i + 1 < fit.rounds.size() && fit.rounds[i + 1].date == today &&
                          r.number < int(round_count(block));
        put_rows(cls, block, r.number, more, out);
        return true;
    }
    return false;
}

}  // namespace

BoardPicture board_picture(const Class& cls, const Block& block, std::int64_t now_ms,
                           int utc_offset_minutes) {
    BoardPicture out;
    out.title = cls.name;
    if (round_count(block) == 0) return out;
    if (block.lesson.running()) {
        put_lesson(cls, block, now_ms, out);
        return out;
    }
    if (put_plan(cls, block, now_ms, utc_offset_minutes, out)) return out;
    const auto [first, last] = next_rounds(block);
    if (first == 0) {
        out.title = "All rounds are done";
        return out;
    }
    out.title = "Next: " + round_words(first);
    out.doing = "start at";
    put_rows(cls, block, first, first < last, out);
    return out;
}

}  // namespace tallyround::session
