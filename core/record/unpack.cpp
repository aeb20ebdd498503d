#include <algorithm>
#include <limits>
#include <map>
#include <optional>

#include "record/codec.h"
#include "record/hash.h"
#include "record/pack_format.h"
#include "record/packer.h"

namespace tallyround::record {

namespace {

using namespace snapshot;

/// A lesson that follows must not move all events to a larger place.
constexpr std::size_t room_to_grow = 8192;

std::uint64_t get_fixed(std::string_view in, std::size_t at, int bytes) {
    std::uint64_t v = 0;
    for (int i = 0; i < bytes; ++i) {
        const auto byte = static_cast<unsigned char>(in[at + static_cast<std::size_t>(i)]);
        v |= std::uint64_t{byte} << (8 * i);
    }
    return v;
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

tl::unexpected<base::Error> damaged() {
    return base::fail("", "The snapshot is damaged.");
}

/// The columns of the marks, read side by side.
class Columns {
  public:
    Columns(Input& in, const std::vector<base::Name>& ids) : ids_(ids) {
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

    const std::vector<base::Name>& ids_;
    Input column_[columns];
    std::uint64_t ms_ = 0;
    std::uint64_t sequence_ = 0;
    bool good_ = true;
};

/// What is wrong with the header; nothing when all is well.
std::optional<base::Error> refusal(std::string_view bytes) {
    const auto said = [](const char* why) { return base::Error{"", why}; };
    if (!bytes.starts_with(magic.substr(0, std::min(magic.size(), bytes.size())))) {
        return said("This is not a snapshot.");
    }
    if (bytes.size() < body_at) return said("The snapshot is cut short.");
    if (get_fixed(bytes, version_at, 4) > version) {
        return said("The snapshot is from a newer version of the app.");
    }
    if (bytes.size() - body_at < get_fixed(bytes, size_at, 8)) {
        return said("The snapshot is cut short.");
    }
    return std::nullopt;
}

/// A line takes as long as so many marks.
constexpr std::size_t marks_a_line = 16;

}  // namespace

struct Unpacker::Inside {
    explicit Inside(std::string_view all) : bytes(all), trouble(refusal(all)) {
        if (trouble) return;
        count = get_fixed(bytes, count_at, 8);
        sum.add(bytes.substr(0, hash_at));
    }

    enum class Part { sum, lines, marks };

    std::string_view bytes;
    std::optional<base::Error> trouble;
    std::uint64_t count = 0;
    Part part = Part::sum;
    Hasher sum;
    std::size_t summed = body_at;  ///< up to here
    Input in;
    std::vector<base::Name> ids;
    std::size_t lines_left = 0;
    std::size_t line_at = 0;             ///< place of the last one
    std::map<std::size_t, Event> lines;  ///< by place
    std::optional<Columns> marks;
    std::vector<Event> events;

    void refuse() { trouble = damaged().value(); }

    void step(std::size_t most) {
        switch (part) {
            case Part::sum:
                return add_up(most);
            case Part::lines:
                return read_lines(std::max<std::size_t>(1, most / marks_a_line));
            case Part::marks:
                return read_events(most);
        }
    }

    void add_up(std::size_t most) {
        const std::size_t rest = bytes.size() - summed;
        const std::size_t piece = most < rest / bytes_a_mark ? most * bytes_a_mark : rest;
        sum.add(bytes.substr(summed, piece));
        summed += piece;
        if (summed < bytes.size()) return;
        if (sum.hex() != bytes.substr(hash_at, body_at - hash_at)) return refuse();
        in = Input(bytes.substr(body_at));
        ids.resize(in.count(1));
        for (base::Name& id : ids)
            id = name();
        lines_left = in.count(2);
        part = Part::lines;
    }

    base::Name name() {
        const std::string_view text = in.bytes(in.number());
        if (text.size() > ClassId::max_size) refuse();
        return base::Name(text);
    }

    void read_lines(std::size_t most) {
        for (; lines_left > 0 && most > 0; --lines_left, --most) {
            line_at += static_cast<std::size_t>(in.number());
            auto event = from_line(in.bytes(in.number()));
            if (!event || !in.good()) return refuse();
            lines.emplace(line_at, *std::move(event));
        }
        if (lines_left > 0) return;
        const std::size_t mark_count = in.count(columns);
        if (!in.good() || count != lines.size() + mark_count) return refuse();
        marks.emplace(in, ids);
        events.reserve(static_cast<std::size_t>(count) + room_to_grow);
        part = Part::marks;
        if (count == 0) read_events(0);
    }

    bool over() const { return trouble || (part == Part::marks && events.size() == count); }

    void read_events(std::size_t most) {
        const std::uint64_t end =
            std::min<std::uint64_t>(count, events.size() + std::uint64_t{most});
        auto line = lines.begin();
        while (events.size() < end) {
            if (line != lines.end() && line->first == events.size()) {
                events.push_back(std::move(line->second));
                line = lines.erase(line);
            } else {
                marks->read(events.emplace_back());
            }
        }
        const bool well = marks->finished() && in.at_end() && lines.empty();
        if (events.size() == count && !well) refuse();
    }
};

Unpacker::Unpacker(std::string_view bytes) : in_(std::make_unique<Inside>(bytes)) {}
Unpacker::~Unpacker() = default;
Unpacker::Unpacker(Unpacker&&) noexcept = default;
Unpacker& Unpacker::operator=(Unpacker&&) noexcept = default;

bool Unpacker::step(std::size_t most) {
    if (!in_->over()) in_->step(most);
    return in_->over();
}

double Unpacker::progress() const {
    if (in_->over() || in_->count == 0) return 1;
    return double(in_->events.size()) / double(in_->count);
}

base::Result<std::vector<Event>> Unpacker::take() {
    while (!step(std::numeric_limits<std::uint32_t>::max())) {
    }
    if (in_->trouble) return tl::make_unexpected(*in_->trouble);
    return std::move(in_->events);
}

base::Result<std::vector<Event>> unpack(std::string_view bytes) {
    return Unpacker(bytes).take();
}

}  // namespace tallyround::record
