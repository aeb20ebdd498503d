#include <algorithm>

#include "base/text.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

void prep_row(Ui& ui, Column& column, const model::Class& cls) {
    RowItem item;
    item.id = Ui::id({"prep", cls.id.view()});
    item.title = "Print and prepare";
    item.detail = "Cards, keys, signs and lists for " + cls.name;
    item.icon = Icon::print;
    item.trailing = Icon::forward;
    const Rect at = column.row(row_height(ui, column.w, item));
    ui.open(Role::list_item, Ui::id({"prep-item", cls.id.view()}), "", at);
    row_item(ui, at, item, [id = cls.id](Act& act) {
        act.view.cls = id;
        act.go(Screen::prep);
    });
    ui.close();
}

void class_row(Ui& ui, Column& column, const model::Class& cls) {
    const model::Block* b = cls.current_block();
    const bool running = b != nullptr && b->lesson.running();
    const StepWords* next = next_words(cls);
    RowItem item;
    item.id = Ui::id({"class", cls.id.view()});
    item.title = cls.name;
    item.detail = base::count_of(session::present_students(cls).size(), "student", "students") +
                  " · grade " + std::to_string(cls.grade) + " · ";
    if (running) {
        item.detail += "The lesson is running";
    } else if (next != nullptr) {
        item.detail += std::string("Next: ") + next->title;
    }
    item.icon = Icon::people;
    item.trailing = Icon::forward;
    const Rect r = column.row(row_height(ui, column.w, item));
    ui.open(Role::list_item, Ui::id({"class-item", cls.id.view()}), "", r);
    const Screen to = running ? Screen::walk : next != nullptr ? next->screen : Screen::students;
    row_item(ui, r, item, [id = cls.id, to](Act& act) {
        act.view.cls = id;
        act.go(to);
    });
    ui.close();
}

/// A class and for how many weeks nothing has happened there, as quiet_weeks.
using Classes = std::vector<std::pair<int, const model::Class*>>;

void class_list(Ui& ui, Column& column, const char* name, const Classes& classes) {
    if (classes.empty()) return;
    ui.open(Role::list, Ui::id({"classes", name}), name, {column.x, column.y, column.w, 10});
    for (const auto& [weeks, c] : classes) {
        class_row(ui, column, *c);
        const model::Block* b = c->current_block();
        const bool ready = b != nullptr && !b->chart.empty() && !b->lesson.running();
        if (weeks == 0 && ready) prep_row(ui, column, *c);
    }
    ui.close();
}

/// Those of now, as they were made: a teacher's own order. Then those where nothing has happened
/// for weeks, the latest first, those of one week as they were made.
void class_lists(Ui& ui, const Scene& scene, Column& column) {
    Classes now;
    Classes earlier;
    for (const model::Class& c : scene.state.classes) {
        if (c.archived) continue;
        const int weeks = quiet_weeks(scene, c);
        (weeks > 0 ? earlier : now).emplace_back(weeks, &c);
    }
    std::stable_sort(earlier.begin(), earlier.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    class_list(ui, column, "Classes", now);
    if (!now.empty() && !earlier.empty()) section(ui, column, "Earlier classes");
    class_list(ui, column, "Earlier classes", earlier);
}

Action open_demo() {
    return [](Act& act) {
        if (!act.send(session::OpenDemo{today(act.now)}, Reply::plain)) return;
        if (act.state().classes.empty()) return;
        act.view.cls = act.state().classes.back().id;
        act.go(Screen::chart);
        act.say("This is an invented class to try things out with. Nothing you do here matters.");
    };
}

}  // namespace

void home_screen(Ui& ui, const Scene& scene, const Rect& area) {
    bool any = false;
    for (const model::Class& c : scene.state.classes)
        any = any || !c.archived;
    Column column = begin_page(
        ui, area, "home", any ? "Your classes" : "Review in small groups, one skill a center",
        any ? ""
            : "Paste your class list, choose skills and centers, and Tallyround makes the groups "
              "and the rotation chart. In the lesson you walk and tap what you see.");
    if (any) {
        reminders(ui, scene, column);
        class_lists(ui, scene, column);
        column.skip(gap);
    }
    Button b;
    b.id = Ui::id({"new-class"});
    b.label = any ? "New class" : "Start with your class";
    b.icon = Icon::plus;
    b.weight = any ? Weight::plain : Weight::primary;
    b.has_popup = true;
    const float h = std::max(54.0F, ui.scaled(52));
    button(ui, column.row(h), b, [](Act& act) {
        act.view.drafts["class-name"].clear();
        act.view.index = 6;
        act.view.overlay = Overlay::new_class;
    });
    b.id = Ui::id({"demo"});
    b.label = "Look around in the demo class";
    b.icon = Icon::walk;
    b.weight = Weight::plain;
    b.has_popup = false;
    button(ui, column.row(h), b, open_demo());
    b.id = Ui::id({"open-file"});
    b.label = "Open a plan file";
    b.icon = Icon::file;
    button(ui, column.row(h), b, [](Act& act) {
        act.fx.emplace_back(PickFile{"plan", ".json,application/json"});
    });
    column.skip(gap);
    column.y += ui.paragraph(
        "Everything stays on this device: no account, no network. Your notes are your own memory "
        "aid; before you share a file, follow your school's policy on student records.",
        {column.x, column.y, column.w, 0}, ui.soft());
    end_page(ui, column);
}

void new_class_sheet(Ui& ui, const Scene& scene) {
    Column column = begin_sheet(ui, "New class", ui.scaled(270), close_overlay);
    Field f;
    f.name = "class-name";
    f.label = "Name of the class";
    f.hint = "Room 12, period 3";
    f.value = scene.view.draft("class-name");
    text_field(ui, column.row(field_height(ui), pad), f);
    const int grade = scene.view.index;
    std::vector<Choice> grades;
    for (int g = 5; g <= 8; ++g) {
        grades.push_back(
            {"Grade " + std::to_string(g), grade == g, [g](Act& act) { act.view.index = g; }});
    }
    choices(ui, column.row(touch, pad), "Grade", grades);
    Button b;
    b.id = Ui::id({"make-class"});
    b.label = "Make the class";
    b.weight = Weight::primary;
    button(ui, column.row(std::max(54.0F, ui.scaled(52))), b, [grade](Act& act) {
        std::string name = base::tidy_line(act.view.draft("class-name"));
        if (name.empty()) name = "My class";
        if (!act.send(session::MakeClass{name, grade}, Reply::plain)) return;
        act.view.cls = model::ClassId(act.made().front());
        act.view.drafts.clear();
        act.go(Screen::students);
    });
    end_sheet(ui, column);
}

void steps_sheet(Ui& ui, const Scene& scene) {
    Column column = begin_sheet(ui, "Steps", ui.scaled(8 * 60), close_overlay);
    int number = 0;
    for (const StepWords& s : path()) {
        ++number;
        const bool done = scene.cls != nullptr && s.step < session::next_step(*scene.cls);
        RowItem item;
        item.id = Ui::id({"sheet-step", s.title});
        item.title = std::to_string(number) + ". " + s.title;
        item.icon = s.icon;
        item.trailing = done ? Icon::check : Icon::none;
        item.on = s.screen == scene.view.screen;
        row_item(ui, column.row(row_height(ui, column.w, item), 4), item, go(s.screen));
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
