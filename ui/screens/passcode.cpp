#include "base/text.h"
#include "ui/screens/frame.h"
#include "ui/screens/insight.h"

namespace tallyround::ui {

namespace {

/// NIST SP 800-63B, 5.1.1.1: a memorized secret has at least 8 characters.
constexpr std::size_t shortest = 8;

float tall(Ui& ui) {
    return std::max(52.0F, ui.scaled(50));
}

void secret_field(Ui& ui, const Scene& scene, Column& column, const char* name, const char* label,
                  TextAction done = {}) {
    Field f;
    f.name = name;
    f.label = label;
    f.value = scene.view.draft(name);
    f.keyboard = "password";
    text_field(ui, column.row(field_height(ui), pad), f, std::move(done));
}

void trouble_row(Ui& ui, const Scene& scene, Column& column) {
    if (scene.view.passcode_trouble.empty()) return;
    column.y += ui.paragraph(scene.view.passcode_trouble, {column.x, column.y, column.w, 0},
                             ui.style(body_size, ui.theme.alert, true), Role::status);
    column.skip(gap);
}

void change(Act& act) {
    const PasscodeStep step = act.view.passcode_step;
    const std::string was = act.view.draft("passcode-was");
    const std::string now = act.view.draft("passcode");
    if (step != PasscodeStep::set && was.empty()) {
        act.view.passcode_trouble = "Write the passcode that is set now.";
        return;
    }
    if (step == PasscodeStep::remove) return act.change_passcode(was, "");
    if (base::length(now) < shortest) {
        act.view.passcode_trouble = "Use at least " + std::to_string(shortest) +
                                    " characters. Three or four words that have nothing to do with "
                                    "each other are easy to type and hard to guess.";
        return;
    }
    if (now != act.view.draft("passcode-again")) {
        act.view.passcode_trouble = "The two are not the same. Write it once more.";
        return;
    }
    act.change_passcode(was, now);
}

void final_warning(Ui& ui, Column& column) {
    text_row(ui, column, "A forgotten passcode is final.",
             ui.style(body_size, ui.theme.alert, true));
    text_row(ui, column,
             "Nobody can open what it sealed: there is no way round it and nobody to ask. Write it "
             "down where only you look, or save a plan file without a passcode now and keep it in "
             "a safe place.",
             ui.body());
    column.skip(gap);
    Button save;
    save.id = Ui::id({"passcode-save"});
    save.label = "Save a plan file first";
    save.icon = Icon::file;
    button(ui, column.row(tall(ui)), save, [](Act& act) { act.save_plan(); });
    column.skip(gap);
}

}  // namespace

void passcode_sheet(Ui& ui, const Scene& scene) {
    static constexpr const char* titles[] = {"Set a passcode", "Change the passcode",
                                             "Take the passcode away"};
    const PasscodeStep step = scene.view.passcode_step;
    Column column = begin_sheet(ui, titles[std::size_t(step)], ui.scaled(560), close_overlay);
    if (step == PasscodeStep::set) final_warning(ui, column);
    if (step == PasscodeStep::remove) {
        text_row(ui, column, "Then anybody who has this device can read the class.", ui.body());
        column.skip(gap);
    }
    if (step != PasscodeStep::set) {
        secret_field(ui, scene, column, "passcode-was", "The passcode now");
    }
    if (step != PasscodeStep::remove) {
        secret_field(ui, scene, column, "passcode", "New passcode");
        secret_field(ui, scene, column, "passcode-again", "The same once more");
        tick_row(ui, column, "passcode-sure", "I know that forgetting it is final", scene.view.sure,
                 [](Act& act) { act.view.sure = !act.view.sure; });
    }
    trouble_row(ui, scene, column);
    Button b;
    b.id = Ui::id({"passcode-go"});
    b.label = step == PasscodeStep::remove ? "Take it away"
              : step == PasscodeStep::set  ? "Set it"
                                           : "Change it";
    b.weight = step == PasscodeStep::remove ? Weight::danger : Weight::primary;
    b.disabled = step != PasscodeStep::remove && !scene.view.sure;
    button(ui, column.row(tall(ui)), b, change);
    end_sheet(ui, column);
}

void locked_screen(Ui& ui, const Scene& scene, const Rect& area) {
    Column column =
        begin_page(ui, area, "locked", "Locked",
                   "What this device keeps is encrypted. Write the passcode to open it.");
    const auto open = [](Act& act) {
        const std::string code = act.view.draft("unlock");
        if (code.empty()) return;
        act.view.drafts["unlock"].clear();
        act.view.passcode_trouble = "Opening.";
        act.fx.emplace_back(Unlock{code});
    };
    secret_field(ui, scene, column, "unlock", "Passcode");
    trouble_row(ui, scene, column);
    Button b;
    b.id = Ui::id({"unlock"});
    b.label = "Open";
    b.weight = Weight::primary;
    button(ui, column.row(tall(ui)), b, open);
    section(ui, column, "Forgotten?");
    text_row(ui, column,
             "Then what is stored here cannot be opened any more. A plan file that you saved can: "
             "delete what is here, start over and open that file.",
             ui.body());
    column.skip(gap);
    tick_row(ui, column, "wipe-sure", "Yes, delete everything here", scene.view.sure,
             [](Act& act) { act.view.sure = !act.view.sure; });
    Button wipe;
    wipe.id = Ui::id({"wipe"});
    wipe.label = "Delete it and start over";
    wipe.icon = Icon::trash;
    wipe.weight = Weight::danger;
    wipe.disabled = !scene.view.sure;
    button(ui, column.row(tall(ui)), wipe, [](Act& act) { act.fx.emplace_back(WipeDevice{}); });
    end_page(ui, column);
}

void sealed_file_sheet(Ui& ui, const Scene& scene) {
    Column column = begin_sheet(ui, "This file is sealed", ui.scaled(300), close_overlay);
    text_row(ui, column,
             scene.view.sealed.name +
                 " was saved with a passcode. Write the one that was set on "
                 "the device where it was saved.",
             ui.body());
    column.skip(gap);
    secret_field(ui, scene, column, "file-passcode", "Passcode of the file");
    trouble_row(ui, scene, column);
    Button b;
    b.id = Ui::id({"open-sealed"});
    b.label = "Open the file";
    b.weight = Weight::primary;
    button(ui, column.row(tall(ui)), b, [](Act& act) {
        const SealedFile& f = act.view.sealed;
        const std::string code = act.view.draft("file-passcode");
        if (code.empty()) return;
        act.view.passcode_trouble = "Opening.";
        act.fx.emplace_back(OpenSealed{f.purpose, f.name, f.bytes, code});
    });
    end_sheet(ui, column);
}

}  // namespace tallyround::ui
