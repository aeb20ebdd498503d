#pragma once
#include "ui/screens/scene.h"

namespace tallyround::ui {

/// The bars around a screen: class and save state on top, the steps at the side (tablet) or below
/// (phone). Returns what is left for the screen.
Rect draw_frame(Ui& ui, const Scene& scene);

/// The short message at the bottom, with its Undo.
void draw_toast(Ui& ui, const Scene& scene);

/// A quiet button of a bar, a picture only; `name` tells it from others.
void bar_button(Ui& ui, const Rect& at, const char* name, const char* spoken, Icon icon,
                const Action& action);
/// The way back to all classes; takes its part from the left of `bar`.
void home_button(Ui& ui, Rect& bar);
/// Saved or not by shape and word, never colour alone; takes its part from the right of `bar`.
void saved_mark(Ui& ui, const Scene& scene, Rect& bar);

/// What the save state is called ("Saved", "Not saved: the device is full").
std::string saved_text(const Scene& scene);

}  // namespace tallyround::ui
