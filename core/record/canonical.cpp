// A text of the state that is the same on every platform: whole numbers and counted strings only.
#define XXH_INLINE_ALL
#include <xxhash.h>

#include <charconv>
#include <memory>

#include "record/event.h"
#include "record/hash.h"

namespace tallyround::record {

namespace {

std::string hex(const XXH128_hash_t& hash) {
    XXH128_canonical_t bytes;
    XXH128_canonicalFromHash(&bytes, hash);
    static constexpr char digits[] = "0123456789abcdef";
    std::string out;
    for (const unsigned char b : bytes.digest) {
        out += digits[b >> 4U];
        out += digits[b & 15U];
    }
    return out;
}

/// Collects the text and hands it on in pieces, so that a hash needs no copy of all of it.
template <class Emit>
class Writer {
  public:
    explicit Writer(Emit emit) : emit_(std::move(emit)) { text_.reserve(piece + 4096); }
    ~Writer() { emit_(text_); }
    Writer(const Writer&) = delete;
    Writer& operator=(const Writer&) = delete;

    Writer& operator<<(std::int64_t value) {
        char digits[24];
        const auto end = std::to_chars(digits, digits + sizeof digits, value).ptr;
        text_.append(digits, static_cast<std::size_t>(end - digits));
        return sep(' ');
    }
    /// Counted, so that no text can look like another.
    Writer& operator<<(std::string_view value) {
        *this << static_cast<std::int64_t>(value.size());
        text_ += value;
        return sep(' ');
    }
    template <class Tag>
    Writer& operator<<(const base::Id<Tag>& id) {
        return *this << id.view();
    }
    Writer& operator<<(const base::Date& d) { return *this << d.year << d.month << d.day; }
    template <class T>
    requires std::is_enum_v<T> Writer& operator<<(T value) {
        return *this << static_cast<std::int64_t>(value);
    }
    template <class T>
    Writer& operator<<(const std::vector<T>& list) {
        *this << static_cast<std::int64_t>(list.size());
        for (const T& item : list)
            put(*this, item);
        return sep('\n');
    }

    Writer& operator<<(const char*) = delete;

  private:
    static constexpr std::size_t piece = std::size_t{1} << 16U;

    Writer& sep(char c) {
        text_ += c;
        if (text_.size() >= piece) {
            emit_(text_);
            text_.clear();
        }
        return *this;
    }

    std::string text_;
    Emit emit_;
};

template <class W, class T>
void put(W& w, const T& item) {
    w << item;
}
template <class W>
void put(W& w, const Student& s) {
    w << s.id << s.name << s.source_id << s.left;
}
template <class W>
void put(W& w, const Pair& p) {
    w << p.a << p.b << p.rule;
}
template <class W>
void put(W& w, const OwnCard& c) {
    w << c.prompt << c.answer;
    if (!c.picture.empty() || !c.shows.empty())
        w << std::string_view("picture") << c.picture << c.shows;
}
template <class W>
void put(W& w, const CardPicture& p) {
    w << p.id << p.width << p.height << p.data;
}
template <class W>
void put(W& w, const SlipSeen& s) {
    w << s.student << s.skill << s.slip;
}
template <class W>
void put(W& w, const Stock& s) {
    w << s.item << s.count;
}
template <class W>
void put(W& w, const OwnSkill& s) {
    w << s.id << s.title << s.grade;
    // What later versions added is written where there is some: older plans keep their hash.
    if (!s.code.empty() || !s.before.empty() || !s.cards.empty())
        w << std::string_view("own") << s.code << s.before << s.cards;
}
template <class W>
void put(W& w, const Center& c) {
    w << c.id << c.kind << c.skill << c.title << c.instructions << c.materials << c.closed;
    if (c.holds != 1) w << std::string_view("holds") << c.holds;
    if (!c.tiers.empty()) w << std::string_view("tiers") << c.tiers;
}
template <class W>
void put(W& w, const Break& b) {
    w << b.start_minute << b.end_minute;
}
template <class W>
void put(W& w, const Company& c) {
    w << c.student << c.partners;
}
template <class W>
void put(W& w, const Seat& s) {
    w << s.student << s.group;
}
template <class W>
void put(W& w, const Helper& h) {
    w << h.name << h.students << h.rounds;
}
template <class W>
void put(W& w, const ChartRule& r) {
    w << r.kind << r.center << r.then << r.round << r.times << r.groups << r.rounds;
}
template <class W>
void put(W& w, const Period& p) {
    w << p.date << p.start_minute << p.end_minute;
    if (!p.breaks.empty()) w << std::string_view("breaks") << p.breaks;
}
template <class W>
void put(W& w, const Mark& m) {
    w << m.student << m.skill << m.center << m.block << m.at_ms << m.round << m.level << m.help;
}
template <class W>
void put(W& w, const Flag& f) {
    w << f.student << f.raised_ms;
}
template <class W>
void put(W& w, const Note& n) {
    w << n.student << n.skill << n.block << n.at_ms << n.text;
}
template <class W>
void put(W& w, const Move& m) {
    w << m.at_ms << m.took_ms << m.practice;
}
template <class W>
void put(W& w, const Block& b) {
    w << b.id << b.title << b.skills << b.centers << b.periods;
    const Timing& t = b.timing;
    w << t.rounds << t.round_minutes << t.move_minutes << t.opening_minutes << t.closing_minutes;
    w << b.devices << b.groups << b.chart << b.absent;
    const Lesson& l = b.lesson;
    w << l.phase << l.round << l.first_round << l.last_round << l.started_ms << l.phase_ends_ms
      << l.paused_left_ms << l.phase_began_ms << l.phase_spent_ms << l.round_ms << b.rounds_done;
    if (!b.ready.empty()) w << std::string_view("ready") << b.ready;
    if (t.rounds_a_day != 0) w << std::string_view("a day") << t.rounds_a_day;
    const GroupRules& g = b.group_rules;
    if (!g.empty()) w << std::string_view("groups") << g.seats << g.locked << g.helpers;
    const ChartRules& r = b.chart_rules;
    if (r != ChartRules{}) w << std::string_view("chart") << r.order << r.rules;
}
template <class W>
void put(W& w, const Class& c) {
    w << c.id << c.name << c.grade << c.archived << c.students << c.pairs << c.own_skills
      << c.blocks << c.marks << c.flags << c.notes << c.moves << c.procedures << c.usual_reading;
    if (!c.slips.empty()) w << std::string_view("slips") << c.slips;
    if (!c.stock.empty()) w << std::string_view("stock") << c.stock;
    if (!c.pictures.empty()) w << std::string_view("pictures") << c.pictures;
    if (!c.company.empty()) w << std::string_view("company") << c.company;
}

template <class Emit>
void write(const State& state, Emit emit) {
    Writer<Emit> w(std::move(emit));
    w << state.classes;
}

}  // namespace

std::string canonical(const State& state) {
    std::string out;
    write(state, [&](const std::string& piece) { out += piece; });
    return out;
}

std::string state_hash(const State& state) {
    Hasher hasher;
    write(state, [&](const std::string& piece) { hasher.add(piece); });
    return hasher.hex();
}

std::string bytes_hash(std::string_view bytes) {
    return hex(XXH3_128bits(bytes.data(), bytes.size()));
}

struct Hasher::Inside {
    XXH3_state_t state;
};

Hasher::Hasher() : inside_(new Inside) {
    XXH3_128bits_reset(&inside_->state);
}

Hasher::~Hasher() = default;

void Hasher::add(std::string_view bytes) {
    XXH3_128bits_update(&inside_->state, bytes.data(), bytes.size());
}

std::string Hasher::hex() const {
    return record::hex(XXH3_128bits_digest(&inside_->state));
}

}  // namespace tallyround::record
