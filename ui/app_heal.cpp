// What is done when storage fails, works again, or has lost something.
#include <algorithm>
#include <set>

#include "base/text.h"
#include "record/codec.h"
#include "record/recover.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

/// Records since the last snapshot, so that the next is not long in coming.
void App::Inside::note_stored(std::string_view records) {
    const auto lines = std::uint64_t(std::count(records.begin(), records.end(), '\n'));
    snapshot_key = last_key - std::min(last_key, lines);
}

void App::Inside::put_unreadable_aside(const record::Recovered& found) {
    if (read_only) return;
    for (const record::Unreadable& one : found.unreadable)
        effects.emplace_back(SetAside{one.line, one.why});
    damaged += found.unreadable.size();
    set_aside += found.unreadable.size();
}

void AppAct::save_stored() {
    fx.emplace_back(SaveStored{});
    in_.damaged = 0;
    say("A file of all that is stored was made.");
}

void App::no_storage(const std::string& reason) {
    in_->storage_trouble = reason;
    in_->pending.clear();
    in_->retry_key = 0;
    in_->opened = true;
    in_->dirty = true;
}

void App::file_refused(const std::string& name, const std::string& why, const Now& now) {
    in_->files.reading.reset();
    AppAct(*in_, now).say(name + ": " + why + " Nothing here was changed.", true);
    in_->dirty = true;
}

void App::damage(std::size_t found, std::size_t set_aside) {
    in_->damaged += found;
    in_->set_aside += set_aside;
    // What could be read goes into a snapshot at once, in the place of what was damaged.
    if (found > 0) in_->snapshot_due = true;
    in_->maybe_snapshot();
    in_->dirty = true;
}

void App::healed(std::string_view snapshot, std::string_view records, std::uint64_t last_key) {
    Inside& in = *in_;
    const record::Recovered found = record::recover(snapshot, records);
    std::set<record::EventRef> stored;
    for (const record::Event& e : found.events)
        stored.insert(e.ref());
    std::vector<record::Event> only_here;
    for (const record::Event& e : in.session.log().events()) {
        if (!stored.contains(e.ref())) only_here.push_back(e);
    }
    in.session.merge(found.events);
    in.standings = session::Standings();
    in.insight.forget();
    in.pending.clear();
    in.packing.reset();
    in.write_trouble.clear();
    in.storage_trouble.clear();
    in.retry_key = 0;
    in.last_key = last_key;
    in.note_stored(records);
    in.set_aside = 0;
    in.put_unreadable_aside(found);
    in.append(only_here);
    in.note_rewrites();
    in.remember_preferences(true);
    in.maybe_snapshot();
    in.dirty = true;
}

}  // namespace tallyround::ui
