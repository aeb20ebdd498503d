#pragma once
#include <string_view>
#include <tuple>
#include <type_traits>
#include <variant>

#include "record/members_parts.h"

/// The one list of what each kind of event is called in files and which members it has, in the
/// order they are written. Writing, reading, scanning and the JSON Schema all walk these tables, so
/// a new kind is: a struct in event.h, an alternative of Body, a table here, a rule in fold.cpp.
namespace tallyround::record {

template <>
struct Described<ClassMade> {
    static constexpr std::string_view kind = "class_made";
    static constexpr auto list =
        std::tuple{members::need("class", &ClassMade::cls), members::need("name", &ClassMade::name),
                   members::whole("grade", &ClassMade::grade, 0, members::max_grade)};
};
template <>
struct Described<ClassRenamed> {
    static constexpr std::string_view kind = "class_renamed";
    static constexpr auto list = std::tuple{
        members::need("class", &ClassRenamed::cls), members::need("name", &ClassRenamed::name),
        members::whole("grade", &ClassRenamed::grade, 0, members::max_grade)};
};
template <>
struct Described<ClassArchived> {
    static constexpr std::string_view kind = "class_archived";
    static constexpr auto list = std::tuple{members::need("class", &ClassArchived::cls),
                                            members::need("archived", &ClassArchived::archived)};
};
template <>
struct Described<StudentAdded> {
    static constexpr std::string_view kind = "student_added";
    static constexpr auto list = std::tuple{members::need("class", &StudentAdded::cls),
                                            members::need("student", &StudentAdded::student),
                                            members::need("name", &StudentAdded::name),
                                            members::may("source_id", &StudentAdded::source_id)};
};
template <>
struct Described<StudentRenamed> {
    static constexpr std::string_view kind = "student_renamed";
    static constexpr auto list = std::tuple{members::need("class", &StudentRenamed::cls),
                                            members::need("student", &StudentRenamed::student),
                                            members::need("name", &StudentRenamed::name)};
};
template <>
struct Described<StudentLeft> {
    static constexpr std::string_view kind = "student_left";
    static constexpr auto list = std::tuple{members::need("class", &StudentLeft::cls),
                                            members::need("student", &StudentLeft::student),
                                            members::need("left", &StudentLeft::left)};
};
template <>
struct Described<PairRuled> {
    static constexpr std::string_view kind = "pair_ruled";
    static constexpr auto list =
        std::tuple{members::need("class", &PairRuled::cls), members::need("a", &PairRuled::a),
                   members::need("b", &PairRuled::b), members::need("rule", &PairRuled::rule)};
};
template <>
struct Described<CompanySet> {
    static constexpr std::string_view kind = "company_set";
    static constexpr auto list = std::tuple{members::need("class", &CompanySet::cls),
                                            members::need("student", &CompanySet::student),
                                            members::need("partners", &CompanySet::partners)};
};
template <>
struct Described<OwnSkillSet> {
    static constexpr std::string_view kind = "own_skill_set";
    static constexpr auto list =
        std::tuple{members::need("class", &OwnSkillSet::cls),
                   members::need("skill", &OwnSkillSet::skill),
                   members::need("title", &OwnSkillSet::title),
                   members::whole("grade", &OwnSkillSet::grade, 0, members::max_grade),
                   members::may("code", &OwnSkillSet::code),
                   members::may("before", &OwnSkillSet::before)};
};
template <>
struct Described<OwnCardsSet> {
    static constexpr std::string_view kind = "own_cards_set";
    static constexpr auto list = std::tuple{members::need("class", &OwnCardsSet::cls),
                                            members::need("skill", &OwnCardsSet::skill),
                                            members::need("cards", &OwnCardsSet::cards)};
};
template <>
struct Described<CardPictureKept> {
    static constexpr std::string_view kind = "card_picture_kept";
    static constexpr auto list =
        std::tuple{members::need("class", &CardPictureKept::cls),
                   members::need("picture", &CardPictureKept::picture),
                   members::whole("width", &CardPictureKept::width, 1, members::max_pixels),
                   members::whole("height", &CardPictureKept::height, 1, members::max_pixels),
                   members::long_text("data", &CardPictureKept::data, members::max_picture)};
};
template <>
struct Described<StockSet> {
    static constexpr std::string_view kind = "stock_set";
    static constexpr auto list =
        std::tuple{members::need("class", &StockSet::cls), members::need("item", &StockSet::item),
                   members::whole("count", &StockSet::count, -1, 1'000'000)};
};

template <>
struct Described<ReadingSet> {
    static constexpr std::string_view kind = "reading_set";
    static constexpr auto list = std::tuple{members::need("class", &ReadingSet::cls),
                                            members::need("usual", &ReadingSet::usual)};
};

template <>
struct Described<BlockMade> {
    static constexpr std::string_view kind = "block_made";
    static constexpr auto list = std::tuple{members::need("class", &BlockMade::cls),
                                            members::need("block", &BlockMade::block),
                                            members::may("title", &BlockMade::title)};
};
template <>
struct Described<SkillsChosen> {
    static constexpr std::string_view kind = "skills_chosen";
    static constexpr auto list = std::tuple{members::need("class", &SkillsChosen::cls),
                                            members::need("block", &SkillsChosen::block),
                                            members::need("skills", &SkillsChosen::skills)};
};
template <>
struct Described<CenterSet> {
    static constexpr std::string_view kind = "center_set";
    static constexpr auto list =
        std::tuple{members::need("class", &CenterSet::cls),
                   members::need("block", &CenterSet::block),
                   members::need("center", &CenterSet::center),
                   members::need("center_kind", &CenterSet::kind),
                   members::may("skill", &CenterSet::skill),
                   members::may("title", &CenterSet::title),
                   members::may("instructions", &CenterSet::instructions),
                   members::may("materials", &CenterSet::materials),
                   members::whole("holds", &CenterSet::holds, 1, members::max_holds, true),
                   members::numbers("tiers", &CenterSet::tiers, 1, members::max_tier)};
};
template <>
struct Described<CenterClosed> {
    static constexpr std::string_view kind = "center_closed";
    static constexpr auto list = std::tuple{members::need("class", &CenterClosed::cls),
                                            members::need("block", &CenterClosed::block),
                                            members::need("center", &CenterClosed::center),
                                            members::need("closed", &CenterClosed::closed)};
};
template <>
struct Described<TimeSet> {
    static constexpr std::string_view kind = "time_set";
    static constexpr auto list = std::tuple{
        members::need("class", &TimeSet::cls), members::need("block", &TimeSet::block),
        members::need("periods", &TimeSet::periods), members::need("timing", &TimeSet::timing)};
};
template <>
struct Described<DevicesSet> {
    static constexpr std::string_view kind = "devices_set";
    static constexpr auto list = std::tuple{
        members::need("class", &DevicesSet::cls), members::need("block", &DevicesSet::block),
        members::whole("devices", &DevicesSet::devices, 0, members::max_devices)};
};
template <>
struct Described<ReadySet> {
    static constexpr std::string_view kind = "ready_set";
    static constexpr auto list = std::tuple{
        members::need("class", &ReadySet::cls), members::need("block", &ReadySet::block),
        members::need("item", &ReadySet::item), members::need("ready", &ReadySet::ready)};
};
template <>
struct Described<GroupsSet> {
    static constexpr std::string_view kind = "groups_set";
    static constexpr auto list = std::tuple{members::need("class", &GroupsSet::cls),
                                            members::need("block", &GroupsSet::block),
                                            members::need("groups", &GroupsSet::groups)};
};
template <>
struct Described<ChartSet> {
    static constexpr std::string_view kind = "chart_set";
    static constexpr auto list =
        std::tuple{members::need("class", &ChartSet::cls), members::need("block", &ChartSet::block),
                   members::need("chart", &ChartSet::chart)};
};

template <>
struct Described<GroupRulesSet> {
    static constexpr std::string_view kind = "group_rules_set";
    static constexpr auto list = std::tuple{members::need("class", &GroupRulesSet::cls),
                                            members::need("block", &GroupRulesSet::block),
                                            members::need("rules", &GroupRulesSet::rules)};
};
template <>
struct Described<ChartRulesSet> {
    static constexpr std::string_view kind = "chart_rules_set";
    static constexpr auto list = std::tuple{members::need("class", &ChartRulesSet::cls),
                                            members::need("block", &ChartRulesSet::block),
                                            members::need("rules", &ChartRulesSet::rules)};
};
template <>
struct Described<AbsenceSet> {
    static constexpr std::string_view kind = "absence_set";
    static constexpr auto list = std::tuple{members::need("class", &AbsenceSet::cls),
                                            members::need("block", &AbsenceSet::block),
                                            members::need("student", &AbsenceSet::student),
                                            members::need("absent", &AbsenceSet::absent)};
};
template <>
struct Described<LessonStarted> {
    static constexpr std::string_view kind = "lesson_started";
    static constexpr auto list = std::tuple{
        members::need("class", &LessonStarted::cls), members::need("block", &LessonStarted::block),
        members::whole("first_round", &LessonStarted::first_round, 0, members::max_round),
        members::whole("last_round", &LessonStarted::last_round, 0, members::max_round),
        members::ms("ends_ms", &LessonStarted::ends_ms)};
};
template <>
struct Described<PhaseBegan> {
    static constexpr std::string_view kind = "phase_began";
    static constexpr auto list = std::tuple{
        members::need("class", &PhaseBegan::cls), members::need("block", &PhaseBegan::block),
        members::need("phase", &PhaseBegan::phase),
        members::whole("round", &PhaseBegan::round, 0, members::max_round),
        members::ms("ends_ms", &PhaseBegan::ends_ms)};
};
template <>
struct Described<LessonPaused> {
    static constexpr std::string_view kind = "lesson_paused";
    static constexpr auto list = std::tuple{members::need("class", &LessonPaused::cls),
                                            members::need("block", &LessonPaused::block),
                                            members::ms("left_ms", &LessonPaused::left_ms)};
};
template <>
struct Described<LessonResumed> {
    static constexpr std::string_view kind = "lesson_resumed";
    static constexpr auto list = std::tuple{members::need("class", &LessonResumed::cls),
                                            members::need("block", &LessonResumed::block),
                                            members::ms("ends_ms", &LessonResumed::ends_ms)};
};
template <>
struct Described<TimeAdded> {
    static constexpr std::string_view kind = "time_added";
    static constexpr auto list = std::tuple{members::need("class", &TimeAdded::cls),
                                            members::need("block", &TimeAdded::block),
                                            members::ms("add_ms", &TimeAdded::add_ms)};
};
template <>
struct Described<LessonEnded> {
    static constexpr std::string_view kind = "lesson_ended";
    static constexpr auto list = std::tuple{members::need("class", &LessonEnded::cls),
                                            members::need("block", &LessonEnded::block)};
};

template <>
struct Described<Marked> {
    static constexpr std::string_view kind = "marked";
    static constexpr auto list =
        std::tuple{members::need("class", &Marked::cls),
                   members::may("block", &Marked::block),
                   members::need("student", &Marked::student),
                   members::may("skill", &Marked::skill),
                   members::may("center", &Marked::center),
                   members::whole("round", &Marked::round, 0, members::max_round, true),
                   members::need("level", &Marked::level),
                   members::may("help", &Marked::help),
                   members::may("slip", &Marked::slip)};
};
template <>
struct Described<FlagSet> {
    static constexpr std::string_view kind = "flag_set";
    static constexpr auto list = std::tuple{members::need("class", &FlagSet::cls),
                                            members::need("student", &FlagSet::student),
                                            members::need("raised", &FlagSet::raised)};
};
template <>
struct Described<Noted> {
    static constexpr std::string_view kind = "noted";
    static constexpr auto list =
        std::tuple{members::need("class", &Noted::cls), members::may("block", &Noted::block),
                   members::need("student", &Noted::student), members::may("skill", &Noted::skill),
                   members::need("text", &Noted::text)};
};
template <>
struct Described<ProceduresSet> {
    static constexpr std::string_view kind = "procedures_set";
    static constexpr auto list = std::tuple{members::need("class", &ProceduresSet::cls),
                                            members::need("text", &ProceduresSet::text)};
};
template <>
struct Described<MovePractised> {
    static constexpr std::string_view kind = "move_practised";
    static constexpr auto list = std::tuple{members::need("class", &MovePractised::cls),
                                            members::ms("took_ms", &MovePractised::took_ms)};
};
template <>
struct Described<RoundsRetimed> {
    static constexpr std::string_view kind = "rounds_retimed";
    static constexpr auto list = std::tuple{members::need("class", &RoundsRetimed::cls),
                                            members::need("block", &RoundsRetimed::block),
                                            members::ms("round_ms", &RoundsRetimed::round_ms)};
};
template <>
struct Described<Erased> {
    static constexpr std::string_view kind = "erased";
    static constexpr auto list =
        std::tuple{members::need("class", &Erased::cls), members::may("student", &Erased::student)};
};
template <>
struct Described<Retracted> {
    static constexpr std::string_view kind = "retracted";
    static constexpr auto list = std::tuple{members::need("events", &Retracted::events)};
};

namespace members {

template <class Body>
struct Tag {
    using type = Body;
};

template <class Visit, class... Bodies>
constexpr bool with_kind(std::variant<Bodies...>*, std::string_view kind, Visit& visit) {
    const auto one = [&]<class B>(Tag<B> tag) {
        if constexpr (!std::is_same_v<B, Foreign>) {
            if (kind != Described<B>::kind) return false;
            visit(tag);
            return true;
        }
        return false;
    };
    return (one(Tag<Bodies>{}) || ...);
}

}  // namespace members

/// Calls `visit(members::Tag<Body>)` for the kind of that name; false when there is none.
template <class Visit>
constexpr bool with_kind(std::string_view kind, Visit&& visit) {
    return members::with_kind(static_cast<Body*>(nullptr), kind, visit);
}

/// The names of the members that every event has.
constexpr std::string_view at_name = "at";
constexpr std::string_view by_name = "by";
constexpr std::string_view n_name = "n";
constexpr std::string_view kind_name = "kind";

}  // namespace tallyround::record
