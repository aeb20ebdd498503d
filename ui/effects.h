#pragma once
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace tallyround::ui {

// What the app asks of its surroundings. The shell carries these out after a frame and answers
// through App's functions where an answer is named.

/// Write one journal record and make it durable. Answer: App::stored(key) or App::not_stored(...).
/// Keys rise by one; a record is one line of UTF-8 without a newline.
struct AppendRecord {
    std::uint64_t key = 0;
    std::string record;
};

/// Write a snapshot that stands for every record up to and including `through`. When it is durable
/// the records that the older of two kept snapshots stood for may go. Answer: App::stored(through).
struct WriteSnapshot {
    std::uint64_t through = 0;
    std::string bytes;
    bool only = false;  ///< holds what is stored nowhere else; failing: App::not_stored(through)
};

/// Keep this stored record, which cannot be read, beside the others that were found damaged.
struct SetAside {
    std::string record;
    std::string why;
};

/// Hand everything that storage holds to the person as a file, what was set aside included.
struct SaveStored {};

/// Somebody was deleted for good: this snapshot stands for every record through `through`, and
/// everything that was stored before it goes. Answer: App::rewritten(...).
struct RewriteRecord {
    std::uint64_t through = 0;
    std::string bytes;
};

/// Opens what is stored with this passcode. Answer: App::open(...), or App::locked(...) again.
struct Unlock {
    std::string passcode;
};

/// Sets a passcode (`was` empty), changes it, or takes it away (`now` empty). All that is stored is
/// then written anew, as this snapshot, in one step. Answer: App::passcode_answer(...).
struct ChangePasscode {
    std::string was;
    std::string now;
    std::uint64_t through = 0;
    std::string snapshot;
};

/// Forgets the key and everything on screen, once what was written is durable.
struct LockNow {};

/// Locks when the page was hidden for so long; 0: never.
struct LockAfter {
    int minutes = 0;
};

/// Opens a sealed file. Answer: App::file_picked with what it holds, or App::sealed_refused.
struct OpenSealed {
    std::string purpose;
    std::string name;
    std::string bytes;
    std::string passcode;
};

/// Removes everything that this device stored and starts over: the way out of a forgotten passcode.
struct WipeDevice {};

/// Offers to install the app on this device, where the browser can. Answer: App::installable.
struct Install {};

/// Small settings of this device (JSON text); kept beside the journal, lost without harm.
struct WritePreferences {
    std::string json;
};

/// Keep these bytes: the next part of a large file that is being made. SaveFile with `parts` hands
/// it over, ForgetParts gives it up.
struct FilePart {
    std::string bytes;
    bool seal = false;  ///< as the SaveFile to come
};
struct ForgetParts {};

/// Hand a file to the person: download, or share where that is the only way.
struct SaveFile {
    std::string name;
    std::string mime;
    std::string bytes;
    bool seal = false;   ///< with the device's passcode
    bool parts = false;  ///< after `bytes` come all FileParts so far
};

/// Let the person choose a file. Answer: App::file_picked(purpose, name, bytes).
struct PickFile {
    std::string purpose;
    std::string accept;  ///< as in <input accept>
};

/// Show this file as codes for another device's camera, until the person closes them.
struct ShowCodes {
    std::string bytes;
};

/// Read such codes with the camera. Answer: App::file_picked("plan", name, bytes).
struct ReadCodes {};

/// Open a self-contained HTML page for printing.
struct PrintPage {
    std::string title;
    std::string html;
};

/// Say this in the polite live region.
struct Announce {
    std::string text;
};

/// This tab is read-only and wants to be the one that writes. The shell starts over with
/// App::open(...) once it holds the lock.
struct TakeOver {};

/// Keep the screen on (while a lesson runs), or let it go.
struct KeepAwake {
    bool on = false;
};

/// Ask the browser to keep the data. Answer: App::persistence(granted).
struct AskToPersist {};

/// A short vibration, where there is one.
struct Vibrate {
    int milliseconds = 0;
};

/// A short tone (only heard once the person has touched the page).
struct Chime {
    bool final = false;
};

/// Put the keyboard focus on the mirror element of this node.
struct Focus {
    std::uint32_t node = 0;
};

/// Fill the whole screen, or stop doing so (where the browser can).
struct FullScreen {
    bool on = false;
};

/// Show the board in a window of its own, beside this one.
struct BoardWindow {};

/// Start over with the build that waits.
struct SwitchVersion {};

using Effect =
    std::variant<AppendRecord, WriteSnapshot, WritePreferences, SaveFile, PickFile, PrintPage,
                 ShowCodes, ReadCodes, Announce, TakeOver, KeepAwake, AskToPersist, Vibrate, Chime,
                 Focus, SwitchVersion, FullScreen, BoardWindow, RewriteRecord, Unlock,
                 ChangePasscode, LockNow, LockAfter, OpenSealed, WipeDevice, Install, SetAside,
                 SaveStored, FilePart, ForgetParts>;
using Effects = std::vector<Effect>;

}  // namespace tallyround::ui
