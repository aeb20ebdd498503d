// What the page calls, each by the name in js/app.mjs. After every call the app's effects are
// carried out at once: a record is on its way to storage before the next frame is drawn.
#include <emscripten.h>
#include <imgui.h>

#include <algorithm>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <utility>

#include "effects.h"
#include "host.h"
#include "stage.h"
#include "text_painter.h"
#include "ui/app.h"
#include "ui/mirror/mirror.h"

namespace tallyround::shell {

namespace {

/// Event times further than this from the clock are of another clock and not believed.
constexpr double believable_age_ms = 10000;

struct Shell {
    Stage stage;
    CanvasPainter painter;
    ui::Surface surface;
    std::string colors;
    std::string snapshot;  ///< for shell_open, as far as it has come
    std::unique_ptr<ui::App> app;
};

Shell& one() {
    static Shell shell;
    return shell;
}

ui::App& app() {
    return *one().app;
}

ui::Now now_at(double steady) {
    const double clock = host::steady_ms();
    const double age = clock - steady;
    const double believed = age >= 0 && age <= believable_age_ms ? age : 0;
    return {std::int64_t(host::utc_ms() - believed), host::utc_offset_minutes(), clock - believed};
}

ui::Now now() {
    return now_at(host::steady_ms());
}

void settle() {
    carry_out(app().take_effects());
}

std::string_view text(const char* bytes, int length) {
    return {bytes, std::size_t(length)};
}

std::string css(const ImVec4& color) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string out = "#";
    for (const float part : {color.x, color.y, color.z}) {
        const auto byte = unsigned(std::clamp(part, 0.0F, 1.0F) * 255.0F + 0.5F);
        out += digits[byte >> 4U];
        out += digits[byte & 15U];
    }
    return out;
}

/// The page's text fields have the colours that the app put into ImGui's style.
void publish_colors() {
    const ImVec4* colors = ImGui::GetStyle().Colors;
    std::string names;
    for (const int which : {ImGuiCol_Text, ImGuiCol_TextDisabled, ImGuiCol_WindowBg,
                            ImGuiCol_NavCursor, ImGuiCol_CheckMark}) {
        if (!names.empty()) names += ' ';
        names += css(colors[which]);
    }
    if (names == one().colors) return;
    one().colors = names;
    host::colors(names);
}

void publish_mirror() {
    const ui::MirrorDiff diff = app().take_mirror_diff();
    host::mirror(diff.empty() ? std::string() : ui::to_json(diff));
}

}  // namespace

}  // namespace tallyround::shell

using namespace tallyround;
using namespace tallyround::shell;

extern "C" {

/// Makes the app; the fonts' bytes stay where they are. False if there is nothing to draw on.
EMSCRIPTEN_KEEPALIVE bool shell_start(const char* regular, int regular_length, const char* bold,
                                      int bold_length, std::uint64_t entropy) {
    Shell& s = one();
    s.stage.resize(s.surface);
    s.app = std::make_unique<ui::App>(
        ui::Fonts{text(regular, regular_length), text(bold, bold_length)}, &s.painter, entropy);
    settle();
    return s.stage.draws();
}

EMSCRIPTEN_KEEPALIVE void shell_surface(float width, float height, float scale, float top,
                                        float right, float bottom, float left, bool dark,
                                        bool contrast, bool still, bool touch) {
    one().surface = {width, height, scale, top, right, bottom, left, dark, contrast, still, touch};
    one().stage.resize(one().surface);
}

// Storage -----------------------------------------------------------------------------------------

/// The next piece of a snapshot that has so many bytes in all; then comes shell_open.
EMSCRIPTEN_KEEPALIVE void shell_snapshot_piece(const char* piece, int length, bool first, int all) {
    if (first) one().snapshot.clear();
    one().snapshot.reserve(std::size_t(all));
    one().snapshot += text(piece, length);
}

EMSCRIPTEN_KEEPALIVE void shell_open(const char* records, int records_length,
                                     const char* preferences, int preferences_length,
                                     double last_key, bool read_only) {
    app().begin_open(std::exchange(one().snapshot, {}), std::string(text(records, records_length)),
                     std::uint64_t(last_key), text(preferences, preferences_length), read_only);
}

/// Some of it, little enough also where the browser has yet to compile what it runs (the page says
/// when it wants a breath); true when it is over.
EMSCRIPTEN_KEEPALIVE bool shell_step_open() {
    constexpr std::size_t events = 1000;
    const bool over = app().step_open(events, now());
    if (over) settle();
    return over;
}

EMSCRIPTEN_KEEPALIVE void shell_stored(double key) {
    app().stored(std::uint64_t(key));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_not_stored(double key, const char* reason, int length) {
    app().not_stored(std::uint64_t(key), std::string(text(reason, length)));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_no_storage(const char* reason, int length) {
    app().no_storage(std::string(text(reason, length)));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_healed(const char* snapshot, int snapshot_length,
                                       const char* records, int records_length, double last_key) {
    app().healed(text(snapshot, snapshot_length), text(records, records_length),
                 std::uint64_t(last_key));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_damage(int found, int set_aside) {
    app().damage(std::size_t(found), std::size_t(set_aside));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_lost_lock() {
    app().lost_lock();
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_heard(const char* record, int length) {
    app().heard(text(record, length));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_show_board() {
    app().show_board();
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_persistence(bool granted) {
    app().persistence(granted);
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_locked(const char* trouble, int length) {
    app().locked(std::string(text(trouble, length)));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_passcode(bool set, const char* said, int length, bool good) {
    app().passcode_answer(set, std::string(text(said, length)), good);
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_sealed_refused(const char* trouble, int length) {
    app().sealed_refused(std::string(text(trouble, length)));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_rewritten(const char* trouble, int length) {
    app().rewritten(std::string(text(trouble, length)));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_installable(int how) {
    app().installable(ui::App::Installable(how));
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_file_picked(const char* purpose, int purpose_length,
                                            const char* name, int name_length, const char* bytes,
                                            int length) {
    app().file_picked(std::string(text(purpose, purpose_length)),
                      std::string(text(name, name_length)), text(bytes, length), now());
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_file_begins(const char* name, int length, double bytes) {
    app().file_begins(std::string(text(name, length)), std::size_t(bytes), now());
    settle();
}

EMSCRIPTEN_KEEPALIVE int shell_file_piece(const char* bytes, int length) {
    const int answer = int(app().file_piece(text(bytes, length), now()));
    settle();
    return answer;
}

EMSCRIPTEN_KEEPALIVE int shell_file_ends() {
    const int answer = int(app().file_ends(now()));
    settle();
    return answer;
}

EMSCRIPTEN_KEEPALIVE void shell_file_refused(const char* name, int name_length, const char* why,
                                             int length) {
    app().file_refused(std::string(text(name, name_length)), std::string(text(why, length)), now());
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_plan_file() {
    host::plan(app().plan_file(now()));
}

EMSCRIPTEN_KEEPALIVE void shell_update_waiting() {
    app().update_waiting();
    settle();
}

EMSCRIPTEN_KEEPALIVE bool shell_lesson_running() {
    return app().lesson_running();
}

// Input -------------------------------------------------------------------------------------------

EMSCRIPTEN_KEEPALIVE void shell_pointer(int kind, int finger, float x, float y, double time) {
    const ui::Now at = now_at(time);
    if (kind == 0) app().pointer_down(finger, x, y, at);
    if (kind == 1) app().pointer_move(finger, x, y, at);
    if (kind == 2) app().pointer_up(finger, x, y, at);
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_pointer_cancel(int finger) {
    app().pointer_cancel(finger);
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_wheel(float x, float y, float dx, float dy) {
    app().wheel(x, y, dx, dy);
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_key(int key) {
    app().key(ui::Key(key), now());
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_activate(std::uint32_t node) {
    app().activate(node, now());
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_edit(std::uint32_t node, const char* words, int length) {
    app().edit(node, text(words, length), now());
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_edit_done(std::uint32_t node) {
    app().edit_done(node, now());
    settle();
}

EMSCRIPTEN_KEEPALIVE void shell_focus(std::uint32_t node) {
    app().focus(node);
    settle();
}

// Frames ------------------------------------------------------------------------------------------

EMSCRIPTEN_KEEPALIVE void shell_frame() {
    Shell& s = one();
    const ui::Now at = now();
    s.painter.next_frame();
    app().frame(s.surface, at, s.stage.begin_frame(s.surface));
    s.stage.end_frame();
    publish_colors();
    settle();
    publish_mirror();
}

/// Time went by while nothing is drawn.
EMSCRIPTEN_KEEPALIVE void shell_unseen() {
    app().unseen(now());
    settle();
}

EMSCRIPTEN_KEEPALIVE double shell_next_frame_in() {
    return app().next_frame_in(now());
}

EMSCRIPTEN_KEEPALIVE void shell_context_lost() {
    one().stage.lose();
    one().painter.forget();
}

EMSCRIPTEN_KEEPALIVE bool shell_context_restored() {
    return one().stage.restore();
}

}  // extern "C"
