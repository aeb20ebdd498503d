#include <algorithm>

#include "base/text.h"
#include "session/pace.h"
#include "session/procedures.h"
#include "ui/screens/walk.h"

namespace tallyround::ui {

namespace {

/// Below this, rounds are too short to be worth the move: common practice, no source.
constexpr std::int64_t least_round_ms = 3 * 60'000;
constexpr std::int64_t minute_ms = 60'000;

void times(Ui& ui, const Scene& scene, Column& column, const session::Pace& pace) {
    for (const session::RoundAhead& r : pace.ahead) {
        column.y += ui.paragraph("Round " + std::to_string(r.number) + ": " +
                                     clock_at(scene.now, r.start_ms) + " to " +
                                     clock_at(scene.now, r.end_ms),
                                 {column.x, column.y, column.w, 0}, ui.body());
    }
    column.y += ui.paragraph("The lesson ends at " + clock_at(scene.now, pace.ends_ms) + ".",
                             {column.x, column.y, column.w, 0}, ui.soft());
}

Action leave_it(std::int64_t late_ms) {
    return [late_ms](Act& act) {
        act.view.late_accepted_ms = late_ms;
        close_overlay(act);
    };
}

void share_choice(Ui& ui, const Scene& scene, Column& column, const session::Pace& now) {
    const std::int64_t planned = session::round_length_ms(*scene.block);
    const auto shared = session::pace_with(*scene.block, scene.now.utc_ms,
                                           scene.now.utc_offset_minutes, now.shared_round_ms);
    column.y +=
        ui.paragraph(base::count_of(now.ahead.size(), "round of ", "rounds of ") +
                         session::length_text(now.shared_round_ms) + " instead of " +
                         session::length_text(planned) + ":",
                     {column.x, column.y, column.w, 0}, ui.style(body_size, ui.theme.ink, true));
    times(ui, scene, column, shared);
    column.skip(gap);
    Button b;
    b.id = Ui::id({"late-share"});
    b.label = now.ahead.size() == 1 ? "Shorten the round" : "Shorten the rounds";
    b.weight = Weight::primary;
    Button keep;
    keep.id = Ui::id({"late-keep"});
    keep.label = "Keep " + session::length_text(planned);
    button_pair(ui, column, std::max(54.0F, ui.scaled(52)), keep, leave_it(now.late_ms()), b,
                [cls = scene.cls->id, id = scene.block->id,
                 seconds = int(now.shared_round_ms / 1000)](Act& act) {
                    if (act.send(session::RetimeRounds{cls, id, seconds})) close_overlay(act);
                });
}

}  // namespace

void ask_about_lost_time(Act& act, const model::ClassId& cls, const model::BlockId& block) {
    const model::Class* c = act.state().find_class(cls);
    const model::Block* b = c == nullptr ? nullptr : c->block(block);
    if (b == nullptr) return;
    const auto pace = session::pace(*b, act.now.utc_ms, act.now.utc_offset_minutes);
    if (pace.late_ms() < act.view.late_accepted_ms) act.view.late_accepted_ms = 0;
    const bool news = pace.late_ms() - act.view.late_accepted_ms >= minute_ms;
    if (news && !pace.ahead.empty()) act.view.overlay = Overlay::late;
}

void late_sheet(Ui& ui, const Scene& scene) {
    if (scene.block == nullptr) return;
    const auto pace = session::pace(*scene.block, scene.now.utc_ms, scene.now.utc_offset_minutes);
    Column column = begin_sheet(ui, "Time and the bell", ui.scaled(330), leave_it(pace.late_ms()));
    const auto say = [&](const std::string& text) {
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.body());
        column.skip(gap);
    };
    if (!pace.known) {
        say("None of this block's periods is today, so the bell is not known. Set it under Time.");
    } else if (pace.late_ms() < minute_ms) {
        say("On time: the bell is at " + clock_at(scene.now, pace.bell_ms) + ".");
        times(ui, scene, column, pace);
    } else {
        const auto late = std::size_t((pace.late_ms() + minute_ms / 2) / minute_ms);
        say(base::count_of(late, "minute", "minutes") + " late: as things go, the lesson ends at " +
            clock_at(scene.now, pace.ends_ms) + ", after the bell at " +
            clock_at(scene.now, pace.bell_ms) + ".");
        if (pace.shared_round_ms >= least_round_ms) {
            share_choice(ui, scene, column, pace);
            end_sheet(ui, column);
            return;
        }
        say(pace.ahead.empty()
                ? "This is the last round: end it a little earlier."
                : "The rounds left would be shorter than 3 minutes. End the lesson after this "
                  "round: what is left stays for another day.");
    }
    column.skip(gap);
    Button b;
    b.id = Ui::id({"late-close"});
    b.label = "Close";
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b, leave_it(pace.late_ms()));
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
