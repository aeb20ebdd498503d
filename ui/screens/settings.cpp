#include "base/text.h"
#include "ui/screens/frame.h"
#include "ui/screens/notices.h"

namespace tallyround::ui {

namespace {

void title(Ui& ui, Column& column, const char* text) {
    column.skip(gap);
    column.y += ui.heading(2, text, {column.x, column.y, column.w, 0},
                           ui.style(lead_size, ui.theme.ink, true));
    column.skip(6);
}

void looks(Ui& ui, const Scene& scene, Column& column) {
    const View& v = scene.view;
    const auto pick = [&](const char* label, Look look) {
        return Choice{label, v.look_chosen && v.look == look, [look](Act& act) {
                          act.view.look = look;
                          act.view.look_chosen = true;
                      }};
    };
    choices(ui, column.row(touch), "Look",
            {{"Auto", !v.look_chosen, [](Act& act) { act.view.look_chosen = false; }},
             pick("Light", Look::light),
             pick("Dark", Look::dark),
             pick("Contrast", Look::contrast)});
    column.skip(gap);
    stepper(ui, column.row(std::max(52.0F, ui.scaled(50))), "Text size",
            int(v.text_scale * 100 + 0.5F), 100, 200, 10, "%",
            [](Act& act, int percent) { act.view.text_scale = float(percent) / 100; });
    column.y += ui.paragraph("Two fingers moved apart or together change it anywhere.",
                             {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    const float h = std::max(touch, ui.scaled(46));
    toggle(ui, column.row(h), Ui::id({"vibrates"}), "Short vibration with each mark", v.vibrates,
           [on = v.vibrates](Act& act) { act.view.vibrates = !on; });
    Button keys;
    keys.id = Ui::id({"keys"});
    keys.label = "Keys";
    keys.has_popup = true;
    button(ui, column.row(std::max(52.0F, ui.scaled(50))), keys, open_overlay(Overlay::keys));
}

void files(Ui& ui, const Scene& scene, Column& column) {
    const float h = std::max(52.0F, ui.scaled(50));
    column.y += ui.paragraph(saved_text(scene) + ". " + backup_text(scene),
                             {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    Button b;
    b.id = Ui::id({"save-plan"});
    b.label = "Save plan file";
    b.icon = Icon::file;
    b.weight = Weight::primary;
    Button open;
    open.id = Ui::id({"open-plan"});
    open.label = "Open plan file";
    button_pair(
        ui, column, h, open,
        [](Act& act) {
            act.fx.emplace_back(PickFile{"plan", ".json,application/json"});
        },
        b, [](Act& act) { act.save_plan(); });
    column.skip(gap);
    Button show;
    show.id = Ui::id({"show-codes"});
    show.label = "Show as codes";
    Button read;
    read.id = Ui::id({"read-codes"});
    read.label = "Read codes";
    button_pair(
        ui, column, h, read, [](Act& act) { act.fx.emplace_back(ReadCodes{}); }, show,
        [](Act& act) { act.show_plan(); });
    column.y += ui.paragraph(
        "Codes take the plan to another device without a file or a network: one shows them, the "
        "other looks with its camera.",
        {column.x, column.y, column.w, 0}, ui.soft());
    column.skip(gap);
    if (scene.set_aside > 0) {
        column.y += ui.paragraph(
            base::count_of(scene.set_aside, "stored entry", "stored entries") +
                " could not be read and lie aside. A file of all that is stored has them, too.",
            {column.x, column.y, column.w, 0}, ui.body());
        column.skip(gap);
        Button all;
        all.id = Ui::id({"save-stored"});
        all.label = "Save all that is stored";
        all.icon = Icon::file;
        button(ui, column.row(h), all, [](Act& act) { act.save_stored(); });
        column.skip(gap);
    }
    column.y += ui.paragraph(
        "A plan file holds names and marks. Notes that only you keep and use as a memory aid are "
        "not education records (34 CFR 99.3); once shared they are. Follow your school's policy.",
        {column.x, column.y, column.w, 0}, ui.soft());
}

}  // namespace

void settings_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column = begin_page(ui, area, "settings", "Settings and files", "");
    const float h = std::max(52.0F, ui.scaled(50));
    Button b;
    if (scene.cls != nullptr) {
        b.id = Ui::id({"settings-back"});
        b.label = "Back to " + scene.cls->name;
        b.icon = Icon::back;
        const StepWords* next = next_words(*scene.cls);
        Screen to = next != nullptr ? next->screen : Screen::students;
        if (scene.block != nullptr && scene.block->lesson.running()) to = Screen::walk;
        button(ui, column.row(h), b, go(to));
    }
    title(ui, column, "Files");
    files(ui, scene, column);
    column.skip(gap);
    b = {};
    b.id = Ui::id({"to-privacy"});
    b.label = "Privacy and safety";
    b.icon = Icon::forward;
    b.icon_after = true;
    button(ui, column.row(h), b, go(Screen::privacy));
    if (!scene.view.conflicts.empty()) {
        b = {};
        b.id = Ui::id({"to-conflicts"});
        b.label = "What two devices changed";
        b.has_popup = true;
        button(ui, column.row(h), b, open_overlay(Overlay::conflicts));
    }
    title(ui, column, "Look");
    looks(ui, scene, column);
    if (scene.update_waiting) {
        title(ui, column, "Update");
        column.y += ui.paragraph(
            "A newer version is here. It starts when you say so, never in the "
            "middle of a lesson.",
            {column.x, column.y, column.w, 0}, ui.body());
        b = {};
        b.id = Ui::id({"update"});
        b.label = "Start the new version";
        b.disabled = scene.block != nullptr && scene.block->lesson.running();
        button(ui, column.row(h), b, [](Act& act) { act.fx.emplace_back(SwitchVersion{}); });
    }
    title(ui, column, "About");
    column.y += ui.paragraph("Tallyround runs wholly on this device. It sends nothing anywhere.",
                             {column.x, column.y, column.w, 0}, ui.body());
    column.skip(gap);
    b = {};
    b.id = Ui::id({"notices"});
    b.label = "Licences and notices";
    b.has_popup = true;
    button(ui, column.row(h), b, open_overlay(Overlay::notices));
    if (scene.cls != nullptr) {
        column.skip(gap);
        b = {};
        b.id = Ui::id({"archive"});
        b.label = "Put " + scene.cls->name + " away";
        b.weight = Weight::danger;
        b.icon = Icon::trash;
        button(ui, column.row(h), b, [cls = scene.cls->id](Act& act) {
            if (!act.send(session::ArchiveClass{cls, true})) return;
            act.view.cls = {};
            act.go(Screen::home);
        });
    }
    end_page(ui, column);
}

void notices_sheet(Ui& ui, const Scene& scene) {
    static_cast<void>(scene);
    Column column = begin_sheet(ui, "Licences and notices", 3000, close_overlay);
    for (const Notice& n : notices()) {
        column.y += ui.heading(3, n.name, {column.x, column.y, column.w, 0},
                               ui.style(body_size, ui.theme.ink, true));
        column.y += ui.paragraph(n.text, {column.x, column.y, column.w, 0}, ui.soft());
        column.skip(pad);
    }
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
