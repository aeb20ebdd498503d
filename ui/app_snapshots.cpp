// What is written: records one by one, and snapshots, large ones in slices.
#include <algorithm>

#include "record/codec.h"
#include "ui/app_inside.h"

namespace tallyround::ui {

namespace {

/// Records after the last snapshot that make a new one worth its while.
constexpr std::uint64_t records_a_snapshot = 1000;
/// Events packed between two frames: some milliseconds' worth.
constexpr std::size_t slice = 20'000;

}  // namespace

/// Of the session's events, these are not stored yet. Very many go in as one snapshot.
void App::Inside::append(const std::vector<record::Event>& events) {
    if (events.size() > most_as_records) return append_many(events.size());
    for (const record::Event& e : events) {
        ++last_key;
        if (!storage_trouble.empty()) continue;
        std::string line = record::to_line(e);
        pending.emplace(last_key, line);
        // Behind a snapshot that holds what is nowhere else: it goes first.
        if (packing && packing->only) continue;
        effects.emplace_back(AppendRecord{last_key, std::move(line)});
    }
}

void App::Inside::append_many(std::size_t count) {
    last_key += count;
    if (!storage_trouble.empty()) return;
    snapshot_key = last_key;
    pending.emplace(last_key, "");
    write_snapshot(last_key, true);
}

void App::Inside::write_snapshot(std::uint64_t through, bool only) {
    const std::size_t count = session.log().events().size();
    packing.emplace(Packing{through, only, session.log().moves(), record::Packer(count)});
    if (count <= slice) go_on_packing();
}

/// Packs a slice more; a record that was put in another order is packed anew.
void App::Inside::go_on_packing() {
    if (!packing) return;
    if (read_only || !storage_trouble.empty()) return packing.reset();
    if (packing->moves != session.log().moves()) {
        return write_snapshot(packing->only ? last_key : packing->through, packing->only);
    }
    dirty = true;
    if (!packing->packer.step(session.log().events(), slice)) return;
    const std::uint64_t through = packing->through;
    effects.emplace_back(WriteSnapshot{through, packing->packer.take(), packing->only});
    const bool only = packing->only;
    packing.reset();
    for (auto it = pending.upper_bound(through); only && it != pending.end(); ++it)
        effects.emplace_back(AppendRecord{it->first, it->second});
}

void App::Inside::maybe_snapshot() {
    maybe_rewrite();
    if (read_only || packing || !pending.empty() || !storage_trouble.empty()) return;
    if (!snapshot_due && last_key < snapshot_key + records_a_snapshot) return;
    snapshot_due = false;
    snapshot_key = last_key;
    write_snapshot(last_key, false);
}

void App::stored(std::uint64_t key) {
    in_->pending.erase(in_->pending.begin(), in_->pending.upper_bound(key));
    if (in_->pending.empty()) {
        in_->write_trouble.clear();
        in_->maybe_snapshot();
        in_->dirty = true;
    }
}

void App::not_stored(std::uint64_t key, const std::string& reason) {
    // Tried again from `frame` after a while, and with the next thing that is written.
    in_->write_trouble = reason;
    in_->retry_key = in_->retry_key == 0 ? key : std::min(in_->retry_key, key);
    in_->retry_at = 0;
    in_->dirty = true;
}

void App::Inside::retry(const Now& now) {
    if (retry_key == 0) return;
    if (retry_at == 0) retry_at = now.steady_ms + 4000;
    if (now.steady_ms < retry_at) return;
    for (auto it = pending.lower_bound(retry_key); it != pending.end(); ++it) {
        if (it->second.empty()) {
            write_snapshot(it->first, true);
        } else {
            effects.emplace_back(AppendRecord{it->first, it->second});
        }
    }
    retry_key = 0;
}

}  // namespace tallyround::ui
