// Snapshot layout, all whole numbers little-endian:
//   8 bytes "TRSNAP\n\0", u32 version, u64 events, u64 bytes of the body, 32 hex digits: XXH3-128
//   of the bytes before it and of the body; then the body:
//   ids    varint count, each: varint length, bytes
//   lines  varint count, each: varint place (gap to the one before), varint length, bytes
//   marks  varint count, the sizes of the columns, then one column after the other, a varint a
//   mark:
//          ms and sequence as zigzag differences, counter, replica, class, block, student, skill,
//          center (places in ids), round (zigzag), level + 3 * help
#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <unordered_map>

#include "record/codec.h"
#include "record/hash.h"

namespace tallyround::record {

namespace {

constexpr std::string_view magic("TRSNAP\n\0", 8);
constexpr std::uint32_t version = 1;
constexpr std::size_t hash_at = 28;
constexpr std::size_t body_at = hash_at + 32;
constexpr std::size_t columns = 11;
/// A lesson that follows must not move all events to a larger place.
constexpr std::size_t room_to_grow = 8192;

void put_fixed(std::string& out, std::uint64_t v, int bytes) {
    for (int i = 0; i < bytes; ++i)
        out += static_cast<char>((v >> (8 * i)) & 0xFFU);
}

std::uint64_t get_fixed(std::string_view in, std::size_t at, int bytes) {
    std::uint64_t v = 0;
    for (int i = 0; i < bytes; ++i) {
        const auto byte = static_cast<unsigned char>(in[at + static_cast<std::size_t>(i)]);
        v |= std::uint64_t{byte} << (8 * i);
    }
    return v;
}

void put(std::string& out, std::uint64_t v) {
    while (v >= 0x80) {
        out += static_cast<char>((v & 0x7FU) | 0x80U);
        v >>= 7U;
    }
    out += static_cast<char>(v);
}

std::uint64_t zigzag(std::int64_t v) {
    return (static_cast<std::uint64_t>(v) << 1U) ^ static_cast<std::uint64_t>(v >> 63);
}

std::int64_t unzigzag(std::uint64_t v) {
    return static_cast<std::int64_t>((v >> 1U) ^ (0 - (v & 1U)));
}

/// Reads numbers and bytes; after running out everything reads as 0 and `good` is false.
class Input {
  public:
    Input() = default;
    explicit Input(std::string_view bytes) : rest_(bytes) {}

    std::uint64_t number() {
        std::uint64_t v = 0;
        for (unsigned shift = 0; shift < 64; shift += 7) {
            if (rest_.empty()) break;
            const auto byte = static_cast<unsigned char>(rest_.front());
            rest_.remove_prefix(1);
            v |= std::uint64_t{byte & 0x7FU} << shift;
            if (byte < 0x80) return v;
        }
        good_ = false;
        rest_ = {};
        return 0;
    }
    std::string_view bytes(std::uint64_t n) {
        if (n > rest_.size()) {
            good_ = false;
            rest_ = {};
        }
        const auto out = rest_.substr(0, static_cast<std::size_t>(n));
        rest_.remove_prefix(out.size());
        return out;
    }
    /// A count of things that take at least `each` bytes.
    std::size_t count(std::size_t each) {
        const std::uint64_t n = number();
        if (n > rest_.size() / each) good_ = false;
        return good_ ? static_cast<std::size_t>(n) : 0;
    }
    bool good() const { return good_; }
    bool at_end() const { return rest_.empty(); }

  private:
    std::string_view rest_;
    bool good_ = true;
};

struct IdTable {
    std::unordered_map<std::string, std::uint64_t> places;
    std::string text;

    /// `last` is the id asked for before in the same column: most often the same again.
    template <class Tag>
    std::uint64_t place(const base::Id<Tag>& id,
                        std::optional<std::pair<std::string, std::uint64_t>>& last) {
        if (!last || id.view() != last->first) last.emplace(id.str(), place(id.view()));
        return last->second;
    }
    std::uint64_t place(std::string_view id) {
        const auto [it, fresh] = places.try_emplace(std::string(id), places.size());
        if (fresh) {
            put(text, id.size());
            text += id;
        }
        return it->second;
    }
};

const Marked* plain_mark(const Event& e) {
    const Marked* m = e.extra.empty() ? std::get_if<Marked>(&e.body) : nullptr;
    return m != nullptr && m->slip.empty() ? m : nullptr;
}

std::string pack_body(std::span<const Event> events) {
    IdTable ids;
    std::string lines;
    std::string column[columns];
    std::uint64_t line_count = 0;
    std::size_t last_line = 0;
    Stamp last;
    std::optional<std::pair<std::string, std::uint64_t>> asked[columns];
    for (std::size_t i = 0; i < events.size(); ++i) {
        const Event& e = events[i];
        const Marked* m = plain_mark(e);
        if (!m) {
            const std::string line = to_line(e);
            put(lines, i - last_line);
            put(lines, line.size());
            lines += line;
            last_line = i;
            ++line_count;
            continue;
        }
        put(column[0], zigzag(e.stamp.ms - last.ms));
        put(column[1], zigzag(static_cast<std::int64_t>(e.stamp.sequence - last.sequence)));
        last = e.stamp;
        put(column[2], e.stamp.counter);
        put(column[3], ids.place(e.stamp.replica, asked[3]));
        put(column[4], ids.place(m->cls, asked[4]));
        put(column[5], ids.place(m->block, asked[5]));
        put(column[6], ids.place(m->student, asked[6]));
        put(column[7], ids.place(m->skill, asked[7]));
        put(column[8], ids.place(m->center, asked[8]));
        put(column[9], zigzag(m->round));
        put(column[10], static_cast<std::uint64_t>(m->level) + 3 * static_cast<unsigned>(m->help));
    }
    std::string body;
    put(body, ids.places.size());
    body += ids.text;
    put(body, line_count);
    body += lines;
    put(body, events.size() - line_count);
    for (const std::string& c : column)
        put(body, c.size());
    for (const std::string& c : column)
        body += c;
    return body;
}

tl::unexpected<base::Error> damaged() {
    return base::fail("", "The snapshot is damaged.");
}

/// Places and events of what is kept as lines.
base::Result<std::map<std::size_t, Event>> read_lines(Input& in) {
    std::map<std::size_t, Event> out;
    const std::size_t n = in.count(2);
    std::size_t place = 0;
    for (std::size_t i = 0; i < n; ++i) {
        place += static_cast<std::size_t>(in.number());
        auto event = from_line(in.bytes(in.number()));
        if (!event || !in.good()) return damaged();
        out.emplace(place, *std::move(event));
    }
    return out;
}

/// The columns of the marks, read side by side.
class Columns {
  public:
    Columns(Input& in, const std::vector<std::string_view>& ids) : ids_(ids) {
        std::uint64_t sizes[columns];
        for (std::uint64_t& size : sizes)
            size = in.number();
        for (std::size_t i = 0; i < columns; ++i)
            column_[i] = Input(in.bytes(sizes[i]));
        good_ = in.good();
    }

    /// The next mark.
    void read(Event& e) {
        Marked& m = e.body.emplace<Marked>();
        e.stamp.ms = static_cast<std::int64_t>(ms_ += difference(0));
        e.stamp.sequence = sequence_ += difference(1);
        const std::uint64_t counter = column_[2].number();
        good_ = good_ && counter <= std::numeric_limits<std::uint32_t>::max();
        e.stamp.counter = static_cast<std::uint32_t>(counter);
        id(3, e.stamp.replica);
        id(4, m.cls);
        id(5, m.block);
        id(6, m.student);
        id(7, m.skill);
        id(8, m.center);
        m.round = static_cast<int>(unzigzag(column_[9].number()));
        const std::uint64_t look = column_[10].number();
        good_ = good_ && look < 9;
        m.level = static_cast<Level>(look % 3);
        m.help = static_cast<Help>(look / 3 % 3);
    }

    /// True when all was as it must be and nothing is left.
    bool finished() const {
        return good_ && std::all_of(std::begin(column_), std::end(column_),
                                    [](const Input& c) { return c.good() && c.at_end(); });
    }

  private:
    std::uint64_t difference(std::size_t column) {
        return static_cast<std::uint64_t>(unzigzag(column_[column].number()));
    }
    template <class Tag>
    void id(std::size_t column, base::Id<Tag>& out) {
        const std::uint64_t place = column_[column].number();
        good_ = good_ && place < ids_.size();
        if (good_) out = base::Id<Tag>(ids_[static_cast<std::size_t>(place)]);
    }

    const std::vector<std::string_view>& ids_;
    Input column_[columns];
    std::uint64_t ms_ = 0;
    std::uint64_t sequence_ = 0;
    bool good_ = true;
};

base::Result<std::vector<Event>> unpack_body(std::string_view body, std::uint64_t count) {
    Input in(body);
    std::vector<std::string_view> ids(in.count(1));
    for (auto& id : ids)
        id = in.bytes(in.number());
    auto lines = read_lines(in);
    if (!lines) return tl::make_unexpected(lines.error());
    const std::size_t mark_count = in.count(columns);
    if (!in.good() || count != lines->size() + mark_count) return damaged();
    Columns marks(in, ids);
    std::vector<Event> events;
    events.reserve(static_cast<std::size_t>(count) + room_to_grow);
    auto line = lines->begin();
    for (std::size_t i = 0; i < count; ++i) {
        if (line != lines->end() && line->first == i) {
            events.push_back(std::move(line->second));
            ++line;
        } else {
            marks.read(events.emplace_back());
        }
    }
    if (line != lines->end() || !marks.finished() || !in.at_end()) return damaged();
    return events;
}

/// Of the header before its checksum and of the body.
std::string checksum(std::string_view header, std::string_view body) {
    Hasher hasher;
    hasher.add(header);
    hasher.add(body);
    return hasher.hex();
}

}  // namespace

std::string pack(std::span<const Event> events) {
    const std::string body = pack_body(events);
    std::string out(magic);
    put_fixed(out, version, 4);
    put_fixed(out, events.size(), 8);
    put_fixed(out, body.size(), 8);
    out += checksum(out, body);
    return out + body;
}

base::Result<std::vector<Event>> unpack(std::string_view bytes) {
    if (!bytes.starts_with(magic.substr(0, std::min(magic.size(), bytes.size())))) {
        return base::fail("", "This is not a snapshot.");
    }
    if (bytes.size() < body_at) return base::fail("", "The snapshot is cut short.");
    if (get_fixed(bytes, 8, 4) > version) {
        return base::fail("", "The snapshot is from a newer version of the app.");
    }
    const std::string_view body = bytes.substr(body_at);
    if (body.size() < get_fixed(bytes, 20, 8)) return base::fail("", "The snapshot is cut short.");
    if (checksum(bytes.substr(0, hash_at), body) != bytes.substr(hash_at, 32)) return damaged();
    return unpack_body(body, get_fixed(bytes, 12, 8));
}

}  // namespace tallyround::record
