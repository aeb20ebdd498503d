#include "session/conflicts.h"

#include <algorithm>
#include <functional>
#include <map>
#include <optional>
#include <set>

#include "base/text.h"
#include "session/derived.h"
#include "session/parts.h"

namespace tallyround::session {

namespace {

using record::Body;

/// One field as one event sets it.
struct Setting {
    std::string key;    ///< names the field; fields of one chart or grouping share what is before #
    std::string what;   ///< in words
    std::string value;  ///< in words
    Body take;          ///< says the field alone, see `completed`
};

std::string quoted(const std::string& text) {
    if (text.empty()) return "nothing";
    return "\"" + base::first_code_points(text, 60) + (base::length(text) > 60 ? "…" : "") + "\"";
}

/// The fields that each kind of event sets; kinds that add up have none.
class Fields {
  public:
    using Emit = std::function<void(Setting)>;
    Fields(const State& state, Emit emit) : state_(state), emit_(std::move(emit)) {}

    /// The class of which an event of this kind sets fields; none where the kind has none.
    static const ClassId* class_of(const Body& body) {
        return std::visit(
            []<class B>(const B& e) -> const ClassId* {
                if constexpr (requires(Fields fields) { fields.on(e); }) return &e.cls;
                return nullptr;
            },
            body);
    }

    template <class B>
    void operator()(const B& e) {
        if constexpr (requires { on(e); }) {
            cls_ = state_.find_class(e.cls);
            if (cls_ == nullptr) return;
            if constexpr (requires { e.block; }) {
                block_ = cls_->block(e.block);
                if (block_ == nullptr) return;
            }
            on(e);
        }
    }

  private:
    /// The whole event, said again.
    template <class B>
    void whole(const B& e, const std::string& key, std::string what, std::string value) {
        emit_({cls_->id.str() + key, std::move(what), std::move(value), Body(e)});
    }
    std::string here() const { return block_->title.empty() ? cls_->name : block_->title; }
    std::string in_block(const char* sort) const { return "/" + block_->id.str() + sort; }
    std::string name(const StudentId& id) const { return name_of(*cls_, id); }
    std::string center(const CenterId& id) const {
        const Center* c = find_center(*block_, id);
        return c == nullptr ? "no center" : center_title(*c);
    }

    void on(const record::ClassRenamed& e) {
        whole(e, "/name", "Name and grade of the class",
              quoted(e.name) + ", grade " + std::to_string(e.grade));
    }
    void on(const record::StudentAdded& e) {
        whole(record::StudentRenamed{e.cls, e.student, e.name}, "/name/" + e.student.str(),
              "Name of " + name(e.student), quoted(e.name));
    }
    void on(const record::StudentRenamed& e) {
        whole(e, "/name/" + e.student.str(), "Name of " + name(e.student), quoted(e.name));
    }
    void on(const record::StudentLeft& e) {
        whole(e, "/left/" + e.student.str(), "Is " + name(e.student) + " in the class?",
              e.left ? "has left" : "is in the class");
    }
    void on(const record::PairRuled& e) {
        static constexpr const char* words[] = {"no rule", "apart", "together"};
        whole(e, "/pair/" + e.a.str() + "/" + e.b.str(), name(e.a) + " and " + name(e.b),
              words[static_cast<std::size_t>(e.rule)]);
    }
    void on(const record::CompanySet& e) {
        whole(e, "/company/" + e.student.str(), "Who sits with " + name(e.student),
              e.partners.empty() ? "no wish" : names_of(*cls_, e.partners));
    }
    void on(const record::OwnSkillSet& e) {
        whole(e, "/skill/" + e.skill.str(), "Skill of your own", quoted(e.title));
    }
    void on(const record::OwnCardsSet& e) {
        whole(e, "/cards/" + e.skill.str(), "Your cards for " + skill_title(*cls_, e.skill),
              base::count_of(e.cards.size(), "card", "cards"));
    }
    void on(const record::StockSet& e) {
        whole(e, "/stock/" + e.item, "Stock of " + e.item,
              e.count < 0 ? "not known" : std::to_string(e.count));
    }
    void on(const record::ReadingSet& e) {
        whole(e, "/reading", "How marks are read", e.usual ? "the usual numbers" : "fitted");
    }
    void on(const record::ProceduresSet& e) {
        whole(e, "/procedures", "Procedures", quoted(e.text));
    }
    void on(const record::SkillsChosen& e) {
        std::vector<std::string> titles;
        for (const SkillId& skill : e.skills)
            titles.push_back(skill_title(*cls_, skill));
        whole(e, in_block("/skills"), "Skills of " + here(),
              titles.empty() ? "none" : base::list_of(titles));
    }
    void on(const record::CenterSet& e);
    void on(const record::CenterClosed& e) {
        whole(e, in_block("/closed/") + e.center.str(), center(e.center) + " in " + here(),
              e.closed ? "closed" : "open");
    }
    void on(const record::TimeSet& e) {
        std::string days = base::count_of(e.periods.size(), "day", "days");
        if (!e.periods.empty()) days += " from " + base::to_text(e.periods.front().date);
        whole(e, in_block("/time"), "Times of " + here(),
              days + ", " +
                  base::count_of(std::size_t(std::max(0, e.timing.rounds)), "round", "rounds") +
                  " of " + std::to_string(e.timing.round_minutes) + " min");
    }
    void on(const record::DevicesSet& e) {
        whole(e, in_block("/devices"), "Devices for " + here(), std::to_string(e.devices));
    }
    void on(const record::GroupsSet& e);
    void on(const record::ChartSet& e);
    void on(const record::GroupRulesSet& e) {
        const GroupRules& r = e.rules;
        whole(e, in_block("/group-rules"), "What the groups of " + here() + " keep to",
              base::count_of(r.seats.size() + r.locked.size() + r.helpers.size(), "rule", "rules"));
    }
    void on(const record::ChartRulesSet& e) {
        whole(e, in_block("/chart-rules"), "What the chart of " + here() + " keeps to",
              base::count_of(e.rules.rules.size(), "rule", "rules"));
    }
    void on(const record::AbsenceSet& e) {
        whole(e, in_block("/absent/") + e.student.str(), "Is " + name(e.student) + " here?",
              e.absent ? "absent" : "here");
    }

    template <class T>
    void center_field(const record::CenterSet& e, const char* field, std::string value,
                      T Center::*at, T wanted) {
        Center alone{e.center,
                     std::string(unsaid),
                     SkillId(unsaid),
                     std::string(unsaid),
                     std::string(unsaid),
                     std::string(unsaid),
                     false,
                     0};
        alone.*at = std::move(wanted);
        emit_({cls_->id.str() + in_block("/center/") + e.center.str() + "/" + field,
               std::string(field) + " of " + center(e.center) + " in " + here(), std::move(value),
               Body(set_event(e.cls, e.block, alone))});
    }

    const State& state_;
    Emit emit_;
    const Class* cls_ = nullptr;
    const Block* block_ = nullptr;
};

void Fields::on(const record::CenterSet& e) {
    const CenterKind* kind = find_center_kind(e.kind);
    center_field(e, "Kind", kind == nullptr ? e.kind : std::string(kind->title), &Center::kind,
                 e.kind);
    center_field(e, "Skill", e.skill.empty() ? "none" : skill_title(*cls_, e.skill), &Center::skill,
                 e.skill);
    center_field(e, "Title", quoted(e.title), &Center::title, e.title);
    center_field(e, "Instructions", quoted(e.instructions), &Center::instructions, e.instructions);
    center_field(e, "Materials", quoted(e.materials), &Center::materials, e.materials);
    center_field(e, "Groups at once", std::to_string(e.holds), &Center::holds, e.holds);
}

void Fields::on(const record::GroupsSet& e) {
    for (const Student& s : cls_->students) {
        int group = -1;
        for (std::size_t g = 0; g < e.groups.size(); ++g) {
            const auto& seats = e.groups[g];
            if (std::find(seats.begin(), seats.end(), s.id) != seats.end()) group = int(g);
        }
        if (group < 0) continue;
        Groups alone(std::size_t(group) + 1);
        alone.back().push_back(s.id);
        emit_({cls_->id.str() + in_block("/groups#") + s.id.str(),
               "Group of " + s.name + " in " + here(), group_name(group),
               Body(record::GroupsSet{e.cls, e.block, std::move(alone)})});
    }
}

void Fields::on(const record::ChartSet& e) {
    for (std::size_t g = 0; g < e.chart.size(); ++g) {
        for (std::size_t r = 0; r < e.chart[g].size(); ++r) {
            const CenterId wanted = e.chart[g][r];
            Chart alone(g + 1);
            alone.back().resize(r + 1);
            alone.back().back() = wanted;
            emit_(
                {cls_->id.str() + in_block("/chart#") + std::to_string(g) + "," + std::to_string(r),
                 group_name(int(g)) + ", round " + std::to_string(r + 1) + " in " + here(),
                 center(wanted), Body(record::ChartSet{e.cls, e.block, std::move(alone)})});
        }
    }
}

/// Who set a field last: before the devices went separate ways, here, and there.
struct Field {
    struct Said {
        Setting setting;
        std::size_t place = 0;
    };
    std::optional<std::string> before;
    std::optional<Said> ours;
    std::optional<Said> theirs;
};

using Table = std::map<std::string, Field>;

/// The places of what sets fields in classes of which both sides set some. Of ten years' events
/// that is next to nothing, and to say a field in words takes long.
std::vector<std::size_t> contested(const record::Log& log, const Sides& sides) {
    std::vector<std::size_t> places;
    std::set<ClassId> ours;
    std::set<ClassId> theirs;
    const auto events = log.events();
    for (std::size_t place = 0; place < events.size(); ++place) {
        const ClassId* cls = Fields::class_of(events[place].body);
        if (cls == nullptr || !log.counts(place)) continue;
        places.push_back(place);
        const record::EventRef ref = events[place].ref();
        if (sides.ours.contains(ref)) ours.insert(*cls);
        if (sides.theirs.contains(ref)) theirs.insert(*cls);
    }
    std::erase_if(places, [&](std::size_t place) {
        const ClassId& cls = *Fields::class_of(events[place].body);
        return !ours.contains(cls) || !theirs.contains(cls);
    });
    return places;
}

Table fields_of(const record::Log& log, const Sides& sides) {
    Table table;
    const auto events = log.events();
    std::size_t place = 0;
    Fields fields(log.state(), [&](Setting s) {
        Field& field = table[s.key];
        const record::EventRef ref = events[place].ref();
        if (sides.ours.contains(ref)) {
            field.ours = {std::move(s), place};
        } else if (sides.theirs.contains(ref)) {
            field.theirs = {std::move(s), place};
        } else {
            if (field.ours && field.theirs) field = {};
            field.before = std::move(s.value);
        }
    });
    for (const std::size_t one : contested(log, sides)) {
        place = one;
        std::visit(fields, events[place].body);
    }
    return table;
}

}  // namespace

bool sets_fields(const record::Event& event) {
    return Fields::class_of(event.body) != nullptr;
}

std::vector<Conflict> find_conflicts(const record::Log& merged, const Sides& sides) {
    if (sides.ours.empty() || sides.theirs.empty()) return {};
    struct Found {
        std::size_t place;
        std::string family;  ///< of a chart's or a grouping's fields
        Body all;            ///< the whole event that lost
        Conflict conflict;
    };
    std::vector<Found> found;
    std::map<std::string, std::size_t> family_size;
    for (auto& [key, field] : fields_of(merged, sides)) {
        if (!field.ours || !field.theirs) continue;
        const bool ours_won = field.ours->place > field.theirs->place;
        const auto& won = ours_won ? *field.ours : *field.theirs;
        const auto& lost = ours_won ? *field.theirs : *field.ours;
        if (won.setting.value == lost.setting.value) continue;
        // Whoever set it as it was before changed something else of the same whole.
        if (field.before && *field.before == lost.setting.value) continue;
        const std::size_t hash = key.find('#');
        const std::string family = hash == std::string::npos ? "" : key.substr(0, hash);
        ++family_size[family];
        found.push_back({lost.place,
                         family,
                         merged.events()[lost.place].body,
                         {won.setting.what, won.setting.value, lost.setting.value, ours_won,
                          lost.setting.take}});
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Found& a, const Found& b) { return a.place < b.place; });
    std::vector<Conflict> out;
    std::set<std::string> said;
    for (Found& f : found) {
        if (!f.family.empty() && family_size[f.family] > most_cells) {
            if (!said.insert(f.family).second) continue;
            const bool chart = std::holds_alternative<record::ChartSet>(f.all);
            const std::size_t in = f.conflict.what.rfind(" in ");
            f.conflict.what = (chart ? "The whole chart" : "All groups") +
                              (in == std::string::npos ? "" : f.conflict.what.substr(in));
            f.conflict.won = f.conflict.ours_won ? "this device's" : "the other device's";
            f.conflict.lost = f.conflict.ours_won ? "the other device's" : "this device's";
            f.conflict.take = std::move(f.all);
        }
        out.push_back(std::move(f.conflict));
    }
    return out;
}

}  // namespace tallyround::session
