#pragma once
#include <imgui.h>

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "ui/effects.h"
#include "ui/mirror/mirror.h"

namespace tallyround::ui {

/// Time as the surroundings know it, passed into every call that needs it.
struct Now {
    std::int64_t utc_ms = 0;     ///< milliseconds since 1970-01-01 UTC
    int utc_offset_minutes = 0;  ///< local time minus UTC
    double steady_ms = 0;        ///< a clock that never jumps, any origin
};

/// The surface to draw on, in logical points.
struct Surface {
    float width = 1024;
    float height = 768;
    float scale = 1;  ///< device pixels a point
    float safe_top = 0;
    float safe_right = 0;
    float safe_bottom = 0;
    float safe_left = 0;
    bool prefers_dark = false;
    bool prefers_contrast = false;
    bool prefers_reduced_motion = false;
    bool touch = true;
};

/// What a key is for; `secure` to `flag` mean the student or group that has the keyboard, `keys`
/// opens the list of keys.
enum class Key {
    tab,
    enter,
    escape,
    up,
    down,
    left,
    right,
    undo,
    secure,
    shaky,
    stuck,
    flag,
    keys
};

struct View;
struct Painted;

/// Draws strings that the bundled font cannot (any script), supplied by the shell.
class TextPainter {
  public:
    virtual ~TextPainter() = default;
    struct Picture {
        std::uint64_t texture = 0;  ///< ImTextureID; 0 when it could not be made
        float width = 0;            ///< logical points
        float height = 0;
        float u1 = 1;
        float v1 = 1;
    };
    /// `utf8` in the device's own fonts, white on transparent, `size` points high, shaped and in
    /// its own direction. Kept by the painter; the same arguments give the same picture.
    virtual Picture paint(const std::string& utf8, float size, float scale, bool bold) = 0;
};

/// The fonts' bytes (TrueType), which must outlive the App.
struct Fonts {
    std::string_view regular;
    std::string_view bold;
};

/// The whole app behind one face. The shell feeds it input, storage answers and time, calls
/// `frame` with the canvas's list, and carries out the effects.
class App {
  public:
    App(const Fonts& fonts, TextPainter* painter, std::uint64_t entropy);
    ~App();
    App(const App&) = delete;
    App& operator=(const App&) = delete;

    // Storage ---------------------------------------------------------------------------------
    /// What storage holds: the newest good snapshot (or empty), the records after it, oldest
    /// first, one a line, and the key of the last record (0 if none). Replaces everything shown.
    void open(std::string_view snapshot, std::string_view records, std::uint64_t last_key,
              std::string_view preferences, bool read_only, const Now& now);
    /// The same in slices, for a record too large to be read between two frames: begun once, then
    /// stepped, about `most` events each time, until it says true. Until then nothing has changed.
    void begin_open(std::string snapshot, std::string records, std::uint64_t last_key,
                    std::string_view preferences, bool read_only);
    bool step_open(std::size_t most, const Now& now);
    void stored(std::uint64_t key);
    /// Storage said no; `reason` is plain words ("The device is full"). Nothing is shown as saved
    /// until `stored` is heard for it again; records are offered again by `AppendRecord`.
    void not_stored(std::uint64_t key, const std::string& reason);
    /// There is no storage at all, or what was stored has been cleared: the app goes on in memory
    /// and says so.
    void no_storage(const std::string& reason);
    /// Storage works again and holds this (as in `open`): what it has comes in beside what is
    /// here, and what only this page has is written. The screen stays as it is.
    void healed(std::string_view snapshot, std::string_view records, std::uint64_t last_key);
    /// After `open` or `healed`: so many stored things were found damaged or missing this time, so
    /// many lie aside in all. The person is told and offered a file (SaveStored).
    void damage(std::size_t found, std::size_t set_aside);
    /// Another tab took over: this one is read-only from now on.
    void lost_lock();
    /// Another tab wrote this record: a tab that only reads shows it, too.
    void heard(std::string_view record);
    /// Shows the board (the page was opened for it alone).
    void show_board();
    void persistence(bool granted);
    /// What is stored is sealed: the page that asks for the passcode, with `trouble` if the last
    /// one did not open it. Nothing of the class is held until `open`.
    void locked(const std::string& trouble);
    /// Whether there is a passcode now, and what became of ChangePasscode (empty when nobody
    /// asked).
    void passcode_answer(bool set, const std::string& said, bool good);
    void sealed_refused(const std::string& trouble);
    /// What became of RewriteRecord; `trouble` is empty when the old copies are gone.
    void rewritten(const std::string& trouble);
    /// How the app can be put on this device.
    enum class Installable { no, by_button, by_hand, done };
    void installable(Installable how);
    void file_picked(const std::string& purpose, const std::string& name, std::string_view bytes,
                     const Now& now);
    /// A large plan file comes in pieces, cut anywhere: `bytes` in all. Nothing of it is in the
    /// record before `file_ends`.
    void file_begins(const std::string& name, std::size_t bytes, const Now& now);
    enum class Piece {
        more,    ///< go on
        enough,  ///< no more is needed: go on with `file_ends`
        whole,   ///< it cannot be read in pieces: hand it over by `file_picked`
        again    ///< the record has changed meanwhile: begin again
    };
    Piece file_piece(std::string_view bytes, const Now& now);
    /// Nothing happens for a file that was given up. `more` is never answered.
    Piece file_ends(const Now& now);
    /// The chosen file was not read, or not to its end; `why` is plain words.
    void file_refused(const std::string& name, const std::string& why, const Now& now);
    /// The whole plan as a file, for the page that is shown when drawing is impossible.
    std::string plan_file(const Now& now) const;
    /// A newer build has been fetched and waits; it is offered when no lesson runs.
    void update_waiting();
    /// True while a lesson runs: the shell must not reload the page by itself.
    bool lesson_running() const;

    // Input -----------------------------------------------------------------------------------
    /// A finger (or the mouse's main button). `finger` tells fingers apart.
    void pointer_down(int finger, float x, float y, const Now& now);
    void pointer_move(int finger, float x, float y, const Now& now);
    void pointer_up(int finger, float x, float y, const Now& now);
    void pointer_cancel(int finger);
    void wheel(float x, float y, float dx, float dy);
    void key(Key key, const Now& now);
    /// From the mirror: the element was pressed / its text is now / editing ended / got focus.
    void activate(std::uint32_t node, const Now& now);
    void edit(std::uint32_t node, std::string_view text, const Now& now);
    void edit_done(std::uint32_t node, const Now& now);
    void focus(std::uint32_t node);

    // Frames ----------------------------------------------------------------------------------
    /// Draws on `list`, which is an open Canvas's.
    void frame(const Surface& surface, const Now& now, ImDrawList& list);
    /// Time has gone by while nothing can be seen, so nothing is drawn: the bell rings in its time.
    void unseen(const Now& now);
    /// Milliseconds until a frame is due without any input (0: at once); negative: none is.
    double next_frame_in(const Now& now) const;
    /// What the mirror must change since the last call.
    MirrorDiff take_mirror_diff();
    Effects take_effects();

    // What tests look at ------------------------------------------------------------------------
    const View& view() const;
    /// What fingers can reach in the last frame.
    const Painted& painted() const;
    /// Lines of the last frame that did not fit where they stand.
    const std::vector<std::string>& cut_lines() const;

    struct Inside;  ///< the app's own business (app_inside.h)

  private:
    std::unique_ptr<Inside> in_;
};

}  // namespace tallyround::ui
