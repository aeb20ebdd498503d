#include <algorithm>

#include "base/text.h"
#include "exchange/plan_file.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

namespace {

constexpr const char* plan_mime = "application/json";

}  // namespace

void AppAct::save_plan() {
    const std::string name = "tallyround-plan-" + base::to_text(today(now)) + ".json";
    const bool seal = in_.passcode_set && view.seal_files;
    const record::Log& log = in_.session.log();
    if (log.events().size() > FileDesk::at_once) {
        if (in_.files.saving) return;  // it is on its way
        in_.files.saving = FileDesk::Saving{name, seal, now.steady_ms};
        in_.files.saving->began = session::Beginning(log, 0);
        fx.emplace_back(Announce{"Making the plan file."});
        return;
    }
    in_.hand_over({name, plan_mime, exchange::write_plan(log.events()), seal}, now);
}

void App::Inside::hand_over(SaveFile plan, const Now& now) {
    const std::string said = "Plan file made: " + plan.name +
                             (plan.seal ? ", sealed with the passcode of this device." : "");
    effects.emplace_back(std::move(plan));
    last_export_ms = now.utc_ms;
    remember_preferences();
    AppAct(*this, now).say(said);
}

void AppAct::cancel_file() {
    if (!in_.files.saving) return;
    in_.files.saving.reset();
    fx.emplace_back(ForgetParts{});
    say("The plan file was not made.");
}

/// Files that are being made or read go no further: the record they belong to is gone.
void App::Inside::drop_files() {
    if (files.saving) effects.emplace_back(ForgetParts{});
    files = FileDesk{};
}

/// This frame's part of the plan file. What happens meanwhile is part of it.
void App::Inside::save_on(const Now& now) {
    if (!files.saving) return;
    FileDesk::Saving& saving = *files.saving;
    const record::Log& log = session.log();
    if (!saving.began.holds(log)) {
        // Something older came in, or went: what is written is no longer how the record begins.
        effects.emplace_back(ForgetParts{});
        saving = FileDesk::Saving{saving.name, saving.seal, saving.began_ms};
    }
    const auto events = log.events();
    const auto rest = events.subspan(saving.writer->count());
    const auto now_due = rest.first(std::min(rest.size(), FileDesk::events_a_frame));
    FilePart part{"", saving.seal};
    saving.writer->add(now_due, part.bytes);
    saving.began = session::Beginning(log, saving.writer->count());
    const bool over = now_due.size() == rest.size();
    if (over) part.bytes += saving.writer->tail();
    effects.emplace_back(std::move(part));
    if (!over) return;
    const FileDesk::Saving done = *std::exchange(files.saving, {});
    hand_over({done.name, plan_mime, done.writer->head(), done.seal, true}, now);
}

}  // namespace tallyround::ui
