// Simulated lessons on the record's side of storage: what pack, unpack, scan_line, from_line,
// recover and Log make of a journal that was cut off anywhere.
//
// What is simulated. A log appends, takes back and hears of other devices; each batch of events
// goes to the device as lines under rising numbers, and every few events as a snapshot in the place
// of the older of two. A batch and a snapshot are first in the device's cache and then flushed;
// only then they count as stored, and only then the next write begins. Records go when two flushed
// snapshots stand for them. The page ends between any two of these; what is not flushed then is
// kept, dropped, torn (a batch keeps its first lines and half of one more; a snapshot keeps its
// first bytes) or done twice. While the page is closed a bit of one line or of one snapshot may
// flip. As in journal-seal.mjs each line has a checksum beside it, and a line that does not match
// is named and not read; snapshots have their own (pack). Page after page goes on with what the one
// before left.
//
// What must hold each time the journal is read:
//   - without a flip, what comes back is the events of a prefix of what was written, it holds all
//     that was stored, and it folds to the state that the log had at that time;
//   - a flipped snapshot is refused and costs nothing; a flipped line costs that line and is named,
//     and reading it in spite of that gives an event or an error, never a crash.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>

#include "../../support/random_events.h"
#include "../../support/share.h"
#include "record/codec.h"
#include "record/fold.h"
#include "record/hash.h"
#include "record/log.h"
#include "record/recover.h"

using namespace tallyround;
using namespace tallyround::record;
using testing::Draw;

namespace {

struct Line {
    std::uint64_t key = 0;
    std::string text;
    std::string checksum;
};

struct Image {
    std::uint64_t through = 0;
    std::string bytes;
};

struct Tally {
    int stored = 0, readings = 0, torn = 0, twice = 0, dropped = 0, flips = 0, snapshots = 0;
};

/// What the device holds, and the one write that is not flushed yet.
class Device {
  public:
    explicit Device(base::Random& random) : random_(random) {}

    void write(std::vector<Line> batch) { waiting_lines_ = std::move(batch); }
    void write(Image image) { waiting_image_ = std::move(image); }

    void flush() {
        for (Line& line : waiting_lines_)
            lines_.push_back(std::move(line));
        waiting_lines_.clear();
        if (!waiting_image_) return;
        older() = *std::move(waiting_image_);
        waiting_image_.reset();
        const std::uint64_t both = std::min(reach(images_[0]), reach(images_[1]));
        std::erase_if(lines_, [&](const Line& line) { return line.key <= both; });
    }

    /// The page ends: the fate of what was not flushed.
    void end(Tally& tally) {
        const auto fate = random_.below(4);
        if (waiting_lines_.empty() && !waiting_image_) return;
        if (fate == 0) ++tally.dropped;
        if (fate == 1) flush();
        if (fate == 2) tear(tally);
        if (fate == 3) {
            ++tally.twice;
            const auto lines = waiting_lines_;
            const auto image = waiting_image_;
            flush();
            if (image) older() = *image;
            for (const Line& line : lines)
                lines_.push_back(line);
        }
        waiting_lines_.clear();
        waiting_image_.reset();
    }

    /// One bit of a line or of a snapshot; says whether it was a line, and of which number.
    std::optional<std::uint64_t> flip(Tally& tally) {
        ++tally.flips;
        const auto which = static_cast<std::size_t>(random_.below(2));
        Image& image = images_[which];
        // Records go once two whole snapshots stand for them: damage to the last whole one after
        // the other was damaged or torn is beyond what two copies can bear.
        const bool spare = reach(images_[1 - which]) > 0;
        if (random_.below(2) == 0 && !image.bytes.empty() && spare) {
            turn(image.bytes);
            return 0;
        }
        if (lines_.empty()) return std::nullopt;
        Line& line = lines_[static_cast<std::size_t>(random_.below(lines_.size()))];
        turn(line.text);
        return line.key;
    }

    /// What a start reads: the newest snapshot that is whole, and the lines after it that match.
    struct Found {
        Recovered recovered;
        std::set<std::uint64_t> named;
        std::uint64_t last = 0;
    };
    Found read() const {
        Found out;
        const Image* best = nullptr;
        for (const Image& image : images_) {
            if (image.bytes.empty() || !unpack(image.bytes)) continue;
            if (best == nullptr || image.through > best->through) best = &image;
        }
        std::string lines;
        out.last = best == nullptr ? 0 : best->through;
        for (const Line& line : lines_) {
            if (line.key <= out.last && line.key <= (best ? best->through : 0)) continue;
            if (bytes_hash(line.text) == line.checksum) {
                lines += line.text + "\n";
            } else {
                out.named.insert(line.key);
                // Read in spite of that: an event or an error.
                static_cast<void>(recover("", line.text));
            }
            out.last = std::max(out.last, line.key);
        }
        out.recovered = recover(best == nullptr ? "" : best->bytes, lines);
        return out;
    }

  private:
    /// How far a snapshot stands for the records: not at all when it is damaged.
    static std::uint64_t reach(const Image& image) {
        return !image.bytes.empty() && unpack(image.bytes) ? image.through : 0;
    }
    Image& older() { return images_[reach(images_[0]) <= reach(images_[1]) ? 0 : 1]; }

    void tear(Tally& tally) {
        ++tally.torn;
        if (waiting_image_) {
            const auto size = static_cast<std::size_t>(random_.below(waiting_image_->bytes.size()));
            older() = {waiting_image_->through, waiting_image_->bytes.substr(0, size)};
        }
        if (waiting_lines_.empty()) return;
        const auto whole = static_cast<std::size_t>(random_.below(waiting_lines_.size()));
        for (std::size_t i = 0; i < whole; ++i)
            lines_.push_back(waiting_lines_[i]);
        Line half = waiting_lines_[whole];
        half.text.resize(static_cast<std::size_t>(random_.below(half.text.size())));
        lines_.push_back(half);
    }

    void turn(std::string& bytes) {
        const auto at = static_cast<std::size_t>(random_.below(bytes.size()));
        bytes[at] = static_cast<char>(bytes[at] ^ (1 << random_.below(8)));
    }

    base::Random& random_;
    std::vector<Line> lines_;
    std::array<Image, 2> images_;
    std::vector<Line> waiting_lines_;
    std::optional<Image> waiting_image_;
};

std::string hash_of(std::span<const Event> events) {
    Log log{ReplicaId("check")};
    log.load({events.begin(), events.end()});
    return state_hash(log.state());
}

class CutOffLesson {
  public:
    CutOffLesson(std::uint64_t seed, Tally& tally)
        : tally_(tally), random_(seed), draw_{random_}, device_(random_) {}

    void run() {
        for (auto pages = 1 + random_.below(4); pages > 0; --pages) {
            page();
            device_.end(tally_);
            flipped_.reset();
            if (random_.below(4) == 0) flipped_ = device_.flip(tally_);
            read();
        }
    }

  private:
    void page() {
        Log log{ReplicaId("r" + std::to_string(page_++))};
        log.load(written_);
        Log other{ReplicaId("far")};
        other.load(written_);
        if (written_.empty()) {
            for (Body& body : testing::some_class())
                note(log.append(std::move(body), 1000));
            store();
        }
        for (auto steps = random_.below(12); steps > 0; --steps) {
            const auto now = 1'000'000 + static_cast<std::int64_t>(random_.below(100'000'000));
            if (random_.below(6) == 0) {
                other.append(draw_.body(), now);
                const Event heard = other.events().back();
                if (log.merge(std::span(&heard, 1)) > 0) note(heard);
            } else {
                for (auto n = random_.below(3) + 1; n > 0; --n)
                    note(log.append(draw_.body(), now));
            }
            if (!store()) return;
            if (random_.below(4) == 0 && !snapshot(log)) return;
        }
    }

    void note(const Event& event) {
        written_.push_back(event);
        ++unstored_;
    }

    /// The events not stored yet, as one batch; false when the page ends before it is flushed.
    bool store() {
        std::vector<Line> batch;
        for (std::size_t i = written_.size() - unstored_; i < written_.size(); ++i) {
            std::string text = to_line(written_[i]);
            std::string checksum = bytes_hash(text);
            batch.push_back({++last_, std::move(text), std::move(checksum)});
            keys_.push_back(last_);
        }
        device_.write(std::move(batch));
        unstored_ = 0;
        if (random_.below(15) == 0) return false;
        device_.flush();
        tally_.stored += static_cast<int>(written_.size() - stored_);
        stored_ = written_.size();
        return true;
    }

    bool snapshot(const Log& log) {
        ++tally_.snapshots;
        device_.write(Image{last_, pack(log.events())});
        if (random_.below(4) == 0) return false;
        device_.flush();
        return true;
    }

    void read() {
        ++tally_.readings;
        const Device::Found found = device_.read();
        REQUIRE(found.recovered.unreadable.empty());
        REQUIRE(found.recovered.snapshot_problem.empty());
        Log back{ReplicaId("back")};
        back.load(found.recovered.events);
        // The events that came back, in the order in which they were written.
        std::vector<Event> kept;
        std::vector<std::uint64_t> kept_keys;
        for (std::size_t i = 0; i < written_.size(); ++i) {
            const auto& all = back.events();
            const bool there = std::any_of(all.begin(), all.end(),
                                           [&](const Event& e) { return same(e, written_[i]); });
            const bool lost_here = flipped_ && *flipped_ > 0 && keys_[i] == *flipped_;
            if (!there && i < stored_) {
                REQUIRE(lost_here);
                REQUIRE(found.named.contains(keys_[i]));
            }
            if (!there) continue;
            if (!flipped_) REQUIRE(kept.size() == i);
            kept.push_back(written_[i]);
            kept_keys.push_back(keys_[i]);
        }
        REQUIRE(kept.size() == back.events().size());
        REQUIRE(state_hash(back.state()) == hash_of(kept));
        if (!flipped_) REQUIRE(hash_of(std::span(written_).first(kept.size())) == hash_of(kept));
        written_ = std::move(kept);
        keys_ = std::move(kept_keys);
        stored_ = written_.size();
        last_ = std::max(last_, found.last);
    }

    Tally& tally_;
    base::Random random_;
    Draw draw_;
    Device device_;
    std::vector<Event> written_;  ///< in the order of the journal
    std::vector<std::uint64_t> keys_;
    std::size_t unstored_ = 0;  ///< how many of the last are not on their way yet
    std::size_t stored_ = 0;    ///< how many of the first were said to be stored
    std::uint64_t last_ = 0;
    int page_ = 0;
    std::optional<std::uint64_t> flipped_;
};

}  // namespace

TEST_CASE("lessons cut off anywhere: what was stored is there, and nothing but what was written") {
    const int lessons = testing::share("TALLYROUND_LESSONS", 600);
    constexpr std::uint64_t first_seed = 90'001;
    Tally tally;
    for (int i = 0; i < lessons; ++i) {
        CAPTURE(first_seed + static_cast<std::uint64_t>(i));
        CutOffLesson(first_seed + static_cast<std::uint64_t>(i), tally).run();
    }
    MESSAGE(lessons << " lessons, seeds from " << first_seed << ": " << tally.stored
                    << " events stored, " << tally.readings << " readings, " << tally.snapshots
                    << " snapshots, " << tally.torn << " torn, " << tally.twice << " done twice, "
                    << tally.dropped << " dropped, " << tally.flips << " flips");
    CHECK(tally.torn > lessons / 100);
    CHECK(tally.flips > lessons / 100);
}
