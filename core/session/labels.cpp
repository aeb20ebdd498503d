#include "base/text.h"
#include "cards/bank.h"
#include "session/derived.h"
#include "session/history.h"

namespace tallyround::session {

namespace {

/// What one event was, in a few words. Names come from the state, or from the event itself when
/// what it made has been taken back.
class Words {
  public:
    explicit Words(const model::State& state) : state_(state) {}

    std::string operator()(const record::ClassMade& e) const { return "new class " + e.name; }
    std::string operator()(const record::ClassRenamed& e) const { return "class name " + e.name; }
    std::string operator()(const record::ClassArchived& e) const {
        return e.archived ? "archiving the class" : "bringing the class back";
    }
    std::string operator()(const record::StudentAdded& e) const { return "student " + e.name; }
    std::string operator()(const record::StudentRenamed& e) const { return "name " + e.name; }
    std::string operator()(const record::StudentLeft& e) const {
        return name(e) + (e.left ? " leaving the class" : " coming back");
    }
    std::string operator()(const record::PairRuled& e) const {
        return "rule for " + name_of(e.cls, e.a) + " and " + name_of(e.cls, e.b);
    }
    std::string operator()(const record::OwnSkillSet& e) const { return "skill " + e.title; }
    std::string operator()(const record::ReadingSet& e) const {
        return e.usual ? "keeping the usual reading" : "reading fitted to the class";
    }
    std::string operator()(const record::OwnCardsSet&) const { return "cards of your own"; }
    std::string operator()(const record::CardPictureKept&) const { return "a picture for a card"; }
    std::string operator()(const record::StockSet& e) const { return "stock of " + e.item; }
    std::string operator()(const record::ReadySet&) const { return "prep list"; }
    std::string operator()(const record::BlockMade& e) const { return "new block " + e.title; }
    std::string operator()(const record::SkillsChosen&) const { return "choice of skills"; }
    std::string operator()(const record::CenterSet& e) const {
        model::Center center;
        center.kind = e.kind;
        center.title = e.title;
        return "center " + center_title(center);
    }
    std::string operator()(const record::CenterClosed& e) const {
        return e.closed ? "closing a center" : "opening a center again";
    }
    std::string operator()(const record::TimeSet&) const { return "times"; }
    std::string operator()(const record::DevicesSet&) const { return "number of devices"; }
    std::string operator()(const record::CompanySet& e) const {
        return "who sits with " + name_of(e.cls, e.student);
    }
    std::string operator()(const record::GroupRulesSet&) const { return "what the groups keep to"; }
    std::string operator()(const record::ChartRulesSet&) const { return "what the chart keeps to"; }
    std::string operator()(const record::GroupsSet&) const { return "groups"; }
    std::string operator()(const record::ChartSet&) const { return "chart"; }
    std::string operator()(const record::AbsenceSet& e) const {
        return name(e) + (e.absent ? " absent" : " here");
    }
    std::string operator()(const record::LessonStarted&) const { return "start of the lesson"; }
    std::string operator()(const record::PhaseBegan& e) const {
        switch (e.phase) {
            case model::Phase::moving:
                return "move to round " + std::to_string(e.round);
            case model::Phase::closing:
                return "closing of the lesson";
            default:
                return "round " + std::to_string(e.round);
        }
    }
    std::string operator()(const record::LessonPaused&) const { return "pause"; }
    std::string operator()(const record::LessonResumed&) const { return "end of the pause"; }
    std::string operator()(const record::TimeAdded&) const { return "change of time"; }
    std::string operator()(const record::LessonEnded&) const { return "end of the lesson"; }
    std::string operator()(const record::Marked& e) const { return "mark for " + name(e); }
    std::string operator()(const record::FlagSet& e) const {
        return e.raised ? "flag of " + name(e) : "lowering the flag of " + name(e);
    }
    std::string operator()(const record::Noted& e) const { return "note on " + name(e); }
    std::string operator()(const record::ProceduresSet&) const { return "procedures"; }
    std::string operator()(const record::MovePractised&) const { return "practice move"; }
    std::string operator()(const record::RoundsRetimed&) const { return "length of the rounds"; }
    std::string operator()(const record::Erased&) const { return "deleting for good"; }
    std::string operator()(const record::Retracted&) const { return "taking back a mark"; }
    std::string operator()(const record::Foreign&) const { return "a change"; }

  private:
    std::string name_of(const model::ClassId& cls_id, const model::StudentId& id) const {
        const model::Class* cls = state_.find_class(cls_id);
        const model::Student* student = cls == nullptr ? nullptr : cls->student(id);
        return student == nullptr ? "a student" : student->name;
    }
    template <class Event>
    std::string name(const Event& e) const {
        return name_of(e.cls, e.student);
    }

    const model::State& state_;
};

template <class Event>
std::size_t count(const record::Log& log, const History::Entry& entry) {
    std::size_t n = 0;
    for (const record::EventRef& ref : entry.events) {
        const std::ptrdiff_t place = place_of(log, ref);
        const auto events = log.events();
        if (place >= 0 && std::holds_alternative<Event>(events[std::size_t(place)].body)) ++n;
    }
    return n;
}

}  // namespace

std::string label_of(const record::Log& log, const History::Entry& entry) {
    if (entry.events.empty()) return "";
    const std::ptrdiff_t place = place_of(log, entry.events.front());
    if (place < 0) return "";
    const record::Body& first = log.events()[std::size_t(place)].body;
    if (entry.events.size() > 1) {
        const std::size_t students = count<record::StudentAdded>(log, entry);
        if (students > 1) return base::count_of(students, "student", "students");
        const std::size_t marks = count<record::Marked>(log, entry);
        if (marks > 1) return base::count_of(marks, "mark", "marks");
        const std::size_t centers = count<record::CenterSet>(log, entry);
        if (centers > 1 && std::holds_alternative<record::CenterSet>(first)) {
            return base::count_of(centers, "center", "centers");
        }
        if (centers == 1 && std::holds_alternative<record::SkillsChosen>(first)) {
            return "new center";
        }
        if (centers == 1 && std::holds_alternative<record::CenterClosed>(first)) {
            return "swapping a center";
        }
    }
    return std::visit(Words(log.state()), first);
}

}  // namespace tallyround::session
