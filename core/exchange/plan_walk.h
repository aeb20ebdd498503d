#pragma once
#include <cstddef>
#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "exchange/json_skim.h"
#include "exchange/plan_checksum.h"
#include "exchange/plan_file.h"
#include "record/event.h"

namespace tallyround::exchange {

/// What one walk through the bytes of a plan file finds. Errors are kept apart, because which of
/// them is said depends on the others.
struct PlanWalk {
    std::map<std::string, std::string_view> members;  ///< texts of all members but "events"
    std::deque<std::string> copies;                   ///< what `members` look at, if not the bytes
    bool has_events = false;
    std::vector<record::Event> events;
    /// The names of all events, where some were not kept.
    std::deque<record::EventRef> names;
    std::size_t lost = 0;
    std::optional<base::Error> syntax;     ///< the bytes are not JSON
    std::optional<base::Error> bad_event;  ///< the first event that cannot be right
    std::string checksum;                  ///< of the events' texts as they stand
    std::string canonical;  ///< of their texts as this app writes them; may be left out
};

/// Walks through a plan file, all at once or window by window, wherever it is cut.
class PlanWalker {
  public:
    using Keep = std::function<bool(const record::Event&)>;

    /// `bytes`: of the whole file. `keep`: which events are kept; the others are checked all the
    /// same.
    PlanWalker(std::size_t bytes, bool salvage, Keep keep = {})
        : bytes_(bytes), salvage_(salvage), keep_(std::move(keep)) {}

    /// Goes on; `window` begins with the first byte that is not read yet, and `last` says that it
    /// ends with the file. Returns how many bytes were read: what is left comes again, with more
    /// behind it.
    std::size_t on(std::string_view window, bool last);
    /// Nothing that may follow changes what is said.
    bool over() const { return part_ == Part::over; }
    /// Bytes of members that are kept.
    std::size_t kept() const { return kept_; }
    PlanWalk take();

  private:
    /// What comes next.
    enum class Part { start, member, after_member, first_event, event, after_event, end, over };

    bool step();
    bool start();
    bool member();
    bool after_member();
    bool event();
    bool after_event();
    bool end();
    bool settled() const;
    void keep_member(std::string name, std::string_view text);
    void take_event(std::string_view text, bool good);
    bool read(std::string_view text, record::Event& event);
    std::string_view line_here() const;
    void reserve();
    void broken();
    void note_syntax();
    bool next_line();
    void pass(std::string_view read);

    std::size_t bytes_;
    bool salvage_;
    Keep keep_;
    Part part_ = Part::start;
    std::string_view window_;
    bool last_ = false;
    JsonSkim in_{std::string_view()};
    PlanWalk out_;
    std::size_t index_ = 0;
    std::size_t passed_ = 0;  ///< bytes before the window
    TextPlace place_;         ///< where the window begins
    std::size_t kept_ = 0;
    PlanChecksum checksum_;
    PlanChecksum canonical_;
    std::string line_;
};

/// What a walk to the end comes to.
base::Result<PlanFile> conclude(PlanWalk walk);

/// Why a file of so many bytes is not read, if it is too long.
std::optional<base::Error> too_long(std::size_t bytes);
/// What is said of a sealed file.
base::Error sealed_error();

}  // namespace tallyround::exchange
