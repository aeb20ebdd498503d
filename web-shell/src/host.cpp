#include "host.h"

#include <emscripten.h>

// Lengths are given with every text: records and files may hold any byte.
// clang-format off
EM_JS(double, page_utc, (), { return Date.now(); })
EM_JS(int, page_utc_offset, (), { return -new Date().getTimezoneOffset(); })
EM_JS(double, page_steady, (), { return performance.now(); })

EM_JS(int, page_paint,
      (const char* text, int length, float size, float scale, int bold, int* measures), {
    const picture = Module.host.paint(UTF8ToString(text, length), size, scale, bold !== 0);
    if (!picture) return 0;
    const gl = GLctx;
    gl.pixelStorei(gl.UNPACK_ALIGNMENT, 4);
    gl.pixelStorei(gl.UNPACK_ROW_LENGTH, 0);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, picture.width, picture.height, 0, gl.RGBA,
                  gl.UNSIGNED_BYTE, new Uint8Array(picture.pixels.buffer));
    HEAP32[measures >> 2] = picture.width;
    HEAP32[(measures >> 2) + 1] = picture.height;
    return 1;
})

EM_JS(void, page_mirror, (const char* json, int length), {
    Module.host.mirror(UTF8ToString(json, length));
})
EM_JS(void, page_colors, (const char* names, int length), {
    Module.host.colors(UTF8ToString(names, length));
})
EM_JS(void, page_append, (double key, const char* record, int length), {
    Module.host.append(key, UTF8ToString(record, length));
})
EM_JS(void, page_snapshot, (double through, const char* bytes, int length, int only), {
    Module.host.snapshot(through, HEAPU8.slice(bytes, bytes + length), Boolean(only));
})
EM_JS(void, page_set_aside, (const char* record, int length, const char* why, int why_length), {
    Module.host.setAside(UTF8ToString(record, length), UTF8ToString(why, why_length));
})
EM_JS(void, page_save_stored, (), { Module.host.saveStored(); })
EM_JS(void, page_preferences, (const char* json, int length), {
    Module.host.preferences(UTF8ToString(json, length));
})
EM_JS(void, page_save_file, (const char* name, int name_length, const char* mime, int mime_length,
                             const char* bytes, int length, int seal, int parts), {
    Module.host.saveFile(UTF8ToString(name, name_length), UTF8ToString(mime, mime_length),
                         HEAPU8.slice(bytes, bytes + length), seal !== 0, parts !== 0);
})
EM_JS(void, page_file_part, (const char* bytes, int length, int seal), {
    Module.host.filePart(HEAPU8.subarray(bytes, bytes + length), seal !== 0);
})
EM_JS(void, page_forget_parts, (), { Module.host.forgetParts(); })
EM_JS(void, page_rewrite, (double through, const char* bytes, int length), {
    Module.host.rewrite(through, HEAPU8.slice(bytes, bytes + length));
})
EM_JS(void, page_unlock, (const char* passcode, int length), {
    Module.host.unlock(UTF8ToString(passcode, length));
})
EM_JS(void, page_change_passcode, (const char* was, int was_length, const char* now, int now_length,
                                   double through, const char* bytes, int length), {
    Module.host.changePasscode(UTF8ToString(was, was_length), UTF8ToString(now, now_length),
                               through, HEAPU8.slice(bytes, bytes + length));
})
EM_JS(void, page_lock, (), { Module.host.lock(); })
EM_JS(void, page_lock_after, (int minutes), { Module.host.lockAfter(minutes); })
EM_JS(void, page_open_sealed, (const char* purpose, int purpose_length, const char* name,
                               int name_length, const char* bytes, int length,
                               const char* passcode, int passcode_length), {
    Module.host.openSealed(UTF8ToString(purpose, purpose_length), UTF8ToString(name, name_length),
                           HEAPU8.slice(bytes, bytes + length),
                           UTF8ToString(passcode, passcode_length));
})
EM_JS(void, page_wipe, (), { Module.host.wipe(); })
EM_JS(void, page_install, (), { Module.host.install(); })
EM_JS(void, page_pick_file, (const char* purpose, int purpose_length, const char* accept,
                             int accept_length), {
    Module.host.pickFile(UTF8ToString(purpose, purpose_length),
                         UTF8ToString(accept, accept_length));
})
EM_JS(void, page_print, (const char* title, int title_length, const char* html, int length), {
    Module.host.print(UTF8ToString(title, title_length), UTF8ToString(html, length));
})
EM_JS(void, page_show_codes, (const char* bytes, int length), {
    Module.host.showCodes(HEAPU8.slice(bytes, bytes + length));
})
EM_JS(void, page_read_codes, (), { Module.host.readCodes(); })
EM_JS(void, page_announce, (const char* text, int length), {
    Module.host.announce(UTF8ToString(text, length));
})
EM_JS(void, page_plan, (const char* bytes, int length), {
    Module.host.plan(HEAPU8.slice(bytes, bytes + length));
})
EM_JS(void, page_take_over, (), { Module.host.takeOver(); })
EM_JS(void, page_keep_awake, (int on), { Module.host.keepAwake(on !== 0); })
EM_JS(void, page_persist, (), { Module.host.persist(); })
EM_JS(void, page_vibrate, (int milliseconds), { Module.host.vibrate(milliseconds); })
EM_JS(void, page_chime, (int final), { Module.host.chime(final !== 0); })
EM_JS(void, page_focus, (int node), { Module.host.focus(node >>> 0); })
EM_JS(void, page_full_screen, (int on), { Module.host.fullScreen(on !== 0); })
EM_JS(void, page_board_window, (), { Module.host.boardWindow(); })
EM_JS(void, page_switch_version, (), { Module.host.switchVersion(); })
// clang-format on

namespace tallyround::shell::host {

namespace {

int length(const std::string& text) {
    return int(text.size());
}

}  // namespace

double utc_ms() {
    return page_utc();
}
int utc_offset_minutes() {
    return page_utc_offset();
}
double steady_ms() {
    return page_steady();
}

bool paint(const std::string& utf8, float size, float scale, bool bold, int& width, int& height) {
    int measures[2] = {0, 0};
    const bool painted =
        page_paint(utf8.data(), length(utf8), size, scale, bold ? 1 : 0, measures) != 0;
    width = measures[0];
    height = measures[1];
    return painted;
}

void mirror(const std::string& json) {
    page_mirror(json.data(), length(json));
}
void colors(const std::string& names) {
    page_colors(names.data(), length(names));
}

void append(std::uint64_t key, const std::string& record) {
    page_append(double(key), record.data(), length(record));
}

void snapshot(std::uint64_t through, const std::string& bytes, bool only) {
    page_snapshot(double(through), bytes.data(), length(bytes), int(only));
}

void set_aside(const std::string& record, const std::string& why) {
    page_set_aside(record.data(), length(record), why.data(), length(why));
}
void save_stored() {
    page_save_stored();
}

void preferences(const std::string& json) {
    page_preferences(json.data(), length(json));
}

void save_file(const std::string& name, const std::string& mime, const std::string& bytes,
               bool seal, bool parts) {
    page_save_file(name.data(), length(name), mime.data(), length(mime), bytes.data(),
                   length(bytes), seal ? 1 : 0, parts ? 1 : 0);
}
void file_part(const std::string& bytes, bool seal) {
    page_file_part(bytes.data(), length(bytes), seal ? 1 : 0);
}
void forget_parts() {
    page_forget_parts();
}

void rewrite(std::uint64_t through, const std::string& bytes) {
    page_rewrite(double(through), bytes.data(), length(bytes));
}

void unlock(const std::string& passcode) {
    page_unlock(passcode.data(), length(passcode));
}

void change_passcode(const std::string& was, const std::string& now, std::uint64_t through,
                     const std::string& snapshot) {
    page_change_passcode(was.data(), length(was), now.data(), length(now), double(through),
                         snapshot.data(), length(snapshot));
}

void lock() {
    page_lock();
}
void lock_after(int minutes) {
    page_lock_after(minutes);
}

void open_sealed(const std::string& purpose, const std::string& name, const std::string& bytes,
                 const std::string& passcode) {
    page_open_sealed(purpose.data(), length(purpose), name.data(), length(name), bytes.data(),
                     length(bytes), passcode.data(), length(passcode));
}

void wipe() {
    page_wipe();
}
void install() {
    page_install();
}

void pick_file(const std::string& purpose, const std::string& accept) {
    page_pick_file(purpose.data(), length(purpose), accept.data(), length(accept));
}

void print(const std::string& title, const std::string& html) {
    page_print(title.data(), length(title), html.data(), length(html));
}

void show_codes(const std::string& bytes) {
    page_show_codes(bytes.data(), length(bytes));
}

void read_codes() {
    page_read_codes();
}

void announce(const std::string& text) {
    page_announce(text.data(), length(text));
}
void take_over() {
    page_take_over();
}
void keep_awake(bool on) {
    page_keep_awake(on ? 1 : 0);
}
void persist() {
    page_persist();
}
void vibrate(int milliseconds) {
    page_vibrate(milliseconds);
}
void chime(bool final) {
    page_chime(final ? 1 : 0);
}
void focus(std::uint32_t node) {
    page_focus(int(node));
}
void full_screen(bool on) {
    page_full_screen(on ? 1 : 0);
}
void board_window() {
    page_board_window();
}
void switch_version() {
    page_switch_version();
}
void plan(const std::string& bytes) {
    page_plan(bytes.data(), length(bytes));
}

}  // namespace tallyround::shell::host
