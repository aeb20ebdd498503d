#pragma once
#include "ui/screens/scene.h"

namespace tallyround::ui {

/// What goes on between frames, as the box above the lower edge shows it.
struct Progress {
    const char* cancel;  ///< names the button
    std::string words;
    Role role = Role::text;
    int percent = 0;
    int above = 0;  ///< so many other boxes lie below
};

/// The words, a bar and a button that runs `cancel`.
void progress_box(Ui& ui, const Scene& scene, const Progress& progress, const Action& cancel);

}  // namespace tallyround::ui
