#pragma once
#include "ui/screens/scene.h"

namespace tallyround::ui {

/// The bars around a screen: class and save state on top, the steps at the side (tablet) or below
/// (phone). Returns what is left for the screen.
Rect draw_frame(Ui& ui, const Scene& scene);

/// The short message at the bottom, with its Undo.
void draw_toast(Ui& ui, const Scene& scene);

/// What the save state is called ("Saved", "Not saved: the device is full").
std::string saved_text(const Scene& scene);

}  // namespace tallyround::ui
