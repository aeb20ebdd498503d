#include "ui/app_inside.h"

namespace tallyround::ui {

namespace {

/// Wishes after which somebody may be without a seat, or a seat empty.
bool changes_who_is_here(const session::Command& command) {
    return std::holds_alternative<session::SetAbsent>(command) ||
           std::holds_alternative<session::AddStudents>(command) ||
           std::holds_alternative<session::SetStudentLeft>(command);
}

}  // namespace

void AppAct::plan(const session::Command& command, PlanEnd end) {
    if (in_.read_only) {
        say("This tab only shows the class. Take over to change it here.", true);
        return;
    }
    in_.plans.running.reset();
    auto job = in_.session.begin(command, now.utc_ms, &in_.standings);
    if (!job) {
        if (end == PlanEnd::show) {
            in_.plans.shown.reset();
            in_.plans.shown_trouble = job.error().message;
        } else {
            say(job.error().text(), true);
        }
        return;
    }
    in_.plans.running = PlanDesk::Running{command, *std::move(job), end, now.steady_ms};
}

void AppAct::cancel_plan() {
    in_.plans.running.reset();
}

bool AppAct::accept_plan(PlanEnd which) {
    auto made = std::exchange(which == PlanEnd::ask ? in_.plans.asked : in_.plans.shown, {});
    if (!made) return false;
    if (made->events != in_.session.log().events().size()) {
        say("The class has changed meanwhile, so nothing was moved.", true);
        return false;
    }
    in_.note_said(made->decision);
    answer(in_.session.commit(std::move(made->decision), now.utc_ms), Reply::with_undo);
    return true;
}

void App::Inside::note_who_is_here(const session::Command& command) {
    const model::Class* c = cls();
    const model::Block* b = c == nullptr ? nullptr : c->current_block();
    if (b == nullptr || b->groups.empty() || !changes_who_is_here(command)) return;
    mend_due = true;
}

/// The slice of this frame, and what a plan that is over comes to.
void App::Inside::plan_on(const Now& now) {
    AppAct act(*this, now);
    if (mend_due && view.overlay == Overlay::none && !plans.running) {
        mend_due = false;
        const model::Class* c = cls();
        const model::Block* b = c == nullptr ? nullptr : c->current_block();
        if (b != nullptr) act.plan(session::MendGroups{c->id, b->id}, PlanEnd::ask);
        if (plans.running) plans.running->unasked = true;
    }
    if (!plans.running) return;
    if (session.stale(plans.running->job)) {
        // Somebody tapped meanwhile: the same wish again, for the class as it is now.
        const bool unasked = plans.running->unasked;
        const session::Command command = plans.running->command;
        act.plan(command, plans.running->end);
        if (!plans.running) return;
        plans.running->unasked = unasked;
    }
    if (!plans.running->job.step(PlanDesk::work_a_frame)) return;
    PlanDesk::Running over = *std::exchange(plans.running, {});
    auto decision = session.conclude(over.job, now.utc_ms);
    if (decision) {
        decision->said = shown(std::move(decision->said));
    } else {
        decision.error().message = shown(std::move(decision.error().message));
    }
    const std::size_t events = session.log().events().size();
    if (over.end == PlanEnd::show) {
        plans.shown.reset();
        plans.shown_trouble = decision ? "" : decision.error().message;
        if (decision) plans.shown = PlanDesk::Made{over.command, *std::move(decision), events};
        return;
    }
    if (!decision) {
        plans.stuck =
            PlanDesk::Stuck{over.command, over.end, decision.error().message, over.job.obstacles()};
        for (session::Obstacle& obstacle : plans.stuck->obstacles)
            obstacle.text = shown(std::move(obstacle.text));
        if (over.unasked || plans.stuck->obstacles.empty()) {
            act.say(decision.error().text(), true);
        } else {
            act.fx.emplace_back(Announce{decision.error().text()});
            view.overlay = Overlay::obstacles;
        }
        return;
    }
    if (over.end == PlanEnd::ask) {
        if (view.overlay != Overlay::none) {
            // A sheet was opened meanwhile: ask when it is closed.
            mend_due = over.unasked;
            return;
        }
        if (decision->events.empty()) {
            if (!over.unasked) act.say("Nobody has to move.");
            return;
        }
        plans.asked = PlanDesk::Made{over.command, *std::move(decision), events};
        view.overlay = Overlay::proposal;
        return;
    }
    note_said(*decision);
    act.answer(session.commit(*std::move(decision), now.utc_ms), Reply::with_undo);
}

/// Keeps what a plan says of the groups that it makes, for as long as they are the block's.
void App::Inside::note_said(const session::Decision& decision) {
    for (const record::Body& body : decision.events) {
        const auto* set = std::get_if<record::GroupsSet>(&body);
        if (set == nullptr) continue;
        plans.said = decision.said;
        plans.said_of = set->groups;
    }
}

}  // namespace tallyround::ui
