#include "ui/app.h"

#include <algorithm>
#include <cmath>

#include "session/board.h"
#include "ui/app_inside.h"
#include "ui/screens/frame.h"

namespace tallyround::ui {

namespace {

/// So long before its end a round warns.
constexpr std::int64_t warning_ms = 120'000;
/// Clocks that are kept by a network move a little; this much is somebody's doing.
constexpr double clock_slack_ms = 2000;

ImVec4 vec(ImU32 color) {
    return ImGui::ColorConvertU32ToFloat4(color);
}

/// The page's own text fields take their colours from here.
void publish_colors(const Theme& t) {
    ImGuiStyle& style = ImGui::GetStyle();
    style.Colors[ImGuiCol_Text] = vec(t.ink);
    style.Colors[ImGuiCol_TextDisabled] = vec(t.ink_soft);
    style.Colors[ImGuiCol_WindowBg] = vec(t.paper);
    style.Colors[ImGuiCol_NavCursor] = vec(t.focus);
    style.Colors[ImGuiCol_CheckMark] = vec(t.accent);
}

void draw_screen(Ui& ui, const Scene& scene, const Rect& area) {
    using Draw = void (*)(Ui&, const Scene&, const Rect&);
    static constexpr Draw screens[] = {
        home_screen,       students_screen, skills_screen,   centers_screen, fit_screen,
        groups_screen,     chart_screen,    walk_screen,     review_screen,  settings_screen,
        procedures_screen, prep_screen,     student_page,    skill_page,     verdicts_screen,
        next_block_screen, ready_screen,    sureness_screen, share_screen,   board_screen,
        privacy_screen,    locked_screen};
    screens[std::size_t(scene.view.screen)](ui, scene, area);
}

}  // namespace

App::Inside::Inside(const Fonts& fonts, TextPainter* painter, std::uint64_t entropy_)
    : entropy(entropy_), session(session::make_replica(entropy_), entropy_), type(fonts, painter) {}

const model::Class* App::Inside::cls() const {
    return session.state().find_class(view.cls);
}

Saved App::Inside::saved() const {
    if (read_only) return Saved::read_only;
    if (!storage_trouble.empty()) return Saved::memory_only;
    if (!write_trouble.empty()) return Saved::not_saved;
    return pending.empty() ? Saved::saved : Saved::saving;
}

Scene App::Inside::scene(const Now& now) const {
    const model::Class* c = shown_cls();
    const auto persisted = preferences.find("persisted");
    return {session,
            hidden ? *hidden : session.state(),
            c,
            c == nullptr ? nullptr : c->current_block(),
            view,
            standings,
            now,
            saved(),
            storage_trouble.empty() ? write_trouble : storage_trouble,
            update_waiting,
            last_export_ms,
            &desk,
            chart_desk.check(),
            &plans,
            &group_desk,
            &insight,
            shown(session.undo_label()),
            passcode_set,
            persisted == preferences.end() ? std::string() : persisted->second,
            installable,
            damaged,
            set_aside,
            &files};
}

void App::Inside::run(const Action& action, const Now& now) {
    dirty = true;
    if (!action) return;
    AppAct act(*this, now);
    action(act);
    const bool alone = view.screen == Screen::home || view.screen == Screen::settings ||
                       view.screen == Screen::board || view.screen == Screen::privacy ||
                       view.screen == Screen::locked;
    if (!alone && cls() == nullptr) {
        view.screen = Screen::home;
        view.overlay = Overlay::none;
    }
    remember_preferences();
}

/// At zero and, in a round, at two minutes: a message that is read out, a tone, a short vibration.
void App::Inside::ring(const Now& now) {
    const model::Class* c = cls();
    const model::Block* b = c == nullptr ? nullptr : c->current_block();
    const bool running = b != nullptr && b->lesson.running();
    if (running != awake) {
        awake = running;
        effects.emplace_back(KeepAwake{running});
    }
    if (!running || b->lesson.paused()) return;
    const std::int64_t left = session::left_ms(b->lesson, now.utc_ms);
    const bool over = left <= 0;
    if (!over && (left > warning_ms || b->lesson.phase != model::Phase::working)) return;
    const Rung now_rung{b->lesson.phase, b->lesson.round, over};
    if (rung == now_rung) return;
    // Rings once a phase, and not for what was due long ago (a lesson found after a reload).
    rung = now_rung;
    const std::int64_t due_ago = (over ? 0 : warning_ms) - left;
    if (due_ago > 30'000 || (view.screen == Screen::board && read_only)) return;
    effects.emplace_back(Announce{over ? "Time is up." : "Two minutes left."});
    effects.emplace_back(Chime{over});
    effects.emplace_back(Vibrate{over ? 200 : 80});
}

/// The device's clock was set back: a running phase ends as much later by that clock, so it is
/// given as much less, and the countdown goes on as it was. A clock that was set forward looks like
/// a device that slept, for which the time of day is right: nothing is done.
void App::Inside::mind_clock(const Now& now) {
    const double ahead = double(now.utc_ms) - now.steady_ms;
    const double back = clock_ahead ? *clock_ahead - ahead : 0;
    clock_ahead = ahead;
    const model::Class* c = cls();
    const model::Block* b = c == nullptr ? nullptr : c->current_block();
    if (back < clock_slack_ms || read_only || b == nullptr || !b->lesson.running() ||
        b->lesson.paused()) {
        return;
    }
    const int seconds = int(std::min(back / 1000 + 0.5, 3600.0));
    AppAct act(*this, now);
    if (!act.send(session::AddTime{c->id, b->id, -seconds}, Reply::aloud)) return;
    act.say("This device's clock was set back. The countdown goes on as it was.");
}

App::App(const Fonts& fonts, TextPainter* painter, std::uint64_t entropy)
    : in_(std::make_unique<Inside>(fonts, painter, entropy)) {}
App::~App() = default;

bool App::lesson_running() const {
    for (const model::Class& c : in_->session.state().classes) {
        const model::Block* b = c.current_block();
        if (b != nullptr && b->lesson.running()) return true;
    }
    return false;
}

void App::frame(const Surface& surface, const Now& now, ImDrawList& list) {
    Inside& in = *in_;
    in.fingers.set_gliding(!surface.prefers_reduced_motion);
    in.run(in.fingers.tick(now.steady_ms), now);
    if (!in.view.look_chosen) {
        in.view.look = surface.prefers_contrast ? Look::contrast
                       : surface.prefers_dark   ? Look::dark
                                                : Look::light;
    }
    if (in.view.toast_until < 0) in.view.toast_until = now.steady_ms + 9000;
    in.mind_clock(now);
    in.ring(now);
    in.retry(now);
    in.hide_names();
    in.plan_on(now);
    in.go_on_packing();
    in.save_on(now);
    in.bring_on(now);
    if (const model::Class* c = in.shown_cls(); c != nullptr && in.view.screen != Screen::home) {
        in.standings.update(*c, now.utc_ms);
        in.insight.update(*c, in.standings, in.session.log().events().size(), now.utc_ms);
    }
    if (const model::Class* c = in.cls(); c != nullptr && in.view.screen == Screen::prep) {
        if (const model::Block* b = c->current_block()) in.desk.update(*c, *b, in.view.print);
    }
    const bool looks = in.view.screen == Screen::chart && in.cls() != nullptr;
    const bool looking = looks && in.chart_desk.update(in.cls()->current_block());
    if (const model::Class* c = in.cls(); c != nullptr && in.view.screen == Screen::groups) {
        const int why = in.view.overlay == Overlay::group_why ? in.view.index : -1;
        if (const model::Block* b = c->current_block()) {
            in.group_desk.update(in.session, *in.shown_cls(), *b, in.standings,
                                 in.view.group_policy, in.view.picked, why);
        }
    }
    const Theme theme = make_theme(in.view.look);
    publish_colors(theme);

    Ui ui(&list, in.type, theme, surface, in.fingers, in.memory, in.focused, in.view.text_scale);
    const Scene scene = in.scene(now);
    const Rect area = draw_frame(ui, scene);
    draw_screen(ui, scene, area);
    for (const auto& draw : ui.on_top)
        draw(ui);
    draw_overlay(ui, scene);
    draw_planning(ui, scene);
    draw_file_progress(ui, scene);
    draw_toast(ui, scene);
    ui.draw_carried();

    in.painted = std::move(ui.painted);
    in.nodes = std::move(ui.nodes);
    in.text_handlers = std::move(ui.text_handlers);
    in.dirty = ui.wants_another_frame() || looking || in.plans.running.has_value() ||
               in.packing.has_value() || in.files.busy();
    in.keep_in_place(ui.extents);
    in.extents = std::move(ui.extents);
    // Content that shrank may have left an offset past its end: put it right with one more frame.
    std::vector<float> before;
    for (const Scroller& s : in.painted.scrollers)
        before.push_back(in.fingers.offset(s.id));
    in.fingers.settle(in.painted);
    for (std::size_t i = 0; i < before.size(); ++i) {
        if (in.fingers.offset(in.painted.scrollers[i].id) != before[i]) in.dirty = true;
    }
}

void App::unseen(const Now& now) {
    in_->mind_clock(now);
    in_->ring(now);
    while (in_->packing)
        in_->go_on_packing();
}

double App::next_frame_in(const Now& now) const {
    const Inside& in = *in_;
    if (in.dirty) return 0;
    double soonest = in.fingers.next_tick_in(now.steady_ms);
    const auto sooner = [&](double ms) {
        ms = std::max(0.0, ms);
        soonest = soonest < 0 ? ms : std::min(soonest, ms);
    };
    if (!in.view.toast.empty() && in.view.toast_until > now.steady_ms) {
        sooner(in.view.toast_until - now.steady_ms + 5);
    }
    if (in.retry_key != 0) sooner(in.retry_at - now.steady_ms);
    const model::Class* c = in.cls();
    const model::Block* b = c == nullptr ? nullptr : c->current_block();
    const auto next_second = [&](std::int64_t ms) {
        sooner(double((ms % 1000 + 1000) % 1000) + 1);
    };
    if (b != nullptr && b->lesson.running() && !b->lesson.paused()) {
        const std::int64_t left = session::left_ms(b->lesson, now.utc_ms);
        if (in.view.screen == Screen::walk || in.view.screen == Screen::board) next_second(left);
        // On other screens nothing counts down, but the bell rings.
        if (left > warning_ms) sooner(double(left - warning_ms) + 1);
        if (left > 0) sooner(double(left) + 1);
    }
    if (b != nullptr && in.view.screen == Screen::board && !b->lesson.running()) {
        const auto board = session::board_picture(*c, *b, now.utc_ms, now.utc_offset_minutes);
        if (board.counting) next_second(board.left_ms);
    }
    if (in.view.practice_began_ms != 0 && in.view.screen == Screen::procedures) {
        next_second(in.view.practice_began_ms - now.utc_ms);
    }
    return soonest;
}

MirrorDiff App::take_mirror_diff() {
    MirrorDiff d = diff(in_->sent_nodes, in_->nodes);
    in_->sent_nodes = in_->nodes;
    return d;
}

Effects App::take_effects() {
    if (!in_->view.vibrates) {
        std::erase_if(in_->effects,
                      [](const Effect& e) { return std::holds_alternative<Vibrate>(e); });
    }
    return std::exchange(in_->effects, {});
}

const View& App::view() const {
    return in_->view;
}

const Painted& App::painted() const {
    return in_->painted;
}

const std::vector<std::string>& App::cut_lines() const {
    return in_->type.cut();
}

}  // namespace tallyround::ui
