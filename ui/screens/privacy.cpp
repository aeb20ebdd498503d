#include "base/text.h"
#include "session/erase.h"
#include "ui/screens/frame.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

float tall(Ui& ui) {
    return std::max(52.0F, ui.scaled(50));
}

void names_on_screen(Ui& ui, const Scene& scene, Column& column) {
    section(ui, column, "Names on screen");
    const bool initials = scene.view.initials;
    choices(ui, column.row(std::max(touch, ui.scaled(44))), "Students are shown by",
            {{"Names", !initials, [](Act& act) { act.view.initials = false; }},
             {"Initials", initials, [](Act& act) { act.view.initials = true; }}});
    text_row(ui, column,
             initials ? "Every screen and the board show initials, each one once in a class. Paper "
                        "and files keep the names."
                      : "Choose initials when children or visitors can see this screen.",
             ui.soft());
}

Action passcode_for(PasscodeStep step) {
    return [step](Act& act) {
        for (const char* draft : {"passcode-was", "passcode", "passcode-again"})
            act.view.drafts[draft].clear();
        act.view.passcode_step = step;
        act.view.passcode_trouble.clear();
        act.view.sure = false;
        act.view.overlay = Overlay::passcode;
    };
}

Button opener(const char* id, const char* label, Icon icon = Icon::none) {
    Button b;
    b.id = Ui::id({id});
    b.label = label;
    b.icon = icon;
    b.has_popup = true;
    return b;
}

void lock_choices(Ui& ui, const Scene& scene, Column& column) {
    text_row(ui, column, "Lock by itself when the app was out of sight for", ui.body());
    std::vector<Choice> all;
    for (const int minutes : {1, 5, 15, 0}) {
        const std::string label = minutes == 0 ? "Never" : std::to_string(minutes) + " min";
        all.push_back({label, scene.view.lock_minutes == minutes, [minutes](Act& act) {
                           act.view.lock_minutes = minutes;
                           act.fx.emplace_back(LockAfter{minutes});
                       }});
    }
    choices(ui, column.row(std::max(touch, ui.scaled(44))), "Lock after", all);
    column.skip(gap);
}

void passcode(Ui& ui, const Scene& scene, Column& column) {
    section(ui, column, "Passcode");
    if (!scene.passcode_set) {
        text_row(ui, column,
                 "With a passcode everything this device keeps is encrypted, and so are plan files "
                 "if you wish. Without the passcode nobody can read it: not who finds the tablet, "
                 "and not you if you forget it.",
                 ui.body());
        column.skip(gap);
        button(ui, column.row(tall(ui)), opener("set-passcode", "Set a passcode"),
               passcode_for(PasscodeStep::set));
        return;
    }
    text_row(ui, column, "A passcode is set: what this device keeps is encrypted.", ui.body());
    column.skip(gap);
    Button lock;
    lock.id = Ui::id({"lock-now"});
    lock.label = "Lock now";
    lock.weight = Weight::primary;
    button(ui, column.row(tall(ui)), lock, [](Act& act) { act.fx.emplace_back(LockNow{}); });
    lock_choices(ui, scene, column);
    tick_row(ui, column, "seal-files", "Seal plan files with it, too", scene.view.seal_files,
             [](Act& act) { act.view.seal_files = !act.view.seal_files; });
    button_pair(ui, column, tall(ui), opener("remove-passcode", "Take it away"),
                passcode_for(PasscodeStep::remove), opener("change-passcode", "Change it"),
                passcode_for(PasscodeStep::change));
}

void keeping(Ui& ui, const Scene& scene, Column& column) {
    section(ui, column, "Keeping the data");
    text_row(ui, column, backup_text(scene), ui.body());
    const bool promised = scene.persisted == "yes";
    text_row(ui, column,
             promised ? "The browser has promised not to clear what is stored here by itself."
             : scene.persisted == "no"
                 ? "The browser has not promised to keep what is stored here: it may clear it when "
                   "the device is full or after weeks without use. Installing the app helps; a "
                   "plan file is the sure way."
                 : "The browser has not been asked yet to keep what is stored here.",
             ui.body());
    column.skip(gap);
    Button save;
    save.id = Ui::id({"privacy-save"});
    save.label = "Save plan file";
    save.icon = Icon::file;
    Button ask;
    ask.id = Ui::id({"ask-persist"});
    ask.label = "Ask the browser";
    ask.spoken = "Ask the browser to keep the data";
    if (promised) {
        button(ui, column.row(tall(ui)), save, [](Act& act) { act.save_plan(); });
    } else {
        button_pair(
            ui, column, tall(ui), ask, [](Act& act) { act.fx.emplace_back(AskToPersist{}); }, save,
            [](Act& act) { act.save_plan(); });
    }
}

/// A row that leads to the question whether to delete.
void erase_row(Ui& ui, Column& column, const model::ClassId& cls, const model::StudentId& student,
               const std::string& title, const std::string& detail) {
    RowItem item;
    item.id = Ui::id({"erase", cls.view(), student.view()});
    item.title = title;
    item.detail = detail;
    item.icon = Icon::trash;
    row_item(ui, column.row(row_height(ui, column.w, item), 6), item, ask_to_erase(cls, student));
}

void deleting(Ui& ui, const Scene& scene, Column& column) {
    section(ui, column, "Deleting for good");
    text_row(ui, column,
             "Deleting takes names, marks and notes out of this device for good, and out of other "
             "devices when they open a plan file saved afterwards.",
             ui.body());
    column.skip(gap);
    for (const model::Class& c : scene.state.classes) {
        if (c.archived) {
            RowItem back;
            back.id = Ui::id({"bring-back", c.id.view()});
            back.title = "Bring " + c.name + " back";
            back.detail = "Put away";
            back.icon = Icon::people;
            row_item(ui, column.row(row_height(ui, column.w, back), 6), back,
                     [id = c.id](Act& act) {
                         act.send(session::ArchiveClass{id, false});
                     });
        }
        erase_row(ui, column, c.id, {}, "Delete the class " + c.name,
                  base::count_of(c.students.size(), "student", "students") + ", " +
                      base::count_of(c.marks.size(), "mark", "marks"));
        for (const model::Student& s : c.students) {
            if (s.left) erase_row(ui, column, c.id, s.id, "Delete " + s.name, "Has left " + c.name);
        }
    }
    if (scene.state.classes.empty()) {
        text_row(ui, column, "There is no class here, so there is nothing to delete.", ui.soft());
    }
}

std::string what_goes(const session::ErasePreview& p, bool all) {
    std::vector<std::string> parts;
    if (all) {
        parts.push_back(base::count_of(p.students, "student", "students"));
        parts.push_back(base::count_of(p.blocks, "block", "blocks") + " with groups and charts");
    } else {
        parts.emplace_back("the name");
    }
    parts.push_back(base::count_of(p.marks, "mark", "marks"));
    parts.push_back(base::count_of(p.notes, "note", "notes"));
    if (!all) parts.emplace_back("rules about who sits with whom, seats in groups and flags");
    return "These go: " + base::list_of(parts) + ".";
}

}  // namespace

void privacy_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "privacy", "Privacy and safety",
                               "Everything stays on this device; nothing is sent anywhere.");
    names_on_screen(ui, scene, column);
    passcode(ui, scene, column);
    keeping(ui, scene, column);
    deleting(ui, scene, column);
    end_page(ui, column);
}

Action ask_to_erase(const model::ClassId& cls, const model::StudentId& student) {
    return [cls, student](Act& act) {
        act.view.erase_class = cls;
        act.view.student = student;
        act.view.sure = false;
        act.view.overlay = Overlay::erase;
    };
}

void erase_sheet(Ui& ui, const Scene& scene) {
    const model::ClassId id = scene.view.erase_class;
    const model::Class* cls = scene.state.find_class(id);
    if (cls == nullptr) return;
    const model::StudentId student = scene.view.student;
    const model::Student* one = cls->student(student);
    const bool all = student.empty();
    if (!all && one == nullptr) return;
    const std::string who = all ? cls->name : one->name;
    Column column = begin_sheet(ui, "Delete " + who + " for good?", ui.scaled(430), close_overlay);
    const model::Class* real = scene.session.state().find_class(id);
    const auto preview = session::erase_preview(real == nullptr ? *cls : *real, student);
    text_row(ui, column, what_goes(preview, all), ui.body());
    if (!all) {
        text_row(ui, column, "Groups and charts stay without this student.", ui.body());
    }
    if (!preview.named_in.empty()) {
        text_row(ui, column,
                 "The name stands in your own words elsewhere (" + base::list_of(preview.named_in) +
                     "). Those words stay: change them yourself.",
                 ui.body());
    }
    text_row(ui, column,
             "Plan files that were saved before, printed pages and files of marks are not touched: "
             "delete or shred them yourself. Follow your school's rules on how long records are "
             "kept.",
             ui.body());
    text_row(ui, column, "This is final. Undo does not bring it back.",
             ui.style(body_size, ui.theme.alert, true));
    column.skip(gap);
    tick_row(ui, column, "erase-sure", "I know that this is final", scene.view.sure,
             [](Act& act) { act.view.sure = !act.view.sure; });
    Button b;
    b.id = Ui::id({"erase-now"});
    b.label = "Delete for good";
    b.icon = Icon::trash;
    b.weight = Weight::danger;
    b.disabled = !scene.view.sure;
    button(ui, column.row(tall(ui)), b, [id, student, all](Act& act) {
        if (!act.send(session::Erase{id, student}, Reply::plain)) return;
        close_overlay(act);
        act.view.student = {};
        act.view.picked = {};
        act.view.trail.clear();
        if (all && act.view.cls == id) act.view.cls = {};
        if (act.view.screen == Screen::student_page) act.go(Screen::review);
    });
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
