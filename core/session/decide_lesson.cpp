#include <algorithm>

#include "base/text.h"
#include "session/derived.h"
#include "session/pace.h"
#include "session/parts.h"
#include "session/procedures.h"

namespace tallyround::session {

namespace {

std::int64_t in_minutes(std::int64_t now_ms, int minutes) {
    return now_ms + std::int64_t{minutes} * 60'000;
}

base::Result<Spot> running_lesson(const Context& ctx, const ClassId& cls, const BlockId& block) {
    const auto spot = open_block(ctx, cls, block);
    if (!spot) return pass(spot);
    if (!spot->block->lesson.running()) {
        return base::fail("Lesson", "No lesson is running. Start it first.");
    }
    return spot;
}

/// What has to be there before a lesson can start.
base::Result<bool> ready_to_start(const Class& cls, const Block& block) {
    const std::string where = "Lesson";
    if (cls.current_block() != &block) {
        return base::fail(where, block.title + " is an earlier block. Start the lesson of " +
                                     cls.current_block()->title + ".");
    }
    if (block.lesson.running()) return base::fail(where, "The lesson is running already.");
    const bool seated = std::any_of(block.groups.begin(), block.groups.end(),
                                    [](const auto& group) { return !group.empty(); });
    if (!seated) return base::fail(where, "There are no groups yet. Make the groups first.");
    const bool charted = !block.chart.empty() && !block.chart.front().empty();
    if (!charted) return base::fail(where, "There is no chart yet. Make the chart first.");
    if (block.rounds_done >= int(block.chart.front().size())) {
        return base::fail(where, "All " + std::to_string(block.rounds_done) +
                                     " rounds are done. Plan more rounds or make a new block.");
    }
    return true;
}

record::PhaseBegan working(const Spot& spot, int round, std::int64_t now_ms) {
    return {spot.cls->id, spot.block->id, Phase::working, round,
            now_ms + round_length_ms(*spot.block)};
}

std::string round_text(int round) {
    return "Round " + std::to_string(round) + ".";
}

/// The end of a day's lesson: nobody waits any more, and whoever was absent counts as present the
/// next day.
Decision ending(const Spot& spot) {
    const Block& block = *spot.block;
    Decision decision{{record::LessonEnded{spot.cls->id, block.id}}, "The lesson has ended.", {}};
    for (const Flag& flag : spot.cls->flags)
        decision.events.push_back(record::FlagSet{spot.cls->id, flag.student, false});
    const bool in_round = block.lesson.phase == Phase::working;
    const int done = in_round ? std::max(block.rounds_done, block.lesson.round) : block.rounds_done;
    const int left = block.chart.empty() ? 0 : int(block.chart.front().size()) - done;
    if (left <= 0) return decision;
    for (const StudentId& student : block.absent)
        decision.events.push_back(record::AbsenceSet{spot.cls->id, block.id, student, false});
    decision.said += " " + base::count_of(std::size_t(left), "round is", "rounds are") +
                     " left for another day.";
    return decision;
}

}  // namespace

Answer on(const Context& ctx, const SetAbsent& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto student = student_in(*spot->cls, wish.student);
    if (!student) return pass(student);
    if ((*student)->left) {
        return base::fail("Student", (*student)->name + " has left the class.");
    }
    if (is_absent(*spot->block, wish.student) == wish.absent) return Decision{};
    Decision decision{{record::AbsenceSet{wish.cls, wish.block, wish.student, wish.absent}},
                      (*student)->name + (wish.absent ? " is absent." : " is here."),
                      {}};
    const auto& flags = spot->cls->flags;
    const bool waiting = std::any_of(flags.begin(), flags.end(),
                                     [&](const Flag& f) { return f.student == wish.student; });
    if (wish.absent && waiting) {
        decision.events.push_back(record::FlagSet{wish.cls, wish.student, false});
    }
    return decision;
}

Answer on(const Context& ctx, const StartLesson& wish) {
    const auto spot = open_block(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    const auto ready = ready_to_start(*spot->cls, block);
    if (!ready) return pass(ready);
    const auto [first, last] = next_rounds(block, ctx.now_ms);
    const int opening = block.timing.opening_minutes;
    Decision decision;
    decision.events.push_back(record::LessonStarted{
        wish.cls, wish.block, first, last, opening > 0 ? in_minutes(ctx.now_ms, opening) : 0});
    if (opening == 0) decision.events.push_back(working(*spot, first, ctx.now_ms));
    decision.said = first == last ? "The lesson has started: round " + std::to_string(first) + "."
                                  : "The lesson has started: rounds " + std::to_string(first) +
                                        " to " + std::to_string(last) + ".";
    const std::string unseated = seatless(*spot->cls, block.groups);
    if (!unseated.empty()) decision.said += " " + unseated;
    return decision;
}

Answer on(const Context& ctx, const NextPhase& wish) {
    const auto spot = running_lesson(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Block& block = *spot->block;
    const Lesson& lesson = block.lesson;
    const auto to_round = [&](int round) {
        return Decision{{working(*spot, round, ctx.now_ms)}, round_text(round), {}};
    };
    switch (lesson.phase) {
        case Phase::opening:
            return to_round(lesson.first_round);
        case Phase::moving:
            return to_round(lesson.round);
        case Phase::working:
            break;
        default:
            return ending(*spot);
    }
    const auto begin = [&](Phase phase, int round, int minutes, std::string said) {
        return Decision{{record::PhaseBegan{wish.cls, wish.block, phase, round,
                                            in_minutes(ctx.now_ms, minutes)}},
                        std::move(said),
                        {}};
    };
    if (lesson.round < last_round_today(block)) {
        if (block.timing.move_minutes == 0) return to_round(lesson.round + 1);
        return begin(Phase::moving, lesson.round + 1, block.timing.move_minutes,
                     "Move to round " + std::to_string(lesson.round + 1) + ".");
    }
    if (block.timing.closing_minutes == 0) return ending(*spot);
    return begin(Phase::closing, lesson.round, block.timing.closing_minutes,
                 "Time to close the lesson.");
}

Answer on(const Context& ctx, const PauseLesson& wish) {
    const auto spot = running_lesson(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Lesson& lesson = spot->block->lesson;
    if (lesson.paused()) return Decision{};
    const std::int64_t left = std::max<std::int64_t>(0, left_ms(lesson, ctx.now_ms));
    return Decision{{record::LessonPaused{wish.cls, wish.block, left}}, "Paused.", {}};
}

Answer on(const Context& ctx, const ResumeLesson& wish) {
    const auto spot = running_lesson(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const Lesson& lesson = spot->block->lesson;
    if (!lesson.paused()) return Decision{};
    return Decision{
        {record::LessonResumed{wish.cls, wish.block, ctx.now_ms + lesson.paused_left_ms}},
        "Going on.",
        {}};
}

Answer on(const Context& ctx, const AddTime& wish) {
    const auto spot = running_lesson(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    if (wish.seconds == 0) return Decision{};
    const auto seconds = checked_number("Time", wish.seconds, -3600, 3600, "seconds");
    if (!seconds) return pass(seconds);
    // In overtime the added time counts from now; time taken away ends the phase at the earliest
    // now.
    const std::int64_t left = left_ms(spot->block->lesson, ctx.now_ms);
    const std::int64_t wanted =
        std::max<std::int64_t>(0, std::max<std::int64_t>(0, left) + *seconds * std::int64_t{1000});
    if (wanted == left) return Decision{};
    const bool more = *seconds > 0;
    const int shown = more ? *seconds : -*seconds;
    const std::string length = shown % 60 == 0
                                   ? base::count_of(std::size_t(shown / 60), "minute", "minutes")
                                   : base::count_of(std::size_t(shown), "second", "seconds");
    return Decision{{record::TimeAdded{wish.cls, wish.block, wanted - left}},
                    length + (more ? " more." : " less."),
                    {}};
}

Answer on(const Context& ctx, const RetimeRounds& wish) {
    const auto spot = running_lesson(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    const auto seconds = checked_number("Rounds", wish.seconds, 60, 4 * 3600, "seconds");
    if (!seconds) return pass(seconds);
    const std::int64_t ms = *seconds * std::int64_t{1000};
    if (ms == round_length_ms(*spot->block)) return Decision{};
    return Decision{{record::RoundsRetimed{wish.cls, wish.block, ms}},
                    "The rounds left take " + length_text(ms) + " each.",
                    {}};
}

Answer on(const Context& ctx, const EndLesson& wish) {
    const auto spot = running_lesson(ctx, wish.cls, wish.block);
    if (!spot) return pass(spot);
    return ending(*spot);
}

}  // namespace tallyround::session
