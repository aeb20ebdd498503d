#include <algorithm>

#include "session/demo.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

/// Reads the history from the record where no Session keeps one.
template <class Use>
Answer with_history(const Context& ctx, Use&& use) {
    if (ctx.history != nullptr) return use(*ctx.history);
    History history;
    history.read(ctx.log);
    return use(history);
}

/// The retractions that count and take this event back.
std::vector<record::EventRef> retractions_of(const record::Log& log, const record::EventRef& ref) {
    std::vector<record::EventRef> out;
    const auto events = log.events();
    for (std::size_t i = 0; i < events.size(); ++i) {
        const auto* taken = std::get_if<record::Retracted>(&events[i].body);
        if (taken == nullptr || !log.counts(i)) continue;
        const auto& refs = taken->events;
        if (std::find(refs.begin(), refs.end(), ref) != refs.end()) out.push_back(events[i].ref());
    }
    return out;
}

}  // namespace

Answer on(const Context& ctx, const Undo&) {
    return with_history(ctx, [&](const History& history) -> Answer {
        const History::Entry* entry = history.undoable(ctx.log);
        if (entry == nullptr) return base::fail("", "There is nothing to take back.");
        return Decision{{record::Retracted{entry->events}},
                        "Taken back: " + label_of(ctx.log, *entry) + ".",
                        {}};
    });
}

Answer on(const Context& ctx, const Redo&) {
    return with_history(ctx, [&](const History& history) -> Answer {
        const record::EventRef* by = history.redoable();
        if (by == nullptr) return base::fail("", "There is nothing to bring back.");
        return Decision{{record::Retracted{{*by}}},
                        "Brought back: " + label_of(ctx.log, *history.redo_entry()) + ".",
                        {}};
    });
}

Answer on(const Context& ctx, const TakeBack& wish) {
    const auto events = ctx.log.events();
    if (wish.event >= events.size() ||
        !std::holds_alternative<record::Marked>(events[wish.event].body)) {
        return base::fail("Mark", "This mark is not in the record.");
    }
    if (!ctx.log.counts(wish.event)) return Decision{};
    const History::Entry entry{{events[wish.event].ref()}};
    // Named twice: asked for by name, not by Undo (see History).
    const record::EventRef& ref = entry.events.front();
    return Decision{
        {record::Retracted{{ref, ref}}}, "Taken back: " + label_of(ctx.log, entry) + ".", {}};
}

Answer on(const Context& ctx, const OpenDemo& wish) {
    Decision decision;
    decision.others = demo_events(wish.today);
    const record::EventRef first = decision.others.front().ref();
    const auto& made = std::get<record::ClassMade>(decision.others.front().body);
    decision.made.push_back(made.cls.str());
    decision.said = made.name + " is a made-up class to try things with.";
    if (ctx.log.erased().has_class(made.cls)) {
        return base::fail("Demo", "The demo class was deleted for good. Make a class of your own.");
    }
    if (place_of(ctx.log, first) < 0) return decision;
    decision.others.clear();
    const Class* there = ctx.state().find_class(made.cls);
    if (there == nullptr) {
        decision.events.push_back(record::Retracted{retractions_of(ctx.log, first)});
        return decision;
    }
    decision.said = there->name + " is here already.";
    if (there->archived) decision.events.push_back(record::ClassArchived{made.cls, false});
    return decision;
}

}  // namespace tallyround::session
