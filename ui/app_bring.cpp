// What another device has comes into the record: at once, or in steps between frames.
#include "base/text.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

namespace {

/// More than this is not worth keeping among the preferences.
constexpr std::size_t longest_sides = 20'000;

}  // namespace

/// After the start: what two devices had changed and nobody has settled since.
void App::Inside::recall_conflicts() {
    const std::size_t half = view.sides.find('|');
    if (half == std::string::npos) return;
    const std::string_view text = view.sides;
    session.recall({session::EventNames::read(text.substr(0, half)),
                    session::EventNames::read(text.substr(half + 1))});
    view.conflicts = session.conflicts();
    if (view.conflicts.empty()) view.sides.clear();
}

void App::Inside::bring_plan(const Now& now, const std::string& name,
                             base::Result<exchange::PlanFile> plan, std::vector<bool> seen) {
    AppAct act(*this, now);
    if (!plan) {
        act.say(name + ": " + plan.error().text() + " Nothing here was changed.", true);
        return;
    }
    if (read_only) return act.say("This tab only shows the class. Take over first.", true);
    if (files.bringing) brought(now);
    const std::size_t size = session.log().events().size() + plan->events.size();
    session::Incoming incoming{std::move(plan->events), std::move(seen)};
    files.bringing = std::make_unique<FileDesk::Bringing>(FileDesk::Bringing{
        name, now.steady_ms, {session.log(), std::move(incoming), true, most_as_records}});
    if (size <= FileDesk::brought_at_once) brought(now);
}

/// This frame's share. The record goes on meanwhile. To put in what was worked out is enough for a
/// frame of its own.
void App::Inside::bring_on(const Now& now) {
    if (!files.bringing) return;
    if (read_only) return AppAct(*this, now).cancel_bringing();
    if (files.bringing->worked_out) return brought(now);
    files.bringing->worked_out = files.bringing->work.step(FileDesk::brought_a_frame);
}

/// All is worked out, or little enough to be at once: it is put in, and goes into storage.
void App::Inside::brought(const Now& now) {
    const std::unique_ptr<FileDesk::Bringing> from = std::exchange(files.bringing, nullptr);
    AppAct act(*this, now);
    std::vector<record::Event> told;
    const std::size_t fresh = session.conclude(from->work, &told);
    if (fresh > most_as_records) {
        append_many(fresh);
    } else {
        append(told);
    }
    note_rewrites();
    if (fresh > 0 && !session.conflicts().empty()) {
        view.conflicts = session.conflicts();
        view.conflicts_taken.clear();
        view.sides = session.sides().ours.text() + "|" + session.sides().theirs.text();
        if (view.sides.size() > longest_sides) view.sides.clear();
        view.overlay = Overlay::conflicts;
    }
    act.say(fresh == 0
                ? "Everything in " + from->name + " was here already."
                : from->name + ": " + base::count_of(fresh, "entry", "entries") + " brought in.");
    if (view.cls.empty() && !session.state().classes.empty()) {
        view.cls = session.state().classes.back().id;
    }
    remember_preferences();
    dirty = true;
}

}  // namespace tallyround::ui
