#include <algorithm>

#include "base/text.h"
#include "exchange/plan_file.h"
#include "record/codec.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

AppAct::AppAct(App::Inside& in, const Now& at) : Act(in.view, at, in.effects), in_(in) {}

const model::State& AppAct::state() const {
    return in_.session.state();
}

bool AppAct::send(const session::Command& command, Reply reply) {
    made_.clear();
    if (in_.read_only) {
        say("This tab only shows the class. Take over to change it here.", true);
        return false;
    }
    auto happened = in_.session.send(command, now.utc_ms);
    if (!happened) {
        say(happened.error().text(), true);
        return false;
    }
    answer(*std::move(happened), reply);
    in_.note_who_is_here(command);
    return true;
}

void AppAct::answer(session::Happened happened, Reply reply) {
    in_.append(happened.events);
    in_.note_rewrites();
    made_ = std::move(happened.made);
    if (reply == Reply::aloud) {
        fx.emplace_back(Announce{shown(happened.said)});
        view.toast.clear();
    } else if (!happened.said.empty()) {
        say(happened.said);
        view.toast_undo = reply == Reply::with_undo && !happened.events.empty();
        if (view.toast_undo) view.toast_until = now.steady_ms + 10'000;
    }
    if (!in_.asked_to_persist && !happened.events.empty()) {
        in_.asked_to_persist = true;
        fx.emplace_back(AskToPersist{});
    }
}

void AppAct::show_plan() {
    fx.emplace_back(ShowCodes{exchange::write_plan(in_.session.log().events())});
}

void App::Inside::read_preferences(json::Texts kept) {
    preferences = std::move(kept);
    const auto get = [&](const char* key) {
        const auto it = preferences.find(key);
        return it == preferences.end() ? std::string() : it->second;
    };
    const std::string look = get("look");
    view.look_chosen = !look.empty() && look != "auto";
    if (look == "light") view.look = Look::light;
    if (look == "dark") view.look = Look::dark;
    if (look == "contrast") view.look = Look::contrast;
    const int percent = std::atoi(get("text").c_str());
    if (percent >= 100 && percent <= 200) view.text_scale = float(percent) / 100;
    view.vibrates = get("vibration") != "off";
    view.single_keys = get("keys") != "off";
    if (model::ClassId::fits(get("class"))) view.cls = model::ClassId(get("class"));
    if (const auto paper = sheets::find_paper(get("paper"))) view.print.paper = *paper;
    const int screen = std::atoi(get("screen").c_str());
    if (screen > 0 && screen <= int(Screen::review)) view.screen = Screen(screen);
    last_export_ms = std::atoll(get("exported").c_str());
    view.initials = get("initials") == "yes";
    view.seal_files = get("seal_files") != "no";
    view.sides = get("sides");
    const std::string lock = get("lock");
    if (!lock.empty()) view.lock_minutes = std::clamp(std::atoi(lock.c_str()), 0, 60);
    effects.emplace_back(LockAfter{view.lock_minutes});
}

json::Texts App::Inside::preferences_now() const {
    static constexpr const char* looks[] = {"light", "dark", "contrast"};
    json::Texts out = preferences;
    out["look"] = view.look_chosen ? looks[std::size_t(view.look)] : "auto";
    out["text"] = std::to_string(int(view.text_scale * 100 + 0.5F));
    out["vibration"] = view.vibrates ? "on" : "off";
    out["keys"] = view.single_keys ? "on" : "off";
    out["class"] = view.cls.str();
    out["screen"] = std::to_string(int(view.screen));
    out["paper"] = sheets::paper_id(view.print.paper);
    out["replica"] = session.log().replica().str();
    out["exported"] = std::to_string(last_export_ms);
    out["initials"] = view.initials ? "yes" : "no";
    out["seal_files"] = view.seal_files ? "yes" : "no";
    out["sides"] = view.sides;
    out["lock"] = std::to_string(view.lock_minutes);
    return out;
}

void App::Inside::remember_preferences(bool anew) {
    if (!opened || read_only) return;
    json::Texts now_kept = preferences_now();
    if (now_kept == preferences && !anew) return;
    preferences = std::move(now_kept);
    effects.emplace_back(WritePreferences{json::write_texts(preferences)});
}

void App::lost_lock() {
    in_->read_only = true;
    in_->view.overlay = Overlay::none;
    in_->dirty = true;
}

void App::heard(std::string_view record) {
    if (!in_->opened || !in_->read_only) return;
    auto event = record::from_line(record);
    if (!event) return;
    in_->session.merge({*std::move(event)});
    in_->note_rewrites();
    in_->dirty = true;
}

void App::show_board() {
    Inside& in = *in_;
    const auto& classes = in.session.state().classes;
    for (const model::Class& c : classes) {
        const model::Block* b = c.current_block();
        if (b != nullptr && b->lesson.running()) in.view.cls = c.id;
    }
    if (in.cls() == nullptr && !classes.empty()) in.view.cls = classes.back().id;
    in.view.overlay = Overlay::none;
    in.view.board_from = in.cls() == nullptr ? Screen::home : Screen::walk;
    in.view.screen = Screen::board;
    in.dirty = true;
}

void App::persistence(bool granted) {
    Inside& in = *in_;
    in.preferences["persisted"] = granted ? "yes" : "no";
    if (in.opened && !in.read_only) {
        in.effects.emplace_back(WritePreferences{json::write_texts(in.preferences)});
    }
    in.dirty = true;
}

void App::update_waiting() {
    in_->update_waiting = true;
    in_->dirty = true;
}

std::string App::plan_file(const Now&) const {
    return exchange::write_plan(in_->session.log().events());
}

}  // namespace tallyround::ui
