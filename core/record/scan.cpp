// The fast reader of lines that `to_line` wrote. It accepts only what the JSON reader would accept
// with the same outcome; whatever is not plainly so is left to that one.
#include "record/codec.h"
#include "record/members.h"

namespace tallyround::record {

namespace {

class Scanner {
  public:
    explicit Scanner(std::string_view text) : rest_(text) {}

    bool literal(std::string_view expected) {
        if (!rest_.starts_with(expected)) return false;
        rest_.remove_prefix(expected.size());
        return true;
    }

    /// `,"name":`
    bool name(std::string_view expected) {
        const std::size_t n = expected.size();
        if (rest_.size() < n + 4 || rest_[0] != ',' || rest_[1] != '"' || rest_[n + 2] != '"' ||
            rest_[n + 3] != ':' || rest_.substr(2, n) != expected) {
            return false;
        }
        rest_.remove_prefix(n + 4);
        return true;
    }

    /// A whole number as `to_line` writes it: no leading zero, no "-0", at most 16 digits.
    bool number(std::int64_t& out, std::int64_t low, std::int64_t high) {
        std::size_t at = rest_.starts_with('-') ? 1 : 0;
        const bool minus = at == 1;
        const std::size_t first = at;
        std::int64_t v = 0;
        while (at < rest_.size() && rest_[at] >= '0' && rest_[at] <= '9' && at - first < 17) {
            v = v * 10 + (rest_[at] - '0');
            ++at;
        }
        const std::size_t digits = at - first;
        if (digits == 0 || digits > 16) return false;
        if (rest_[first] == '0' && (digits > 1 || minus)) return false;
        out = minus ? -v : v;
        if (out < low || out > high) return false;
        rest_.remove_prefix(at);
        return true;
    }

    /// Text in quotes with neither escapes nor bytes outside printable ASCII.
    bool text(std::string_view& out) {
        if (!rest_.starts_with('"')) return false;
        std::size_t at = 1;
        while (at < rest_.size() && rest_[at] != '"') {
            const char c = rest_[at];
            if (c < 0x20 || c > 0x7E || c == '\\') return false;
            ++at;
        }
        if (at >= rest_.size()) return false;
        out = rest_.substr(1, at - 1);
        rest_.remove_prefix(at + 1);
        return true;
    }

    bool at_end() const { return rest_.empty(); }

    template <class Tag>
    bool value(base::Id<Tag>& out, std::int64_t, std::int64_t) {
        std::string_view t;
        if (!text(t) || !base::Id<Tag>::fits(t)) return false;
        out = base::Id<Tag>(t);
        return true;
    }
    bool value(std::string& out, std::int64_t, std::int64_t high) {
        std::string_view t;
        if (!text(t) || t.size() > static_cast<std::size_t>(high)) return false;
        out = t;
        return true;
    }
    bool value(std::int64_t& out, std::int64_t low, std::int64_t high) {
        return number(out, low, high);
    }
    bool value(int& out, std::int64_t low, std::int64_t high) {
        std::int64_t wide = 0;
        if (!number(wide, low, high)) return false;
        out = static_cast<int>(wide);
        return true;
    }
    bool value(bool& out, std::int64_t, std::int64_t) {
        out = rest_.starts_with('t');
        return literal(out ? "true" : "false");
    }
    template <class E>
    requires std::is_enum_v<E>
    bool value(E& out, std::int64_t, std::int64_t) {
        std::string_view t;
        if (!text(t)) return false;
        std::size_t i = 0;
        for (const auto word : Words<E>::list) {
            if (t == word) {
                out = static_cast<E>(i);
                return true;
            }
            ++i;
        }
        return false;
    }
    /// Lists and times are rare: the JSON reader has them.
    template <class T>
    bool value(std::vector<T>&, std::int64_t, std::int64_t) {
        return false;
    }
    template <Part T>
    bool value(T&, std::int64_t, std::int64_t) {
        return false;
    }

    template <class Owner>
    bool members(Owner& out) {
        bool good = true;
        each_member<Owner>([&](const auto& m) {
            if (!good) return;
            if (name(m.name)) {
                good = value(out.*m.at, m.low, m.high);
            } else {
                good = m.optional;
            }
        });
        return good;
    }

  private:
    std::string_view rest_;
};

}  // namespace

bool scan_line(std::string_view line, Event& event) {
    Scanner in(line);
    std::int64_t counter = 0;
    std::int64_t sequence = 0;
    std::string_view kind;
    if (!in.literal(R"({"at":[)") || !in.number(event.stamp.ms, 0, max_ms) || !in.literal(",") ||
        !in.number(counter, 0, 0xFFFFFFFFLL) || !in.literal("]") || !in.name(by_name) ||
        !in.value(event.stamp.replica, 0, 0) || !in.name(n_name) ||
        !in.number(sequence, 1, max_ms) || !in.name(kind_name) || !in.text(kind)) {
        return false;
    }
    event.stamp.counter = static_cast<std::uint32_t>(counter);
    event.stamp.sequence = static_cast<std::uint64_t>(sequence);
    event.extra.clear();
    bool good = false;
    with_kind(kind, [&]<class B>(members::Tag<B>) {
        good = in.members(event.body.emplace<B>()) && in.literal("}") && in.at_end();
    });
    return good;
}

}  // namespace tallyround::record
