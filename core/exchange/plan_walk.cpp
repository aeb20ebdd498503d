#include "exchange/plan_walk.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "json/read.h"
#include "record/codec.h"

namespace tallyround::exchange {

namespace {

using base::Error;
using record::Event;

/// What a value is can depend on so many bytes behind it ("true" cut in two, a number's end).
constexpr std::size_t margin = 8;

/// The member's name without quotation marks and escapes.
std::string plain(std::string_view quoted) {
    if (quoted.find('\\') == std::string_view::npos) {
        return quoted.size() < 2 ? std::string() : std::string(quoted.substr(1, quoted.size() - 2));
    }
    const auto text = json::parse(quoted);
    return text ? text->get<std::string>() : std::string();
}

}  // namespace

std::size_t PlanWalker::on(std::string_view window, bool last) {
    window_ = window;
    last_ = last;
    in_ = JsonSkim(window);
    while (part_ != Part::over) {
        const std::size_t before = in_.at();
        if (step()) continue;
        in_.jump(before);
        break;
    }
    const std::size_t read = part_ == Part::over ? window.size() : in_.at();
    pass(window.substr(0, read));
    return read;
}

PlanWalk PlanWalker::take() {
    out_.checksum = checksum_.hex();
    if (keep_) out_.canonical = canonical_.hex();
    return std::move(out_);
}

/// False when it takes more bytes to know; nothing has changed then.
bool PlanWalker::step() {
    switch (part_) {
        case Part::start:
            return start();
        case Part::member:
            return member();
        case Part::after_member:
            return after_member();
        case Part::first_event:
        case Part::event:
            return event();
        case Part::after_event:
            return after_event();
        case Part::end:
            return end();
        case Part::over:
            break;
    }
    return false;
}

/// What was found holds, whatever comes behind the window.
bool PlanWalker::settled() const {
    return last_ || in_.at() + margin <= window_.size();
}

bool PlanWalker::start() {
    if (window_.starts_with("\xEF\xBB\xBF")) in_.jump(3);
    Part next = Part::end;
    if (in_.take('{')) {
        if (!in_.take('}')) next = Part::member;
    } else {
        in_.value();
    }
    if (!settled()) return false;
    part_ = next;
    if (in_.failed()) broken();
    return true;
}

bool PlanWalker::member() {
    const std::string_view quoted = in_.string();
    in_.expect(':');
    std::string name = in_.failed() ? std::string() : plain(quoted);
    const bool list = name == "events" && in_.take('[');
    const std::string_view text = list ? std::string_view() : in_.value();
    if (!settled()) return false;
    if (in_.failed()) {
        broken();
    } else if (list) {
        out_.has_events = true;
        part_ = Part::first_event;
    } else {
        keep_member(std::move(name), text);
        part_ = Part::after_member;
    }
    return true;
}

void PlanWalker::keep_member(std::string name, std::string_view text) {
    const bool stays = last_ && passed_ == 0;
    kept_ += stays ? 0 : text.size();
    out_.members[std::move(name)] = stays ? text : out_.copies.emplace_back(text);
}

bool PlanWalker::after_member() {
    const bool more = in_.take(',');
    if (!more) in_.expect('}');
    if (!settled()) return false;
    part_ = more ? Part::member : Part::end;
    if (in_.failed()) broken();
    return true;
}

bool PlanWalker::event() {
    if (part_ == Part::first_event && in_.take(']')) {
        if (!settled()) return false;
        part_ = Part::after_member;
        return true;
    }
    if (index_ >= max_plan_events) {
        in_.fail("There are more than " + std::to_string(max_plan_events) +
                 " events; that is more than can be read.");
        if (!settled()) return false;
        ++index_;
        broken();
        return true;
    }
    in_.space();
    Event& event = out_.events.emplace_back();
    std::string_view text = line_here();
    bool good = record::scan_line(text, event);
    if (good) {
        in_.jump(in_.at() + text.size());
    } else {
        text = in_.value();
    }
    if (!settled()) {
        out_.events.pop_back();
        return false;
    }
    ++index_;
    good = good || (!in_.failed() && read(text, event));
    take_event(text, good);
    part_ = Part::after_event;
    if (in_.failed()) broken();
    return true;
}

/// The event read last is a good one and is kept, or is not.
void PlanWalker::take_event(std::string_view text, bool good) {
    checksum_.add(text);
    if (!good) {
        out_.events.pop_back();
        ++out_.lost;
        return;
    }
    if (keep_) {
        const Event& event = out_.events.back();
        line_.clear();
        record::append_line(line_, event);
        canonical_.add(line_);
        out_.names.push_back(event.ref());
        if (!keep_(event)) {
            out_.events.pop_back();
            return;
        }
    }
    reserve();
}

bool PlanWalker::read(std::string_view text, Event& event) {
    if (record::scan_line(text, event)) return true;
    const std::string pointer = "/events/" + std::to_string(index_ - 1);
    const auto document = json::parse(text);
    if (!document) {
        if (!out_.bad_event) out_.bad_event = Error{pointer, document.error().message};
        return false;
    }
    auto result = record::from_json(json::Field(*document, pointer));
    if (result) {
        event = *std::move(result);
    } else if (!out_.bad_event) {
        out_.bad_event = result.error();
    }
    return result.has_value();
}

/// The rest of this line without the comma at its end, if it is of an ordinary length.
std::string_view PlanWalker::line_here() const {
    std::string_view text = window_.substr(in_.at(), 2000);
    text = text.substr(0, text.find('\n'));
    while (!text.empty() && (text.back() == ',' || text.back() == '\r' || text.back() == ' '))
        text.remove_suffix(1);
    return text;
}

/// Room for all events, guessed from the first ones.
void PlanWalker::reserve() {
    if (out_.events.size() != 65) return;
    const std::size_t left = bytes_ - std::min(bytes_, passed_ + in_.at());
    const std::size_t an_event = std::max<std::size_t>(1, (passed_ + in_.at()) / index_);
    out_.events.reserve(std::min(max_plan_events, 67 + left / an_event * 67 / 65));
}

bool PlanWalker::after_event() {
    const bool more = in_.take(',');
    const bool ends = !more && in_.take(']');
    if (!more && !ends) in_.fail("Expected a comma or the end of the events here.");
    if (!settled()) return false;
    if (in_.failed()) {
        broken();
    } else {
        part_ = more ? Part::event : Part::after_member;
    }
    return true;
}

bool PlanWalker::end() {
    in_.end();
    if (in_.failed()) {
        broken();
    } else if (last_) {
        part_ = Part::over;
    } else {
        return false;
    }
    return true;
}

/// It is not JSON from here on. Among the events, whoever takes what can be read goes on.
void PlanWalker::broken() {
    note_syntax();
    const bool among_events = part_ == Part::event || part_ == Part::after_event;
    if (among_events && salvage_ && index_ <= max_plan_events && next_line()) {
        part_ = Part::event;
    } else {
        part_ = Part::over;
    }
}

void PlanWalker::note_syntax() {
    if (out_.syntax) return;
    TextPlace place = place_;
    place.pass(window_.substr(0, in_.at()));
    out_.syntax = Error{place.text(), in_.why()};
}

/// After broken JSON: on at the next line that starts like an event, if there is one.
bool PlanWalker::next_line() {
    const std::size_t line = window_.find("\n{", in_.at());
    if (line == std::string_view::npos) return false;
    in_.jump(line + 1);
    return true;
}

void PlanWalker::pass(std::string_view read) {
    passed_ += read.size();
    place_.pass(read);
}

}  // namespace tallyround::exchange
