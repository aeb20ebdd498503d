#include "ui/screens/groups.h"

#include <algorithm>

#include "base/text.h"
#include "session/seating.h"

namespace tallyround::ui {

namespace {

bool same_wish(const session::MakeGroups& a, const session::MakeGroups& b) {
    return a.cls == b.cls && a.block == b.block && a.policy == b.policy &&
           a.size_max == b.size_max && a.groups == b.groups && a.seed == b.seed;
}

/// Students who are here today.
int here_today(const Scene& scene) {
    int n = 0;
    for (const model::Student* s : session::present_students(*scene.cls))
        n += model::is_absent(*scene.block, s->id) ? 0 : 1;
    return n;
}

/// Changes a choice and looks at once what would come of it; nothing is changed yet.
template <class Change>
std::function<void(Act&, int)> what_if(const Scene& scene, Change change) {
    return [wish = groups_wish(scene), change](Act& act, int value) {
        change(act.view, value);
        session::MakeGroups next = wish;
        next.policy = session::GroupPolicy(act.view.group_policy);
        next.size_max = act.view.group_size;
        next.groups = act.view.group_count;
        act.plan(next, PlanEnd::show);
    };
}

/// What the choices would come to: sizes at once, repeats as soon as they are planned.
void what_if_line(Ui& ui, const Scene& scene, Column& column) {
    const session::MakeGroups wish = groups_wish(scene);
    const int here = here_today(scene);
    if (here == 0) return;
    const int fewest = session::fewest_groups(
        session::Seating(*scene.cls, *scene.block, session::Whom::present), wish.size_max);
    const int groups = wish.groups > 0 ? wish.groups : fewest;
    std::string text = base::count_of(std::size_t(groups), "group", "groups") + " of " +
                       session::sizes_text(here, groups) + " for the " + std::to_string(here) +
                       " who are here.";
    const PlanDesk& plans = *scene.plans;
    const auto wish_of = [](const session::Command& c) {
        return std::get_if<session::MakeGroups>(&c);
    };
    const auto* shown = plans.shown ? wish_of(plans.shown->command) : nullptr;
    const bool current = shown != nullptr && same_wish(*shown, wish) &&
                         plans.shown->events == scene.session.log().events().size();
    if (current) {
        text = plans.shown->decision.said;
        const auto end = text.rfind("made.");
        if (end != std::string::npos)
            text.replace(end, 5, "(" + session::sizes_text(here, groups) + ").");
    } else if (plans.running && plans.running->end == PlanEnd::show) {
        text += " Looking at partners…";
    } else if (!plans.shown_trouble.empty()) {
        text += " " + plans.shown_trouble;
    }
    column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, ui.body(), Role::status);
    column.skip(gap);
}

void controls(Ui& ui, const Scene& scene, Column& column) {
    const View& v = scene.view;
    column.y += ui.heading(2, "How to make groups", {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(6);
    std::vector<Choice> policies;
    static constexpr const char* names[] = {"Mixed", "Similar", "Any"};
    const auto set_policy = what_if(scene, [](View& view, int i) { view.group_policy = i; });
    for (int i = 0; i < 3; ++i) {
        policies.push_back(
            {names[i], v.group_policy == i, [i, set_policy](Act& act) { set_policy(act, i); }});
    }
    choices(ui, column.row(std::max(touch, ui.scaled(46))), "How to group", policies);
    const float h = std::max(52.0F, ui.scaled(50));
    stepper(ui, column.row(h), "At most in a group", v.group_size, 2, 4, 1, "",
            what_if(scene, [](View& view, int n) { view.group_size = n; }));
    const int here = std::max(1, here_today(scene));
    const int fewest = (here + v.group_size - 1) / v.group_size;
    const int shown = v.group_count > 0 ? v.group_count : fewest;
    stepper(
        ui, column.row(h), "Number of groups", shown, fewest, std::max(fewest, here / 2), 1, "",
        what_if(scene, [fewest](View& view, int n) { view.group_count = n == fewest ? 0 : n; }));
    what_if_line(ui, scene, column);
    Button away;
    away.id = Ui::id({"groups-absent"});
    away.label = "Who is absent?";
    away.icon = Icon::people;
    away.has_popup = true;
    button(ui, column.row(h), away, open_overlay(Overlay::absent));
}

Button rules_button(const Scene& scene) {
    const std::size_t n = session::group_rules(*scene.cls, *scene.block).size();
    Button b;
    b.id = Ui::id({"group-rules"});
    b.label = n == 0 ? "Rules" : "Rules (" + std::to_string(n) + ")";
    b.spoken = n == 0 ? "Rules for groups" : "Rules for groups, " + std::to_string(n);
    b.icon = Icon::lock;
    b.has_popup = true;
    return b;
}

/// What the groups are worth, and a way out when a rule is not kept.
void summary_card(Ui& ui, const Scene& scene, Column& column) {
    const session::GroupsNow* now = scene.groups->now();
    if (now == nullptr) return;
    const PlanDesk& plans = *scene.plans;
    const bool told = !plans.said.empty() && plans.said_of == scene.block->groups;
    std::string text = told ? plans.said : now->repeats();
    if (!text.empty()) text += " ";
    column.y += ui.paragraph(text + now->rest(), {column.x, column.y, column.w, 0}, ui.body(),
                             Role::status);
    column.skip(gap);
    if (now->broken().empty()) return;
    Button b;
    b.id = Ui::id({"mend-groups"});
    b.label = "Look for the least change";
    b.has_popup = true;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
           [cls = scene.cls->id, block = scene.block->id](Act& act) {
               act.plan(session::MendGroups{cls, block}, PlanEnd::ask);
           });
}

void no_block(Ui& ui, Column& column, float h) {
    empty_state(ui, column, Icon::aim, "Choose skills first",
                "Groups belong to a block of centers; start it by choosing skills.");
    Button b;
    b.id = Ui::id({"go-skills"});
    b.label = "Choose skills";
    b.icon = Icon::back;
    b.weight = Weight::primary;
    button(ui, column.row(h), b, go(Screen::skills));
}

Button make_button(bool none) {
    Button make;
    make.id = Ui::id({"make-groups"});
    make.label = none ? "Make groups" : "Mix again";
    make.icon = none ? Icon::groups : Icon::shuffle;
    make.weight = none ? Weight::primary : Weight::plain;
    return make;
}

}  // namespace

session::MakeGroups groups_wish(const Scene& scene) {
    session::MakeGroups m{scene.cls->id, scene.block->id};
    m.policy = session::GroupPolicy(scene.view.group_policy);
    m.size_max = scene.view.group_size;
    m.groups = scene.view.group_count;
    m.seed = scene.view.group_seed;
    return m;
}

void groups_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const bool none = scene.block == nullptr || scene.block->groups.empty();
    const char* lead =
        none ? "Groups of at most four. Mixed puts stronger and weaker standings together, similar "
               "puts students with like needs together."
             : "Tap a student to see what each swap would do; tap another to swap. Or hold and "
               "drag.";
    Column column = begin_page(ui, area, "groups", "Groups", lead);
    const float h = std::max(54.0F, ui.scaled(52));
    if (scene.block == nullptr) {
        no_block(ui, column, h);
        end_page(ui, column);
        return;
    }
    const Action mix = [wished = groups_wish(scene)](Act& act) {
        act.view.picked = {};
        ++act.view.group_seed;
        act.plan(wished);
    };
    if (none) {
        controls(ui, scene, column);
        button(ui, column.row(h), make_button(none), mix);
        button(ui, column.row(h), rules_button(scene), open_overlay(Overlay::group_rules));
        end_page(ui, column);
        return;
    }
    Button next;
    next.id = Ui::id({"to-chart"});
    next.label = "Rotation chart";
    next.icon = Icon::forward;
    next.icon_after = true;
    next.weight = Weight::primary;
    button_pair(ui, column, h, make_button(none), mix, next, go(Screen::chart));
    Button term;
    term.id = Ui::id({"group-term"});
    term.label = "Over a term";
    term.spoken = "Partners over a term";
    term.has_popup = true;
    button_pair(ui, column, h, term, open_overlay(Overlay::group_term), rules_button(scene),
                open_overlay(Overlay::group_rules));
    summary_card(ui, scene, column);
    without_group(ui, scene, column);
    group_cards(ui, scene, column);
    column.skip(gap);
    controls(ui, scene, column);
    Button again = make_button(none);
    again.id = Ui::id({"make-groups-so"});
    again.label = "Make them so";
    button(ui, column.row(h), again, mix);
    end_page(ui, column);
}

void group_why_sheet(Ui& ui, const Scene& scene) {
    const int group = scene.view.index;
    if (scene.block == nullptr || scene.groups->now() == nullptr || group < 0 ||
        std::size_t(group) >= scene.block->groups.size()) {
        return;
    }
    Column column =
        begin_sheet(ui, "Why " + session::group_name(group) + "?", ui.scaled(320), close_overlay);
    const auto line = [&](const std::string& text, const Style& style) {
        column.y += ui.paragraph(text, {column.x, column.y, column.w, 0}, style);
        column.skip(gap);
    };
    for (const std::string& text : scene.groups->why())
        line(text, ui.body());
    const auto helpers = session::helper_lines(*scene.cls, *scene.block);
    if (!helpers.empty()) {
        column.y += ui.heading(3, "Helpers in this block", {column.x, column.y, column.w, 0},
                               ui.style(body_size, ui.theme.ink, true));
        column.skip(4);
        for (const std::string& text : helpers)
            line(text, ui.body());
    }
    line("Numbers come from marks alone and say nothing about what a student can learn.",
         ui.soft());
    done_button(ui, column);
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
