// The start: what storage holds becomes the record, in slices where there is much of it.
#include <algorithm>
#include <limits>

#include "ui/app_inside.h"

namespace tallyround::ui {

void App::begin_open(std::string snapshot, std::string records, std::uint64_t last_key,
                     std::string_view preferences, bool read_only) {
    in_->opening.reset(new Opening{std::move(snapshot), std::move(records), last_key,
                                   json::read_texts(preferences), read_only});
}

bool App::step_open(std::size_t most, const Now& now) {
    Inside& in = *in_;
    if (!in.opening) return true;
    Opening& opening = *in.opening;
    if (!opening.loading) {
        if (opening.recovering.step(most)) in.begin_loading(now);
        return false;
    }
    if (!opening.loading->step(most)) return false;
    in.finish_opening(now);
    return true;
}

void App::open(std::string_view snapshot, std::string_view records, std::uint64_t last_key,
               std::string_view preferences, bool read_only, const Now& now) {
    begin_open(std::string(snapshot), std::string(records), last_key, preferences, read_only);
    while (!step_open(std::numeric_limits<std::uint32_t>::max(), now)) {
    }
}

/// All is read: it is folded next, under the name that this device had.
void App::Inside::begin_loading(const Now& now) {
    opening->found = opening->recovering.take();
    opening->snapshot = {};
    std::vector<record::Event>& events = opening->found.events;
    // The name of this device goes on only while its own events are there to continue from:
    // otherwise a number could be given out twice.
    model::ReplicaId replica = session::make_replica(entropy ^ std::uint64_t(now.utc_ms));
    const json::Texts& kept = opening->preferences;
    const auto name = kept.find("replica");
    if (name != kept.end() && model::ReplicaId::fits(name->second)) {
        const model::ReplicaId known(name->second);
        const bool used = std::any_of(events.begin(), events.end(), [&](const record::Event& e) {
            return e.stamp.replica == known;
        });
        if (used && !opening->read_only) replica = known;
    }
    opening->loading.emplace(replica, std::exchange(events, {}));
}

/// Everything shown is replaced.
void App::Inside::finish_opening(const Now& now) {
    const std::unique_ptr<Opening> from = std::move(opening);
    record::Log log = from->loading->take();
    view = View{};
    read_preferences(std::move(from->preferences));
    session = session::Session(log.replica(), entropy ^ std::uint64_t(now.utc_ms));
    session.load(std::move(log));
    drop_files();
    recall_conflicts();
    rewrite_due = false;
    rewriting = false;
    rewrites_seen = 0;
    hidden.reset();
    standings = session::Standings();
    insight.forget();
    pending.clear();
    packing.reset();
    write_trouble.clear();
    storage_trouble.clear();
    last_key = from->last_key;
    note_stored(from->records);
    read_only = from->read_only;
    damaged = 0;
    set_aside = 0;
    opened = true;
    dirty = true;
    if (cls() == nullptr) {
        view.screen = Screen::home;
        view.cls = {};
    } else if (const model::Block* b = cls()->current_block();
               b != nullptr && b->lesson.running()) {
        view.screen = Screen::walk;
    }
    put_unreadable_aside(from->found);
    if (!from->found.snapshot_problem.empty()) {
        AppAct(*this, now).say(from->found.snapshot_problem, true);
    }
    note_rewrites();
    maybe_snapshot();
}

}  // namespace tallyround::ui
