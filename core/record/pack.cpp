#include <algorithm>
#include <limits>
#include <unordered_map>
#include <utility>

#include "record/codec.h"
#include "record/hash.h"
#include "record/pack_format.h"
#include "record/packer.h"

namespace tallyround::record {

namespace {

using namespace snapshot;

void put_fixed(std::string& out, std::uint64_t v, int bytes) {
    for (int i = 0; i < bytes; ++i)
        out += static_cast<char>((v >> (8 * i)) & 0xFFU);
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

struct IdTable {
    std::unordered_map<std::size_t, std::uint64_t> places;  ///< by the name's own number
    std::string text;

    template <class Tag>
    std::uint64_t place(const base::Id<Tag>& id) {
        const auto [it, fresh] = places.try_emplace(id.hash(), places.size());
        if (fresh) {
            put(text, id.view().size());
            text += id.view();
        }
        return it->second;
    }
};

const Marked* plain_mark(const Event& e) {
    const Marked* m = e.extra.empty() ? std::get_if<Marked>(&e.body) : nullptr;
    return m != nullptr && m->slip.empty() ? m : nullptr;
}

}  // namespace

struct Packer::Inside {
    std::size_t count;
    std::size_t taken = 0;
    IdTable ids;
    std::string lines;
    std::string column[columns];
    std::uint64_t line_count = 0;
    std::size_t last_line = 0;
    Stamp last;

    std::string out;
    Hasher sum;
    std::size_t joined = 0;  ///< columns that are in `out`
    std::size_t at = 0;      ///< and so much of the next one

    void line(const Event& e) {
        const std::string text = to_line(e);
        put(lines, taken - last_line);
        put(lines, text.size());
        lines += text;
        last_line = taken;
        ++line_count;
    }

    void mark(const Stamp& stamp, const Marked& m) {
        put(column[0], zigzag(stamp.ms - last.ms));
        put(column[1], zigzag(static_cast<std::int64_t>(stamp.sequence - last.sequence)));
        last = stamp;
        put(column[2], stamp.counter);
        put(column[3], ids.place(stamp.replica));
        put(column[4], ids.place(m.cls));
        put(column[5], ids.place(m.block));
        put(column[6], ids.place(m.student));
        put(column[7], ids.place(m.skill));
        put(column[8], ids.place(m.center));
        put(column[9], zigzag(m.round));
        put(column[10], static_cast<std::uint64_t>(m.level) + 3 * static_cast<unsigned>(m.help));
    }

    /// What stands between the header and the columns.
    std::string front() const {
        std::string text;
        put(text, ids.places.size());
        text += ids.text;
        put(text, line_count);
        text += lines;
        put(text, count - line_count);
        for (const std::string& c : column)
            put(text, c.size());
        return text;
    }

    void begin_joining() {
        const std::string body = front();
        std::size_t size = body.size();
        for (const std::string& c : column)
            size += c.size();
        out = magic;
        out.reserve(body_at + size);
        put_fixed(out, version, 4);
        put_fixed(out, count, 8);
        put_fixed(out, size, 8);
        sum.add(out);
        out.append(body_at - hash_at, '0');
        out += body;
        sum.add(body);
    }

    /// Puts about `most` bytes more of the columns into `out`; true when it is whole.
    bool join(std::size_t most) {
        if (joined == columns) return true;
        if (out.empty()) begin_joining();
        while (most > 0 && joined < columns) {
            std::string& from = column[joined];
            const auto piece = std::string_view(from).substr(at, most);
            out += piece;
            sum.add(piece);
            at += piece.size();
            most -= piece.size();
            if (at < from.size()) continue;
            from = {};
            at = 0;
            ++joined;
        }
        if (joined < columns) return false;
        out.replace(hash_at, body_at - hash_at, sum.hex());
        return true;
    }
};

Packer::Packer(std::size_t count) : in_(std::make_unique<Inside>()) {
    in_->count = count;
}
Packer::~Packer() = default;
Packer::Packer(Packer&&) noexcept = default;
Packer& Packer::operator=(Packer&&) noexcept = default;

bool Packer::step(std::span<const Event> events, std::size_t most) {
    const std::size_t end = std::min(in_->count, in_->taken + most);
    for (; in_->taken < end; ++in_->taken) {
        const Event& e = events[in_->taken];
        const Marked* m = plain_mark(e);
        if (m != nullptr) {
            in_->mark(e.stamp, *m);
        } else {
            in_->line(e);
        }
    }
    return in_->taken == in_->count && in_->join(most * bytes_a_mark);
}

std::string Packer::take() {
    in_->join(std::numeric_limits<std::size_t>::max());
    return std::move(in_->out);
}

std::string pack(std::span<const Event> events) {
    Packer packer(events.size());
    packer.step(events, events.size());
    return packer.take();
}

}  // namespace tallyround::record
