// What keeps the class from other eyes: the passcode, initials, and deleting for good.
#include <optional>
#include <set>
#include <span>

#include "record/codec.h"
#include "session/initials.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

// Names or initials -----------------------------------------------------------------------------

namespace {

/// The classes that these events are about; nothing when that may be any.
std::optional<std::set<model::ClassId>> classes_of(std::span<const record::Event> events) {
    std::set<model::ClassId> out;
    for (const record::Event& e : events) {
        const auto* cls = std::visit(
            [](const auto& body) -> const model::ClassId* {
                if constexpr (requires { body.cls; }) return &body.cls;
                return nullptr;
            },
            e.body);
        if (cls == nullptr) return std::nullopt;
        out.insert(*cls);
    }
    return out;
}

}  // namespace

/// Only the classes that something happened to are copied anew: there may be fifty others.
void App::Inside::hide_names() {
    if (!view.initials) {
        hidden.reset();
        return;
    }
    const record::Log& log = session.log();
    const std::size_t events = log.events().size();
    if (hidden && hidden_moves == log.moves() && hidden_events == events) return;
    const auto& classes = session.state().classes;
    const bool goes_on = hidden && hidden_moves == log.moves() && hidden_events < events &&
                         hidden->classes.size() == classes.size();
    const auto changed = goes_on ? classes_of(log.events().subspan(hidden_events)) : std::nullopt;
    if (!changed) hidden.emplace().classes.resize(classes.size());
    for (std::size_t i = 0; i < classes.size(); ++i) {
        if (!changed || changed->contains(classes[i].id)) {
            hidden->classes[i] = session::with_initials(classes[i]);
        }
    }
    hidden_events = events;
    hidden_moves = log.moves();
}

const model::Class* App::Inside::shown_cls() const {
    return hidden ? hidden->find_class(view.cls) : cls();
}

std::string App::Inside::shown(std::string text) const {
    const model::Class* c = cls();
    return view.initials && c != nullptr ? session::hide_names(*c, std::move(text)) : text;
}

// Deleting for good -----------------------------------------------------------------------------

void App::Inside::note_rewrites() {
    if (session.log().rewrites() == rewrites_seen) return;
    rewrites_seen = session.log().rewrites();
    rewrite_due = !read_only;
    standings = session::Standings();
    insight.forget();
    hidden.reset();
    maybe_rewrite();
}

/// Once what was written last is durable (the tombstone among it), the old copies go.
void App::Inside::maybe_rewrite() {
    if (!rewrite_due || rewriting || read_only || !pending.empty() || !storage_trouble.empty()) {
        return;
    }
    rewriting = true;
    rewrite_due = false;
    packing.reset();
    snapshot_key = last_key;
    effects.emplace_back(RewriteRecord{last_key, record::pack(session.log().events())});
}

void App::rewritten(const std::string& trouble) {
    Inside& in = *in_;
    in.rewriting = false;
    in.dirty = true;
    if (trouble.empty()) return;
    // Tried again with the next thing that is written, and at the next start.
    in.rewrite_due = true;
    in.view.show("It is deleted here, but this device still keeps an old copy: " + trouble +
                     " It is tried again.",
                 true, -1);
    in.effects.emplace_back(Announce{in.view.toast});
}

// The passcode ----------------------------------------------------------------------------------

void App::locked(const std::string& trouble) {
    Inside& in = *in_;
    const Look look = in.view.look;
    const bool chosen = in.view.look_chosen;
    const float text_scale = in.view.text_scale;
    in.view = View{};
    in.view.look = look;
    in.view.look_chosen = chosen;
    in.view.text_scale = text_scale;
    in.view.screen = Screen::locked;
    in.view.passcode_trouble = trouble;
    in.drop_files();
    in.session = session::Session(session::make_replica(in.entropy), in.entropy);
    in.standings = session::Standings();
    in.insight.forget();
    in.hidden.reset();
    in.pending.clear();
    in.opened = false;
    in.dirty = true;
    if (!trouble.empty()) in.effects.emplace_back(Announce{trouble});
}

void AppAct::change_passcode(const std::string& was, const std::string& now_code) {
    if (in_.read_only || !in_.storage_trouble.empty()) {
        say("This tab does not write to the device, so it cannot set a passcode.", true);
        return;
    }
    if (!in_.pending.empty()) {
        say("The last changes are still being saved. Try again in a moment.", true);
        return;
    }
    in_.packing.reset();
    in_.snapshot_key = in_.last_key;
    fx.emplace_back(
        ChangePasscode{was, now_code, in_.last_key, record::pack(in_.session.log().events())});
    view.passcode_trouble = "Working on it.";
}

void App::passcode_answer(bool set, const std::string& said, bool good) {
    Inside& in = *in_;
    in.passcode_set = set;
    in.dirty = true;
    if (said.empty()) return;
    in.effects.emplace_back(Announce{said});
    if (!good) {
        in.view.passcode_trouble = said;
        return;
    }
    for (const char* draft : {"passcode-was", "passcode", "passcode-again"})
        in.view.drafts.erase(draft);
    in.view.passcode_trouble.clear();
    if (in.view.overlay == Overlay::passcode) in.view.overlay = Overlay::none;
    in.view.show(said, false, -1);
}

void App::sealed_refused(const std::string& trouble) {
    in_->view.passcode_trouble = trouble;
    in_->effects.emplace_back(Announce{trouble});
    in_->dirty = true;
}

void App::installable(Installable how) {
    in_->installable = how;
    in_->dirty = true;
}

}  // namespace tallyround::ui
