#include "record/erase.h"

#include <algorithm>
#include <map>
#include <string>
#include <string_view>

#include "record/members.h"

namespace tallyround::record {

Erasures::Erasures(std::span<const Event> events) {
    for (const Event& e : events) {
        if (const auto* erased = std::get_if<Erased>(&e.body)) {
            gone_.insert({erased->cls, erased->student});
        }
    }
}

bool Erasures::has(const ClassId& cls, const StudentId& student) const {
    return has_class(cls) || (!student.empty() && gone_.contains({cls, student}));
}

bool Erasures::add(const Erasures& more) {
    const std::size_t before = gone_.size();
    gone_.insert(more.gone_.begin(), more.gone_.end());
    return gone_.size() > before;
}

std::vector<std::string_view> Erasures::ids() const {
    std::vector<std::string_view> out;
    for (const auto& [cls, student] : gone_)
        out.push_back(student.empty() ? cls.view() : student.view());
    return out;
}

namespace {

enum class Fate { kept, changed, dropped };

/// What becomes of one event; changes it where it only names somebody who is gone.
class Purge {
  public:
    explicit Purge(const Erasures& gone) : gone_(gone), ids_(gone.ids()) {}

    Fate operator()(Event& event) {
        cls_ = {};
        Fate fate = std::visit([&](auto& body) { return look(body); }, event.body);
        if (fate != Fate::dropped && !event.extra.empty() && mentions(event.extra)) {
            event.extra.clear();
            fate = Fate::changed;
        }
        return fate;
    }

  private:
    Fate look(Erased&) { return Fate::kept; }
    Fate look(Retracted&) { return Fate::kept; }
    Fate look(Foreign& e) { return mentions(e.json) ? Fate::dropped : Fate::kept; }
    template <class B>
    Fate look(B& e) {
        if (gone_.has_class(e.cls)) return Fate::dropped;
        cls_ = e.cls;
        if constexpr (requires { e.student; }) {
            if (gone_.has(e.cls, e.student)) return Fate::dropped;
        }
        return without(e);
    }

    template <class B>
    Fate without(B&) const {
        return Fate::kept;
    }
    Fate without(PairRuled& e) const {
        return gone_.has(e.cls, e.a) || gone_.has(e.cls, e.b) ? Fate::dropped : Fate::kept;
    }
    Fate without(CompanySet& e) const { return changed(drop(e.partners)); }
    Fate without(GroupsSet& e) const {
        std::size_t n = 0;
        for (auto& group : e.groups)
            n += drop(group);
        return changed(n);
    }
    Fate without(GroupRulesSet& e) const {
        std::size_t n = std::erase_if(
            e.rules.seats, [&](const Seat& seat) { return gone_.has(cls_, seat.student); });
        for (Helper& helper : e.rules.helpers)
            n += drop(helper.students);
        return changed(n);
    }

    std::size_t drop(std::vector<StudentId>& students) const {
        return std::erase_if(students, [&](const StudentId& s) { return gone_.has(cls_, s); });
    }
    static Fate changed(std::size_t n) { return n > 0 ? Fate::changed : Fate::kept; }

    /// Of text in a form that this version does not know: better too much goes than too little.
    bool mentions(std::string_view json) const {
        return std::any_of(ids_.begin(), ids_.end(), [&](std::string_view id) {
            return json.find("\"" + std::string(id) + "\"") != std::string_view::npos;
        });
    }

    const Erasures& gone_;
    std::vector<std::string_view> ids_;
    ClassId cls_;
};

bool is_shell(const Event& e) {
    const auto* taken = std::get_if<Retracted>(&e.body);
    return taken != nullptr && taken->events.empty() && e.extra.empty();
}

}  // namespace

std::size_t purge(std::vector<Event>& events, const Erasures& gone) {
    if (gone.empty()) return 0;
    std::size_t touched = 0;
    std::map<ReplicaId, std::uint64_t> newest;
    Purge look(gone);
    for (Event& e : events) {
        std::uint64_t& last = newest[e.stamp.replica];
        last = std::max(last, e.stamp.sequence);
        const Fate fate = look(e);
        touched += fate == Fate::kept ? 0 : 1;
        if (fate != Fate::dropped) continue;
        e.body = Retracted{};
        e.extra.clear();
    }
    std::erase_if(events, [&](const Event& e) {
        return is_shell(e) && e.stamp.sequence < newest[e.stamp.replica];
    });
    return touched;
}

}  // namespace tallyround::record
