#pragma once
#include <functional>
#include <string>

#include "session/session.h"
#include "ui/app.h"
#include "ui/view.h"

namespace tallyround::ui {

/// How a wish that was granted is answered: on screen with an Undo, on screen, or only aloud
/// (where the screen itself shows it already).
enum class Reply { with_undo, plain, aloud };

/// What becomes of a plan that takes long: it goes into the record, it is shown in a sheet that
/// asks first, or it is kept as a what-if (PlanDesk).
enum class PlanEnd { commit, ask, show };

/// What an action may do: look elsewhere, or ask for something. Handed to it when it runs.
class Act {
  public:
    Act(View& view_, const Now& now_, Effects& effects_) : view(view_), now(now_), fx(effects_) {}
    virtual ~Act() = default;

    /// Sends the wish through `decide`. The outcome is shown as `reply` says, a refusal always;
    /// false if it was refused.
    virtual bool send(const session::Command& command, Reply reply = Reply::with_undo) = 0;
    /// What the wish would come to now; changes nothing.
    virtual base::Result<session::Decision> would(const session::Command& command) const = 0;
    /// Plans the wish between frames. A plan that is under way is given up for it.
    virtual void plan(const session::Command& command, PlanEnd end = PlanEnd::commit) = 0;
    virtual void cancel_plan() = 0;
    /// Puts a plan that was asked about, or shown, into the record; false if that has changed
    /// since.
    virtual bool accept_plan(PlanEnd which = PlanEnd::ask) = 0;
    /// Ids of what the last `send` made.
    virtual const std::vector<std::string>& made() const = 0;
    virtual const model::State& state() const = 0;
    /// Hands the whole plan to the person as a file.
    /// A large one is made between frames.
    virtual void save_plan() = 0;
    /// Gives up the plan file that is being made, read, or put in place.
    virtual void cancel_file() = 0;
    virtual void cancel_reading() = 0;
    virtual void cancel_bringing() = 0;
    /// The plan file as codes on screen, for another device's camera.
    virtual void show_plan() = 0;
    /// Hands everything that storage holds to the person as a file.
    virtual void save_stored() = 0;
    /// Sets, changes or takes away the passcode (ChangePasscode).
    virtual void change_passcode(const std::string& was, const std::string& now_code) = 0;

    /// The text as it may be shown: with initials in place of names where that is wished.
    virtual std::string shown(std::string text) const = 0;

    void say(const std::string& words, bool bad = false) {
        const std::string text = shown(words);
        view.show(text, bad, now.steady_ms + (bad ? 9000 : 5000));
        fx.emplace_back(Announce{text});
    }
    void go(Screen screen) {
        view.screen = screen;
        view.overlay = Overlay::none;
        view.picked = {};
        view.cell_group = 0;
        // What was looked for on a screen is not looked for any more.
        std::erase_if(view.drafts, [](const auto& d) { return d.first.starts_with("find-"); });
    }

    View& view;
    const Now& now;
    Effects& fx;
};

/// What a tap, an Enter or a typed letter leads to. Holds copies of all it needs, so that it means
/// what was on screen when the finger went down.
using Action = std::function<void(Act&)>;
using TextAction = std::function<void(Act&, const std::string&)>;

}  // namespace tallyround::ui
