#include "base/search.h"
#include "base/text.h"
#include "exchange/roster.h"
#include "ui/screens/scene.h"

namespace tallyround::ui {

namespace {

/// What is in the paste box, read as a class list, and sent.
void add_pasted(Act& act, const model::ClassId& cls) {
    const std::string text = act.view.draft("names");
    const auto roster = exchange::read_roster(text);
    if (!roster) {
        act.say(roster.error().text(), true);
        return;
    }
    session::AddStudents add{cls, {}};
    for (const auto& s : roster->students)
        add.students.push_back({s.name, s.source_id});
    if (!act.send(add)) return;
    act.view.drafts["names"].clear();
    if (roster->warnings.empty()) return;
    const auto& w = roster->warnings.front();
    const std::size_t more = roster->warnings.size() - 1;
    act.say(
        (w.row > 0 ? "Line " + std::to_string(w.row) + ": " : "") + w.message +
            (more > 0 ? " And " + base::count_of(more, "more remark", "more remarks") + "." : ""),
        true);
}

void add_block(Ui& ui, const Scene& scene, Column& column, bool first) {
    Field f;
    f.name = "names";
    f.label = first ? "Names, one a line" : "Add names, one a line";
    f.hint = "Paste your list here";
    f.value = scene.view.draft("names");
    f.area = true;
    f.keyboard = "name";
    const float lines = first ? 6.5F : 2.6F;
    text_field(ui, column.row(ui.scaled(24) + lines * ui.scaled(24)), f);
    Button b;
    b.id = Ui::id({"add-names"});
    b.label = "Add these names";
    b.icon = Icon::plus;
    b.weight = Weight::primary;
    Button file;
    file.id = Ui::id({"names-file"});
    file.label = "From a file";
    file.spoken = "Names from a file: CSV, text or a OneRoster zip";
    file.icon = Icon::file;
    button_pair(
        ui, column, std::max(52.0F, ui.scaled(50)), file,
        [](Act& act) {
            act.fx.emplace_back(PickFile{"names", ".csv,.txt,.tsv,.zip,text/csv,text/plain"});
        },
        b, [cls = scene.cls->id](Act& act) { add_pasted(act, cls); });
    column.skip(gap);
}

std::string wishes_of(const model::Class& cls, const model::StudentId& id) {
    std::vector<std::string> parts;
    for (const model::Pair& p : cls.pairs) {
        if (p.a != id && p.b != id) continue;
        const model::Student* other = cls.student(p.a == id ? p.b : p.a);
        if (other == nullptr) continue;
        parts.push_back((p.rule == model::PairRule::apart ? "apart from " : "together with ") +
                        other->name);
    }
    return base::list_of(parts);
}

/// From so many students on a name is looked for rather than scrolled to.
constexpr std::size_t long_list = 12;

void student_rows(Ui& ui, const Scene& scene, Column& column) {
    auto all = session::present_students(*scene.cls);
    if (all.size() >= long_list) {
        const std::string text = search_field(ui, column, "find-student", "Find a name",
                                              scene.view.draft("find-student"));
        std::erase_if(all, [&](const auto* s) { return !base::finds(s->name, text); });
        if (all.empty()) return nothing_found(ui, column, "find-student", text);
    }
    const int across = column.w > 560 ? 2 : 1;
    ui.open(Role::list, Ui::id({"students"}), "Students", {column.x, column.y, column.w, 10});
    for (std::size_t i = 0; i < all.size(); i += std::size_t(across)) {
        const Rect row = column.row(std::max(56.0F, ui.scaled(54)), 6);
        for (int k = 0; k < across && i + std::size_t(k) < all.size(); ++k) {
            const model::Student& s = *all[i + std::size_t(k)];
            RowItem item;
            item.id = Ui::id({"student", s.id.view()});
            item.title = s.name;
            item.detail = wishes_of(*scene.cls, s.id);
            item.trailing = Icon::pen;
            const Rect r = cell(row, k, across);
            ui.open(Role::list_item, Ui::id({"student-item", s.id.view()}), "", r);
            row_item(ui, r, item, [id = s.id, name = s.name](Act& act) {
                act.view.student = id;
                act.view.drafts["student-name"] = name;
                act.view.overlay = Overlay::student;
            });
            ui.close();
        }
    }
    ui.close();
}

void rename_rows(Ui& ui, const Scene& scene, const model::Student& s, Column& column) {
    Field f;
    f.name = "student-name";
    f.label = "Name";
    f.value = scene.view.draft("student-name");
    f.keyboard = "name";
    text_field(ui, column.row(field_height(ui), pad), f);
    Button b;
    b.id = Ui::id({"rename"});
    b.label = "Keep this name";
    b.weight = Weight::primary;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), b,
           [cls = scene.cls->id, id = s.id](Act& act) {
               if (act.send(session::RenameStudent{cls, id, act.view.draft("student-name")})) {
                   close_overlay(act);
               }
           });
}

}  // namespace

void students_screen(Ui& ui, const Scene& scene, const Rect& area) {
    const auto all = session::present_students(*scene.cls);
    Column column = begin_page(
        ui, area, "students", all.empty() ? "Who is in the class?" : "Students",
        all.empty()
            ? "Paste names from your list or gradebook, or choose a file. Initials or "
              "first names are enough."
            : base::count_of(all.size(), "student", "students") + ". Tap one to change it.");
    if (all.empty()) {
        add_block(ui, scene, column, true);
    } else {
        Button next;
        next.id = Ui::id({"to-skills"});
        next.label = "Choose skills";
        next.icon = Icon::forward;
        next.icon_after = true;
        next.weight = Weight::primary;
        Button pairs;
        pairs.id = Ui::id({"pairs"});
        pairs.label = "Who with whom?";
        pairs.spoken = "Who sits with whom?";
        pairs.icon = Icon::swap;
        pairs.has_popup = true;
        button_pair(ui, column, std::max(52.0F, ui.scaled(50)), pairs,
                    open_overlay(Overlay::group_rules), next, go(Screen::skills));
        column.skip(gap);
        student_rows(ui, scene, column);
        column.skip(gap);
        add_block(ui, scene, column, false);
    }
    end_page(ui, column);
}

void student_sheet(Ui& ui, const Scene& scene) {
    const model::Student* s =
        scene.cls == nullptr ? nullptr : scene.cls->student(scene.view.student);
    if (s == nullptr) return;
    Column column = begin_sheet(ui, "Student", ui.scaled(330), close_overlay);
    const float h = std::max(52.0F, ui.scaled(50));
    if (scene.view.initials) {
        column.y += ui.paragraph("Names are hidden now, so this one cannot be changed.",
                                 {column.x, column.y, column.w, 0}, ui.body());
        column.skip(gap);
        Button names;
        names.id = Ui::id({"show-names"});
        names.label = "Show names";
        button(ui, column.row(h), names, [](Act& act) {
            act.view.initials = false;
            close_overlay(act);
        });
    } else {
        rename_rows(ui, scene, *s, column);
    }
    Button b;
    b.id = Ui::id({"left"});
    b.label = "Has left the class";
    button(ui, column.row(h), b, [cls = scene.cls->id, id = s->id](Act& act) {
        if (act.send(session::SetStudentLeft{cls, id, true})) close_overlay(act);
    });
    b = {};
    b.id = Ui::id({"erase-student"});
    b.label = "Delete for good";
    b.icon = Icon::trash;
    b.weight = Weight::danger;
    b.has_popup = true;
    button(ui, column.row(h), b, ask_to_erase(scene.cls->id, s->id));
    end_sheet(ui, column);
}

void school_class_sheet(Ui& ui, const Scene& scene) {
    if (scene.cls == nullptr) return;
    const Action close = [](Act& act) {
        act.view.school.clear();
        close_overlay(act);
    };
    Column column = begin_sheet(ui, "Which class?", 2000, close);
    column.y += ui.paragraph("The file holds a school's classes. Its students come into " +
                                 scene.cls->name + "; nothing else of the file is kept.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    for (const exchange::OneRosterClass& school : scene.view.school) {
        RowItem item;
        item.id = Ui::id({"school-class", school.id});
        item.title = school.title;
        item.detail = base::count_of(school.roster.students.size(), "student", "students");
        item.icon = Icon::people;
        row_item(ui, column.row(row_height(ui, column.w, item), 6), item,
                 [cls = scene.cls->id, id = school.id, close](Act& act) {
                     session::AddStudents add{cls, {}};
                     for (const exchange::OneRosterClass& one : act.view.school) {
                         if (one.id != id) continue;
                         for (const exchange::RosterStudent& s : one.roster.students)
                             add.students.push_back({s.name, s.source_id});
                     }
                     if (act.send(add, Reply::with_undo)) close(act);
                 });
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
