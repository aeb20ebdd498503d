#include "base/text.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

std::string step_sentence(const model::Class& cls) {
    const model::Block* b = cls.current_block();
    if (b != nullptr && b->lesson.running()) return "The lesson is running";
    const session::Step step = session::next_step(cls);
    for (const StepWords& s : path()) {
        if (s.step == step) return std::string("Next: ") + s.title;
    }
    return "";
}

void class_rows(Ui& ui, const Scene& scene, Column& column) {
    ui.open(Role::list, Ui::id({"classes"}), "Classes", {column.x, column.y, column.w, 10});
    for (const model::Class& c : scene.state.classes) {
        if (c.archived) continue;
        RowItem item;
        item.id = Ui::id({"class", c.id.view()});
        item.title = c.name;
        item.detail = base::count_of(session::present_students(c).size(), "student", "students") +
                      " · grade " + std::to_string(c.grade) + " · " + step_sentence(c);
        item.icon = Icon::people;
        item.trailing = Icon::forward;
        const Rect r = column.row(row_height(ui, column.w, item));
        ui.open(Role::list_item, Ui::id({"class-item", c.id.view()}), "", r);
        const model::Block* b = c.current_block();
        const bool running = b != nullptr && b->lesson.running();
        Screen to = Screen::students;
        for (const StepWords& s : path()) {
            if (s.step == session::next_step(c)) to = s.screen;
        }
        if (running) to = Screen::walk;
        row_item(ui, r, item, [id = c.id, to](Act& act) {
            act.view.cls = id;
            act.go(to);
        });
        ui.close();
        if (b == nullptr || b->chart.empty() || running) continue;
        RowItem prep;
        prep.id = Ui::id({"prep", c.id.view()});
        prep.title = "Print and prepare";
        prep.detail = "Cards, keys, signs and lists for " + c.name;
        prep.icon = Icon::print;
        prep.trailing = Icon::forward;
        const Rect at = column.row(row_height(ui, column.w, prep));
        ui.open(Role::list_item, Ui::id({"prep-item", c.id.view()}), "", at);
        row_item(ui, at, prep, [id = c.id](Act& act) {
            act.view.cls = id;
            act.go(Screen::prep);
        });
        ui.close();
    }
    ui.close();
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
        class_rows(ui, scene, column);
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
