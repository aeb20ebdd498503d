#pragma once
#include <cstdint>
#include <string>
#include <string_view>

/// What the page does for the app: one function for each member of `Host` in js/app.mjs.
namespace tallyround::shell::host {

/// Milliseconds since 1970-01-01 UTC, and local time minus UTC in minutes.
double utc_ms();
int utc_offset_minutes();
/// The page's clock that never jumps, in milliseconds; event times count on it too.
double steady_ms();

/// Draws `utf8` on a canvas and fills the bound 2D texture with it. False if it could not.
bool paint(const std::string& utf8, float size, float scale, bool bold, int& width, int& height);

void mirror(const std::string& json);
void colors(const std::string& names);
void append(std::uint64_t key, const std::string& record);
void snapshot(std::uint64_t through, const std::string& bytes, bool only);
void preferences(const std::string& json);
void set_aside(const std::string& record, const std::string& why);
void save_stored();
void save_file(const std::string& name, const std::string& mime, const std::string& bytes,
               bool seal, bool parts);
void file_part(const std::string& bytes, bool seal);
void forget_parts();
void rewrite(std::uint64_t through, const std::string& bytes);
void unlock(const std::string& passcode);
void change_passcode(const std::string& was, const std::string& now, std::uint64_t through,
                     const std::string& snapshot);
void lock();
void lock_after(int minutes);
void open_sealed(const std::string& purpose, const std::string& name, const std::string& bytes,
                 const std::string& passcode);
void wipe();
void install();
void pick_file(const std::string& purpose, const std::string& accept);
void print(const std::string& title, const std::string& html);
void show_codes(const std::string& bytes);
void read_codes();
void announce(const std::string& text);
void take_over();
void keep_awake(bool on);
void persist();
void vibrate(int milliseconds);
void chime(bool final);
void focus(std::uint32_t node);
void switch_version();
void full_screen(bool on);
void board_window();
void plan(const std::string& bytes);

}  // namespace tallyround::shell::host
