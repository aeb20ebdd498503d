#pragma once
#include <string>
#include <vector>

#include "base/random.h"
#include "record/event.h"
#include "record/members.h"

/// Events drawn at random for tests: every kind, small sets of ids so that they meet each other.
namespace tallyround::testing {

using base::Random;
using namespace record;  // NOLINT

struct Draw {
    Random& random;
    /// Ids are drawn from this many per sort of thing.
    std::uint64_t ids = 5;
    /// Whether students and classes are deleted for good, too.
    bool erases = false;

    int below(int n) { return static_cast<int>(random.below(static_cast<std::uint64_t>(n))); }

    template <class Tag>
    void value(base::Id<Tag>& out, std::int64_t, std::int64_t) {
        out = base::Id<Tag>("x" + std::to_string(random.below(ids)));
    }
    void value(std::string& out, std::int64_t, std::int64_t) {
        static const std::vector<std::string> pieces{"Ada", " ",    "\"", "\\",       "\n",
                                                     "\t",  "Zoë",  "李", "Ωmega",    "نور",
                                                     "/",   "\x01", "9",  "e\xCC\x81"};
        out.clear();
        for (int n = below(6); n > 0; --n)
            out += pieces[static_cast<std::size_t>(below(static_cast<int>(pieces.size())))];
    }
    void value(bool& out, std::int64_t, std::int64_t) { out = random.below(2) == 1; }
    void value(int& out, std::int64_t low, std::int64_t high) {
        out = static_cast<int>(random.between(
            low, random.below(3) == 0 ? high : std::min<std::int64_t>(high, low + 9)));
    }
    void value(std::int64_t& out, std::int64_t low, std::int64_t high) {
        out = random.below(4) == 0 ? random.between(low, high) : random.between(-5, 100'000);
    }
    template <class E>
    requires std::is_enum_v<E>
    void value(E& out, std::int64_t, std::int64_t) {
        out = static_cast<E>(random.below(std::size(Words<E>::list)));
    }
    void value(Period& out, std::int64_t, std::int64_t) {
        out = {
            base::civil_from_days(random.between(-100'000, 100'000)), below(1441), below(1441), {}};
        if (random.below(2) == 1) value(out.breaks, 0, 0);
    }
    void value(Break& out, std::int64_t, std::int64_t) { out = {below(1441), below(1441)}; }
    template <Part T>
    void value(T& out, std::int64_t, std::int64_t) {
        members(out);
    }
    void value(EventRef& out, std::int64_t, std::int64_t) {
        out.replica = ReplicaId("r" + std::to_string(random.below(3)));
        out.sequence = random.below(40);
    }
    template <class T>
    void value(std::vector<T>& out, std::int64_t low, std::int64_t high) {
        out.assign(random.below(4), T{});
        for (T& item : out)
            value(item, low, high);
    }
    void value(std::vector<CenterId>& out, std::int64_t, std::int64_t) {
        out.resize(random.below(4));
        for (CenterId& item : out) {
            item = {};
            if (random.below(4) > 0) value(item, 0, 0);
        }
    }

    template <class Owner>
    void members(Owner& out) {
        each_member<Owner>([&](const auto& m) {
            if (m.optional && random.below(3) == 0) return;
            value(out.*m.at, m.low, m.high);
        });
    }

    template <class... Bodies>
    void body_of(std::variant<Bodies...>& out, std::uint64_t which) {
        std::uint64_t i = 0;
        const auto one = [&]<class B>(record::members::Tag<B>) {
            if (i++ != which) return;
            B body;
            if constexpr (std::is_same_v<B, Foreign>) {
                body = {"weather_noted", R"({"sky":["blue",1.5,null],"who":{"a":true}})"};
            } else {
                members(body);
            }
            out = std::move(body);
        };
        (one(record::members::Tag<Bodies>{}), ...);
    }

    /// An event of the kind of that index in Body.
    Event event(std::uint64_t which) {
        Event e;
        e.stamp = {random.between(0, 1'000'000), static_cast<std::uint32_t>(random.below(3)),
                   ReplicaId("r" + std::to_string(random.below(3))), random.below(1000) + 1};
        body_of(e.body, which);
        if (random.below(8) == 0 && !std::holds_alternative<Foreign>(e.body))
            e.extra = R"({"colour":"teal","later":{"x":[1,2]}})";
        return e;
    }
    Event event() {
        while (true) {
            Event e = event(random.below(std::variant_size_v<Body>));
            if (!std::holds_alternative<Erased>(e.body)) return e;
            // Seldom a whole class: something has to be left to look at.
            if (erases) {
                Erased& erased = std::get<Erased>(e.body);
                if (erased.student.empty() && random.below(4) > 0) value(erased.student, 0, 0);
                return e;
            }
        }
    }
    Body body() { return event().body; }
};

/// A small class to start from, so that random events have something to act on.
inline std::vector<Body> some_class() {
    std::vector<Body> out;
    const ClassId cls("x0");
    const BlockId block("x1");
    out.push_back(ClassMade{cls, "6b", 6});
    for (int i = 0; i < 5; ++i) {
        const std::string n = std::to_string(i);
        out.push_back(StudentAdded{cls, StudentId("x" + n), "Student " + n, n});
    }
    out.push_back(BlockMade{cls, block, "Fractions"});
    for (int i = 0; i < 3; ++i) {
        const std::string n = std::to_string(i);
        out.push_back(
            CenterSet{cls, block, CenterId("x" + n), "teacher", SkillId("x" + n), "", "", ""});
    }
    return out;
}

}  // namespace tallyround::testing
