#include <algorithm>

#include "base/text.h"
#include "session/seating.h"
#include "ui/screens/groups.h"

namespace tallyround::ui {

namespace {

enum RuleKind { apart, together, one_of, in_group, helper };

struct KindWords {
    const char* label;
    const char* how;
};
constexpr KindWords kinds[] = {
    {"Apart", "Tap two students who never share a group."},
    {"Together", "Tap two students who always share a group."},
    {"With one of", "Tap a student, then those of whom one has to be in the group."},
    {"In a group", "Tap a student, then the group."},
    {"Helper", "Name a helper and tap whom that person goes along with."},
};

/// Rules of a block can be added once there are groups to name.
bool offered(const Scene& scene, int kind) {
    if (kind == helper) return scene.block != nullptr;
    return kind != in_group || (scene.block != nullptr && !scene.block->groups.empty());
}

void forget_choice(View& view) {
    view.rule_students.clear();
    view.rule_rounds.clear();
    view.drafts.erase("helper-name");
}

std::string name_in(const model::Class& cls, const model::StudentId& id) {
    const model::Student* s = cls.student(id);
    return s == nullptr ? "" : s->name;
}

void toggle_in(std::vector<model::StudentId>& list, const model::StudentId& id) {
    const auto it = std::find(list.begin(), list.end(), id);
    if (it == list.end()) {
        list.push_back(id);
    } else {
        list.erase(it);
    }
}

/// A tap on a student while a rule is being made: two make a pair at once, others are gathered.
void tap_student(Act& act, const model::ClassId& cls, const model::StudentId& id) {
    auto& chosen = act.view.rule_students;
    toggle_in(chosen, id);
    const int kind = act.view.rule_kind;
    if (kind == in_group && chosen.size() > 1) chosen.erase(chosen.begin());
    if ((kind != apart && kind != together) || chosen.size() < 2) return;
    const session::SetPair pair{cls, chosen[0], chosen[1],
                                kind == apart ? model::PairRule::apart : model::PairRule::together};
    chosen.clear();
    act.send(pair);
}

/// A row of pills that breaks where the width ends.
class Pills {
  public:
    Pills(Ui& ui, Column& column) : ui_(ui), column_(column), x_(column.x) {}
    ~Pills() { column_.y += used_ ? height() + gap : 0; }
    Pills(const Pills&) = delete;
    Pills& operator=(const Pills&) = delete;

    void put(std::uint32_t id, std::string_view label, bool on, Action tap) {
        const float w = std::min(column_.w, toggle_width(ui_, label));
        if (used_ && x_ + w > column_.x + column_.w) {
            x_ = column_.x;
            column_.y += height() + 6;
        }
        toggle(ui_, {x_, column_.y, w, height()}, id, label, on, std::move(tap));
        x_ += w + 6;
        used_ = true;
    }

  private:
    float height() const { return std::max(touch, ui_.scaled(40)); }
    Ui& ui_;
    Column& column_;
    float x_;
    bool used_ = false;
};

void group_pills(Ui& ui, const Scene& scene, Column& column) {
    if (scene.view.rule_students.empty()) return;
    const model::StudentId student = scene.view.rule_students.front();
    ui.open(Role::group, Ui::id({"rule-groups"}), "Group of " + name_in(*scene.cls, student),
            {column.x, column.y, column.w, touch});
    {
        Pills pills(ui, column);
        for (int g = 0; g < int(scene.block->groups.size()); ++g) {
            session::SetGroupRules wish{scene.cls->id, scene.block->id, scene.block->group_rules};
            std::erase_if(wish.rules.seats,
                          [&](const model::Seat& seat) { return seat.student == student; });
            wish.rules.seats.push_back({student, g});
            pills.put(Ui::id({"rule-group", session::group_name(g)}), session::group_name(g), false,
                      [wish](Act& act) {
                          if (act.send(wish)) act.view.rule_students.clear();
                      });
        }
    }
    ui.close();
}

void helper_fields(Ui& ui, const Scene& scene, Column& column) {
    Field f;
    f.name = "helper-name";
    f.label = "Who helps";
    f.hint = "Aide, co-teacher, a name";
    f.value = scene.view.draft(f.name);
    f.keyboard = "name";
    text_field(ui, column.row(field_height(ui), gap), f);
    const int rounds = session::wished_rounds(*scene.block);
    if (rounds == 0) return;
    column.y += ui.paragraph("Rounds in which the helper is there; none chosen means all.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(4);
    ui.open(Role::group, Ui::id({"rule-rounds"}), "Rounds with the helper",
            {column.x, column.y, column.w, touch});
    {
        Pills pills(ui, column);
        const auto& chosen = scene.view.rule_rounds;
        for (int round = 1; round <= rounds; ++round) {
            const bool on = std::find(chosen.begin(), chosen.end(), round) != chosen.end();
            const std::string label = "Round " + std::to_string(round);
            pills.put(Ui::id({"rule-round", label}), label, on, [round, on](Act& act) {
                auto& list = act.view.rule_rounds;
                if (on) {
                    std::erase(list, round);
                } else {
                    list.insert(std::upper_bound(list.begin(), list.end(), round), round);
                }
            });
        }
    }
    ui.close();
}

/// What the students chosen so far would come to, for the rules that are kept by a button.
void keep_button(Ui& ui, const Scene& scene, Column& column) {
    const View& v = scene.view;
    const std::size_t least = v.rule_kind == helper ? 1 : 2;
    Button b;
    b.id = Ui::id({"keep-rule"});
    b.label = "Keep this rule";
    b.weight = Weight::primary;
    b.disabled = v.rule_students.size() < least;
    const Rect r = column.row(std::max(52.0F, ui.scaled(50)));
    if (v.rule_kind == one_of) {
        session::SetCompany wish{scene.cls->id, {}, {}};
        if (!b.disabled) {
            wish.student = v.rule_students.front();
            wish.partners.assign(v.rule_students.begin() + 1, v.rule_students.end());
        }
        button(ui, r, b, [wish](Act& act) {
            if (act.send(wish)) forget_choice(act.view);
        });
        return;
    }
    session::SetGroupRules wish{scene.cls->id, scene.block->id, scene.block->group_rules};
    wish.rules.helpers.push_back({"", v.rule_students, v.rule_rounds});
    button(ui, r, b, [wish](Act& act) {
        session::SetGroupRules named = wish;
        named.rules.helpers.back().name = act.view.draft("helper-name");
        if (act.send(named)) forget_choice(act.view);
    });
}

std::string asking(const Scene& scene) {
    const View& v = scene.view;
    const std::string how = kinds[v.rule_kind].how;
    if (v.rule_students.empty()) return how;
    const std::string first = name_in(*scene.cls, v.rule_students.front());
    switch (v.rule_kind) {
        case apart:
        case together:
            return first + " and …? Tap the second one.";
        case in_group:
            return first + " always works in …? Tap the group.";
        case one_of: {
            std::vector<std::string> names;
            for (std::size_t i = 1; i < v.rule_students.size(); ++i)
                names.push_back(name_in(*scene.cls, v.rule_students[i]));
            return first + " sits with " +
                   (names.empty() ? "…? Tap one or more." : base::list_of(names, " or ") + ".");
        }
        default:
            return how;
    }
}

void rule_list(Ui& ui, const Scene& scene, Column& column) {
    const model::Block none;
    const auto rules =
        session::group_rules(*scene.cls, scene.block == nullptr ? none : *scene.block);
    if (rules.empty()) {
        column.y +=
            ui.paragraph("There are no rules yet.", {column.x, column.y, column.w, 0}, ui.soft());
        return;
    }
    ui.open(Role::list, Ui::id({"rules"}), "Rules", {column.x, column.y, column.w, 10});
    for (const session::Obstacle& rule : rules) {
        RowItem item;
        item.id = Ui::id({"rule", rule.text});
        item.title = rule.text;
        item.spoken = "Take away: " + rule.text;
        item.trailing = Icon::trash;
        const Rect r = column.row(row_height(ui, column.w, item), 6);
        ui.open(Role::list_item, Ui::id({"rule-item", rule.text}), "", r);
        row_item(ui, r, item, [remove = *rule.remove](Act& act) { act.send(remove); });
        ui.close();
    }
    ui.close();
}

void close_rules(Act& act) {
    forget_choice(act.view);
    close_overlay(act);
}

}  // namespace

void student_toggles(Ui& ui, const Scene& scene, Column& column, std::string_view name,
                     const std::vector<model::StudentId>& on,
                     const std::function<void(Act&, const model::StudentId&)>& tap) {
    const auto all = session::present_students(*scene.cls);
    const int across = column.w > ui.scaled(420) ? 3 : column.w > ui.scaled(240) ? 2 : 1;
    const float h = std::max(touch, ui.scaled(40));
    ui.open(Role::group, Ui::id({"students-of", name}), name, {column.x, column.y, column.w, h});
    for (std::size_t i = 0; i < all.size(); i += std::size_t(across)) {
        const Rect row = column.row(h, 6);
        for (int k = 0; k < across && i + std::size_t(k) < all.size(); ++k) {
            const model::StudentId id = all[i + std::size_t(k)]->id;
            toggle(ui, cell(row, k, across, 6), Ui::id({name, id.view()}),
                   all[i + std::size_t(k)]->name, std::find(on.begin(), on.end(), id) != on.end(),
                   [tap, id](Act& act) { tap(act, id); });
        }
    }
    ui.close();
}

void group_rules_sheet(Ui& ui, const Scene& scene) {
    if (scene.cls == nullptr) return;
    Column column = begin_sheet(ui, "Rules for groups", 2000, close_rules);
    const int kind = scene.view.rule_kind;
    ui.open(Role::group, Ui::id({"rule-kinds"}), "Kind of rule",
            {column.x, column.y, column.w, touch});
    {
        Pills pills(ui, column);
        for (int k = 0; k < int(std::size(kinds)); ++k) {
            if (!offered(scene, k)) continue;
            pills.put(Ui::id({"rule-kind", kinds[k].label}), kinds[k].label, k == kind,
                      [k](Act& act) {
                          act.view.rule_students.clear();
                          act.view.rule_kind = k;
                      });
        }
    }
    ui.close();
    column.y += ui.paragraph(asking(scene), {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    if (offered(scene, kind)) {
        if (kind == in_group) group_pills(ui, scene, column);
        if (kind == helper) helper_fields(ui, scene, column);
        if (kind == one_of || kind == helper) keep_button(ui, scene, column);
    }
    student_toggles(
        ui, scene, column, "rule-student", scene.view.rule_students,
        [cls = scene.cls->id](Act& act, const model::StudentId& id) { tap_student(act, cls, id); });
    column.skip(gap);
    column.y += ui.heading(3, "Rules so far", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(6);
    rule_list(ui, scene, column);
    Button done;
    done.id = Ui::id({"sheet-done"});
    done.label = "Done";
    done.weight = Weight::primary;
    column.skip(gap);
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), done, close_rules);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
